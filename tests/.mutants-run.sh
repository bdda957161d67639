#!/usr/bin/env bash
# Mutation testing of the engine: seventy mutants of each of six rooms, evenly over the room, judged first by the outside checks and
# the plans' checks that take less than a second each; who survives that, by all checks of the engine. Takes hours; run when the
# engine or its tests have changed much.
#
#   tests/mutants.sh            needs cargo-mutants (cargo install --locked cargo-mutants)
#   tests/mutants.sh LIST       judges only those that a file names, as `tests/trust/survivors.txt` does
#
# The tree is copied and the tests are attached to the engine's own package there: cargo-mutants judges a package by its own
# tests, and ours stand in a package that also builds drawing and command, which mutants of the engine need not.
set -euo pipefail
list=${1:+$(realpath "$1")}
cd "$(dirname "$0")/.."
work=${CARGO_TARGET_DIR:-$PWD/target}/mutants
rm -rf "$work/tree"
mkdir -p "$work"
git clone --quiet . "$work/tree"
cd "$work/tree"
unset CARGO_TARGET_DIR
LIST=$list python3 - << 'PYTHON'
import os
import pathlib
import re
import subprocess

ROOMS = ["conductor", "heat", "protection", "converter", "network", "study"]
EACH = 70
# What takes longer than a second without optimisation.
SLOW = """
plants:: tolerance::two_legs tolerance::one_voltage joints::the_fin flexible_rubber::drop battery_charging::a_modelled batteries::days
uncertainty::a_fit_is checks::every_finding checks::rows_agree checks::the_worst closed_forms::drop_limits devices::an_open_conductor
failing::doing_nothing failing::every_remedy fitting::the_size fitting::every_remedy forecast::chargers_stop
forecast::fifteen_minutes forecast::joined_banks forecast::the_books forecast::a_year_is_told forecast_sizes:: heating::company inspect::
pictures:: pitfalls::a_start random:: readings::batteries readings::every_run readings::templates readings_examples::
recomputed::river_launch reconcile::more_drop schedule:: tolerance::no_spread tolerance::corners tolerance::threads working::the_numbers
""".split()


def edit(path, *changes):
    file = pathlib.Path(path)
    text = file.read_text()
    for old, new in changes:
        assert re.search(old, text), (path, old)
        text = re.sub(old, new, text)
    file.write_text(text)


edit("crates/loomwright/Cargo.toml", (r"\[dev-dependencies\]\n", '[dev-dependencies]\nloomwright-tests = { path = "../../tests" }\n'))
with open("crates/loomwright/Cargo.toml", "a") as file:
    for name in ("outside", "plans", "invariants"):
        file.write(f'\n[[test]]\nname = "{name}"\npath = "../../tests/{name}/main.rs"\n')
# These read the command's output or the repository.
edit("tests/invariants/main.rs", (r"mod (hostile_input|repository|security);\n", ""))
# Only the command prints what a_year_is_told reads.
edit("tests/plans/forecast.rs", (r"loomwright_cli::run\([^;]*;", "();"))
for link, target in (("examples", "../examples"), ("crates", "../crates"), ("tests", "../tests")):
    pathlib.Path("crates", link).symlink_to(target)
pathlib.Path("crates/loomwright/reference").symlink_to("../../tests/reference")
edit("Cargo.toml", (r"\[profile.dev\]\n(.*\n)*?\n", "[profile.dev]\ndebug = false\n\n"))
config = pathlib.Path(".cargo/mutants.toml")
arguments = ["--test", "outside", "--test", "plans", "--", "-Zunstable-options", "--fail-fast", "--test-threads=1"]
arguments += [word for slow in SLOW for word in ("--skip", slow)]
config.write_text(f"additional_cargo_test_args = {arguments!r}\nminimum_test_timeout = 120\n")
listed = subprocess.run(["cargo", "mutants", "--list", "-p", "loomwright"], check=True, capture_output=True, text=True).stdout.splitlines()
# Deleting fields is not filtered by name (27.1), so files that hold only those are left out by path below.
wanted = []
for room in ROOMS:
    mine = [line for line in listed if line.startswith(f"crates/loomwright/src/{room}/") and "delete field" not in line]
    wanted += [mine[int(index * len(mine) / EACH)] for index in range(EACH)]


def placed(line):
    file, row, _, name = line.strip().split(":", 3)
    return (file, name), int(row)


if os.environ["LIST"]:
    named = [placed(line) for line in open(os.environ["LIST"]) if line.startswith("crates/")]
    # Lines move; the nearest of the same name is the one.
    same = {key: [line for line in listed if placed(line)[0] == key] for key, _ in named}
    gone = [key for key, lines in same.items() if not lines]
    assert not gone, f"no such mutants any more: {gone}"
    wanted = [min(same[key], key=lambda line: abs(placed(line)[1] - row)) for key, row in named]
files = {line.split(":")[0] for line in wanted}
others = sorted({line.split(":")[0] for line in listed} - files)
special = re.compile(r"([.^$*+?()\[\]{}|\\])")
with open(config, "a") as file:
    file.write("examine_re = [\n" + "".join("  '''^" + special.sub(r"\\\1", line) + "$''',\n" for line in wanted) + "]\n")
    file.write(f"exclude_globs = {others!r}\n")
PYTHON
git -c user.name=mutants -c user.email=mutants@localhost commit --quiet --all --message "for mutants only"
# --fail-fast of the test harness is unstable, and this key opens it.
export RUSTC_BOOTSTRAP=1 PROPTEST_CASES=30
judge() { cargo mutants -p loomwright --jobs 2 --output "$work" --no-shuffle --colors never "$@" || true; }
[ -n "$list" ] || judge
# Who is left meets every check of the engine, a little optimised.
sed -i 's/^additional_cargo_test_args = .*/additional_cargo_test_args = ["--lib", "--test", "outside", "--test", "plans", "--test", "invariants", "--", "-Zunstable-options", "--fail-fast", "--skip", "forecast::a_year_is_told"]/
    s/^minimum_test_timeout = .*/minimum_test_timeout = 600/' .cargo/mutants.toml
sed -i '/^\[profile.dev\]/a opt-level = 1' Cargo.toml
judge $([ -n "$list" ] || echo --iterate)
for kind in caught missed timeout unviable; do echo "$kind $(wc -l < "$work/mutants.out/$kind.txt")"; done
cat "$work/mutants.out/missed.txt"
