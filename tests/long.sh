#!/usr/bin/env bash
# What takes hours, after all that `tests/run` does: `tests/run --long` calls it.
set -euo pipefail
cd "$(dirname "$0")/.."

say() { printf '\n== %s\n' "$1"; }

say "properties, 100 000 cases each (those of whole plans a stated share of it)"
PROPTEST_CASES=100000 cargo test --quiet --release -p loomwright-tests --test invariants -- --skip repository::
PROPTEST_CASES=100000 cargo test --quiet --release -p loomwright --lib

say "ten million calls of the C interface under AddressSanitizer"
tests/hammer.sh

say "fuzzing, twenty minutes each"
tests/fuzz/run.sh 1200

say "instructions of the core operations"
benches/instructions.sh

say "the same bytes from two folders"
tests/reproducible.sh
