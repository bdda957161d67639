"""The bench table of the blueprint with all its peers, in one run, as Markdown with machine and date.

    tests/run                                  installs ngspice and the Python environment, once
    target/venv/bin/python benches/table.py    writes benches/TABLE.md, in some ten minutes on a quiet machine

Ratios are taken within this run. Criterion's numbers are medians; whole processes are the median of eleven, after one that warms the
disk's cache; peers say how they take theirs.
"""

import json
import os
import platform
import re
import statistics
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PREFIX = ROOT / "target/prefix"
COMMAND = ROOT / "target/release/loomwright"


def run(*arguments, **more):
    done = subprocess.run([str(one) for one in arguments], cwd=ROOT, capture_output=True, text=True, **more)
    if done.returncode:
        sys.exit(f"{arguments}: {done.stdout}{done.stderr}")
    return done.stdout


def benched(*names):
    """Runs criterion benches and gives what they print; their numbers lie under target/criterion."""
    return run("cargo", "bench", "--quiet", "-p", "loomwright-benches", *(part for name in names for part in ("--bench", name)))


def seconds(full):
    """Criterion's median of a bench by its full name, in s."""
    for file in (ROOT / "target/criterion").rglob("new/benchmark.json"):
        if json.loads(file.read_text())["full_id"] == full:
            return json.loads((file.parent / "estimates.json").read_text())["median"]["point_estimate"] * 1e-9
    sys.exit(f"no bench {full!r} was run")


def process(*arguments):
    """Median seconds and the most memory, MiB, of a whole process."""
    took = []
    for _ in range(12):
        begun = time.perf_counter()
        child = subprocess.Popen([str(COMMAND), *arguments], cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        _, _, usage = os.wait4(child.pid, 0)
        took.append(time.perf_counter() - begun)
        child.returncode = 0
    return statistics.median(took[1:]), usage.ru_maxrss / 1024.0


def found(pattern, text):
    match = re.search(pattern, text)
    if not match:
        sys.exit(f"{pattern!r} is not in:\n{text}")
    return [float(part.replace(" ", "")) for part in match.groups()]


def time_of(value):
    for unit, factor in (("s", 1.0), ("ms", 1e-3), ("µs", 1e-6)):
        if value >= factor:
            return f"{value / factor:.3g} {unit}"
    return f"{value * 1e9:.3g} ns"


ROWS = []


def row(what, bar, measured, met):
    ROWS.append(f"| {what} | {bar} | {measured} | {'met' if met else '**missed**'} |")


def main():
    run("cargo", "build", "--quiet", "--release", "-p", "loomwright-cli", "-p", "loomwright-capi")
    run("cargo", "run", "--quiet", "-p", "xtask", "--", "install", "--prefix", PREFIX)
    benched("cable", "network")
    peers = benched("network_peers")
    year = benched("forecast")

    for name in ("enclosed", "free air", "free air, gauge"):
        took = seconds(f"one sizing, {name}")
        row(f"one full sizing, {name}", "≤ 10 µs", time_of(took), took <= 10e-6)
    counted = dict(
        line.split(",") for line in run("benches/instructions.sh").splitlines() if re.fullmatch(r"[a-z-]+,\d+", line)
    )
    ratio = int(counted["kernel-typed"]) / int(counted["kernel-bare"])
    row("typed numbers against bare ones, by instructions", "≤ 1.05", f"{ratio:.3f}", ratio <= 1.05)

    numpy = run(
        sys.executable, "benches/numpy_sizing.py", PREFIX / "lib/libloomwright.so",
        env={**os.environ, "PYTHONPATH": str(ROOT / "examples/python")},
    )
    for kind in ("Enclosed", "FreeAir"):
        theirs, ours, times = found(
            rf"{kind}: numpy ([\d.]+) us a row;.*library on 2: ([\d.]+) us, ([\d.]+) times", numpy.replace("\n", " ; ").split("FreeAir" if kind == "Enclosed" else "\0")[0]
        )
        row(f"1 000 000 sizings by the C array call, {kind}, 2 threads", "≤ 5 µs a row", f"{ours:.2f} µs", ours <= 5.0)
        row(f"the same against chunked numpy ({theirs:.2f} µs a row)", "≥ 2 times as fast", f"{times:.1f} times", times >= 2.0)

    for peer, bar in (("ngspice, .op analysis", 1000), ("scipy, sparse Newton", 50)):
        _, times = found(rf"{re.escape(peer)} +([\d.]+) ms, (\d+) times", peers)
        row(f"operating point, 10 000 nodes radial, against {peer}", f"≥ {bar} times as fast", f"{times:.0f} times", times >= bar)
    # No plan has 10 000 nodes, so this is not the same: theirs is a process, ours a call.
    _, times = found(r"ngspice, whole process +([\d.]+) ms, (\d+) times", peers)
    row("a whole process from a file against ngspice's", "≥ 50 times as fast", f"not measured alike: our call against its process {times:.0f} times", False)
    growth = seconds("radial/1000000 nodes") / seconds("radial/1000 nodes")
    row("cost from 1 000 to 1 000 000 nodes", "≤ N^1.15 (2 818 times)", f"{growth:.0f} times", growth <= 1000**1.15)
    took = seconds("60 nodes, operating point")
    row("operating point, 60 nodes", "≤ 50 µs", time_of(took), took <= 50e-6)

    took, memory = process("check", "examples/plans/river-launch.toml")
    row("`check` of a plan of 59 runs that holds, whole process", "≤ 60 ms, ≤ 40 MiB", f"{time_of(took)}, {memory:.0f} MiB", took <= 0.06 and memory <= 40)
    took, _ = process("check", "examples/plans/failing.toml")
    row("`check` with ten findings and their remedies, whole process", "≤ 200 ms", time_of(took), took <= 0.2)
    took = seconds("forecast/a year, hour by hour")
    row("a year hour by hour", "≤ 20 ms", time_of(took), took <= 0.02)
    theirs, ours, times = found(r"pandas and pvlib ([\d.]+) ms, ours ([\d.]+) ms: (\d+) times", year)
    row(f"the same against pandas and pvlib ({theirs:.0f} ms)", "≥ 20 times as fast", f"{times:.0f} times", times >= 20)
    took, memory = process("cable", "--current", "40A", "--length", "5.5m", "--voltage", "12V")
    row("`cable`, whole process", "≤ 5 ms", f"{time_of(took)}, {memory:.0f} MiB", took <= 5e-3)

    model = next((line.split(":")[1].strip() for line in open("/proc/cpuinfo") if line.startswith("model name")), platform.machine())
    rust = run("rustc", "--version").strip()
    load = os.getloadavg()[1]
    text = "\n".join([
        "# Bench table", "",
        f"Made by `benches/table.py` on {date.today()}: {model}, {os.cpu_count()} cores, {platform.system()} {platform.release()}, {rust};"
        f" load {load:.1f} over the last five minutes. What a missed bar is missed by, and why, stands in DEVELOPERS.md.", "",
        "| what | bar | measured | |", "|---|---|---|---|", *ROWS, "",
    ])
    (ROOT / "benches/TABLE.md").write_text(text, encoding="utf-8")
    print(text)


main()
