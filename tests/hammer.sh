#!/usr/bin/env bash
# Ten million random calls of the C interface under AddressSanitizer, which needs a nightly toolchain; LOOMWRIGHT_CALLS sets
# another number. Part of what takes long: not run by tests/run.
set -euo pipefail
cd "$(dirname "$0")/.."
rustup toolchain list | grep -q '^nightly' || rustup toolchain install nightly --profile minimal --component rust-src
export LOOMWRIGHT_CALLS=${LOOMWRIGHT_CALLS:-10000000}
export RUSTFLAGS=-Zsanitizer=address CARGO_TARGET_DIR=target/hammer
host=$(rustc -vV | sed -n 's/^host: //p')
time cargo +nightly test --release --quiet -Zbuild-std --target "$host" -p loomwright-capi random_calls
