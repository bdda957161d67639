#!/usr/bin/env bash
# Lines of the engine that its unit tests, the outside checks, the plans' checks and the properties pass through, by room; fails
# below 95 %. Lines of the tests themselves do not count. Some ten minutes.
#
#   tests/coverage.sh           writes what no test reaches to target/coverage/unreached
set -euo pipefail
cd "$(dirname "$0")/.."
rustup component add llvm-tools 2> /dev/null
tools=$(rustc --print sysroot)/lib/rustlib/$(rustc -vV | sed -n 's/^host: //p')/bin
work=$PWD/target/coverage
rm -rf "$work/raw"
mkdir -p "$work/raw"
export RUSTFLAGS=-Cinstrument-coverage CARGO_TARGET_DIR=$work/build LLVM_PROFILE_FILE=$work/raw/%p-%m.profraw PROPTEST_CASES=100
export LOOMWRIGHT_PYTHON=${LOOMWRIGHT_PYTHON:-$PWD/target/venv/bin/python}
tested=(--workspace --features loomwright-tests/live --lib --bins --tests)
# What reads the repository or lasts for its own sake adds no line.
cargo test --quiet "${tested[@]}" -- --skip repository:: --skip security::
objects=$(cargo test "${tested[@]}" --no-run --message-format=json 2> /dev/null |
    sed -n 's/.*"executable":"\([^"]*\)".*/--object=\1/p' | sort -u)
"$tools/llvm-profdata" merge --sparse "$work/raw"/*.profraw --output "$work/profile"
# shellcheck disable=SC2086
"$tools/llvm-cov" export --format=lcov --instr-profile "$work/profile" $objects \
    --sources crates/loomwright/src > "$work/lines" 2> /dev/null
python3 - "$work" << 'PYTHON'
import pathlib
import sys
from collections import defaultdict

work = pathlib.Path(sys.argv[1])
source = pathlib.Path("crates/loomwright/src").resolve()
counts = defaultdict(lambda: defaultdict(int))
file = None
for line in open(work / "lines"):
    if line.startswith("SF:"):
        file = pathlib.Path(line[3:].strip())
    elif line.startswith("DA:"):
        number, count = line[3:].split(",")[:2]
        counts[file][int(number)] += int(count)
rooms = defaultdict(lambda: [0, 0])
with open(work / "unreached", "w") as unreached:
    for file in sorted(counts):
        if not file.is_relative_to(source) or file.name == "tests.rs":
            continue
        text = file.read_text().splitlines()
        tests = next((index for index, line in enumerate(text) if line == "mod tests {"), len(text))
        for number, count in sorted(counts[file].items()):
            if number > tests:
                continue
            room = rooms[file.relative_to(source).parts[0].removesuffix(".rs")]
            room[0] += count > 0
            room[1] += 1
            if not count:
                unreached.write(f"{file.relative_to(source)}:{number}: {text[number - 1].strip()}\n")
for room, (reached, all_lines) in sorted(rooms.items()):
    print(f"{room:<12} {reached:6} of {all_lines:6} lines, {100 * reached / all_lines:.1f} %")
reached, all_lines = (sum(room[index] for room in rooms.values()) for index in (0, 1))
print(f"{'all':<12} {reached:6} of {all_lines:6} lines, {100 * reached / all_lines:.1f} %")
sys.exit(reached < 0.95 * all_lines)
PYTHON
