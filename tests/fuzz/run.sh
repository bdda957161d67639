#!/usr/bin/env bash
# Fuzzes every target, or those that are named, for so many seconds each, two at a time:
#
#   tests/fuzz/run.sh SECONDS [TARGET...]       0: is built only
#
# The flags are those of cargo-fuzz, which therefore need not be installed (`cargo +nightly fuzz run --fuzz-dir tests/fuzz
# TARGET` works as well). Needs a C++ compiler for libFuzzer. Corpora grow under target/fuzz; committed files stay as they
# are. Fails where an input crashes, takes more than 30 s or more than 2 GiB, and says where that input lies.
set -euo pipefail
cd "$(dirname "$0")/../.."
seconds=${1:?seconds for each target}
shift
targets=("$@")
[ $# -gt 0 ] || targets=(plan_text readings_text quantity_text json c_arrays command_line)

# Sanitizers are for nightly toolchains; the stable one has the same runtime, and this key opens it.
toolchain=()
if command -v rustup > /dev/null && rustup toolchain list | grep -q '^nightly'; then
    toolchain=(+nightly)
else
    export RUSTC_BOOTSTRAP=1
fi
host=$(rustc "${toolchain[@]}" -vV | sed -n 's/^host: //p')
work=${CARGO_TARGET_DIR:-$PWD/target}/fuzz
export RUSTFLAGS="-Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 \
-Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table \
-Cllvm-args=-sanitizer-coverage-trace-compares -Cllvm-args=-simplifycfg-branch-fold-threshold=0 \
-Zsanitizer=address --cfg fuzzing"
# The target is named so that build scripts are built without the flags.
cargo "${toolchain[@]}" build --quiet --release --locked --manifest-path tests/fuzz/Cargo.toml --target "$host" --target-dir "$work/build"

[ "$seconds" -gt 0 ] || exit 0

# Programs that run for long are not disturbed by the next build.
runs=$work/runs-$$
mkdir -p "$runs"
for target in "${targets[@]}"; do cp "$work/build/$host/release/$target" "$runs/$target"; done

seeds() {
    case $1 in
        plan_text | json) echo "$PWD/examples/plans $PWD/crates/loomwright/examples" ;;
        readings_text) echo "$PWD/examples/readings" ;;
    esac
}

# LeakSanitizer may look while threads that have been waited for are still on their way out, and take what is theirs for a leak;
# valgrind looks for leaks of the C interface in tests/callers.
leaks() { [ "$1" = c_arrays ] && echo 0 || echo 1; }

# Long inputs are slow to compute and find little that short ones do not.
longest() {
    case $1 in
        plan_text | json) echo 6000 ;;
        readings_text | c_arrays) echo 2000 ;;
        command_line) echo 400 ;;
        quantity_text) echo 80 ;;
    esac
}

fuzz() {
    local target=$1 corpus=$work/corpus/$1 log=$runs/$1.log
    mkdir -p "$corpus" "$work/crashes"
    [ ! -d "tests/fuzz/corpus/$target" ] || cp "tests/fuzz/corpus/$target"/* "$corpus/"
    # shellcheck disable=SC2046
    if "$runs/$target" -max_total_time="$seconds" -timeout=30 -rss_limit_mb=2048 -detect_leaks="$(leaks "$target")" -max_len="$(longest "$target")" -print_final_stats=1 -verbosity=1 \
        -artifact_prefix="$work/crashes/$target-" "$corpus" $(seeds "$target") > "$log" 2>&1 < /dev/null; then
        local executions=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
        printf '%-14s %s executions in %s s\n' "$target" "$executions" "$seconds"
    else
        printf '%-14s FAILED: %s\n' "$target" "$(grep -o 'Test unit written to .*' "$log" || echo "see $log")"
        grep -a -m 12 'panicked at\|SUMMARY\|ERROR: ' "$log" || true
        return 1
    fi
}

# Bash reads a file as it goes; in a function it is read whole, and may be edited while it runs.
main() {
    failed=0
    running=()
    for target in "${targets[@]}"; do
        # As one of two ends, the next begins.
        if [ "${#running[@]}" -ge 2 ]; then
            wait -n "${running[@]}" || failed=1
            mapfile -t running < <(jobs -rp)
        fi
        fuzz "$target" &
        running+=($!)
    done
    for process in "${running[@]}"; do wait "$process" || failed=1; done
    exit "$failed"
}
main
