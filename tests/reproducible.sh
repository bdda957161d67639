#!/usr/bin/env bash
# Builds command and C library twice, from two clones in two folders, and compares them byte by byte: with one toolchain and one
# cargo home the result depends on the sources alone.
set -euo pipefail
cd "$(dirname "$0")/.."
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
for clone in one another/below; do
    git clone --quiet . "$folder/$clone"
    (cd "$folder/$clone" && env -u CARGO_TARGET_DIR cargo build --quiet --release --locked -p loomwright-cli -p loomwright-capi)
done
for file in loomwright libloomwright.so libloomwright.a; do
    cmp "$folder/one/target/release/$file" "$folder/another/below/target/release/$file"
    sha256sum "$folder/one/target/release/$file" | sed "s|$folder/one/target/release/||"
done
