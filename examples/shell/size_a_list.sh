#!/bin/sh
# Sizes a list of circuits of an invented mountain hut and prints one line each, from the command's JSON.
# usage: size_a_list.sh [path of the loomwright command]; needs python3 to read JSON
set -eu
loomwright=${1:-loomwright}
while read -r name current length; do
    # Status 1 means findings, which the line shows; anything above is an error.
    "$loomwright" cable --current "$current" --length "$length" --voltage 24V --format json > /tmp/circuit.$$ || [ $? -eq 1 ]
    python3 -c '
import json, sys
result = json.load(open(sys.argv[2]))
print("%-12s %s  %s A %s  %.2f %%  %s" % (sys.argv[1], result["size"], result["fuse"]["rating_a"],
      result["fuse"]["family"], result["drop_percent"], result["verdict"]))' "$name" /tmp/circuit.$$
    rm -f /tmp/circuit.$$
done <<LIST
lights 4A 14m
pump 9A 11m
radio 6A 5m
LIST
