#!/usr/bin/env bash
# Instructions of the five core operations, counted by callgrind, against those stored: a count does not depend on what else the
# machine does. Fails where one has grown by more than 3 % (another release of the compiler may move it by that), or where typed
# numbers cost more than 1.05 times bare ones.
#
#   benches/instructions.sh           compares with benches/instructions.csv
#   benches/instructions.sh --write   writes it
set -euo pipefail
cd "$(dirname "$0")/.."
core=$(cargo bench --quiet --no-run -p loomwright-benches --bench core --message-format json |
    sed -n 's/.*"executable":"\([^"]*core-[^"]*\)".*/\1/p' | tail -1)

# What the operation takes more when done twice as often, so that start and preparation do not count.
count() {
    local once=$2 total=()
    for runs in "$once" $((2 * once)); do
        total+=("$(valgrind --tool=callgrind --callgrind-out-file=/dev/null "$core" "$1" "$runs" 2>&1 |
            sed -n 's/.*Collected : *//p')")
    done
    echo $(((total[1] - total[0]) / once))
}

told=$(
    echo "# Instructions for one of each, by valgrind's callgrind, release profile of benches; written by benches/instructions.sh"
    echo "operation,instructions"
    for operation in sizing-enclosed:20 sizing-free-air:20 operating-point:10 judgement:1 forecast-year:1 kernel-typed:100 kernel-bare:100; do
        echo "${operation%:*},$(count "${operation%:*}" "${operation#*:}")"
    done
)
echo "$told"
if [ "${1:-}" = --write ]; then
    echo "$told" > benches/instructions.csv
fi
awk -F, '
    FNR == 1 { file++ }
    /^#/ || /^operation/ { next }
    file == 1 { stored[$1] = $2; next }
    { counted[$1] = $2; if ($2 > 1.03 * stored[$1]) { print $1 " takes " $2 " instructions, stored are " stored[$1]; grown = 1 } }
    END {
        ratio = counted["kernel-typed"] / counted["kernel-bare"]
        printf "typed against bare: %.3f\n", ratio
        exit grown || ratio > 1.05
    }' benches/instructions.csv <(echo "$told")
