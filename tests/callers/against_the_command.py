"""Values through Python against those of the command's JSON, which is the engine's own record.

    PYTHONPATH=examples/python python3 tests/callers/against_the_command.py libloomwright.so loomwright
"""

import json
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import loomwright

ROOT = Path(__file__).resolve().parents[2]
library, command = sys.argv[1:]
engine = loomwright.Engine(library)
CIRCUITS = [
    (current, length, voltage, ambient)
    for current in (0.5, 3.0, 18.0, 60.0, 240.0)
    for length in (0.4, 5.5, 17.0)
    for voltage in (12.0, 24.0, 48.0)
    for ambient in (20.0, 50.0)
]
columns = dict(zip(("current_a", "length_m", "voltage_v", "ambient_c"), map(list, zip(*CIRCUITS))))
sized = [engine.size_circuits(threads=threads, **columns) for threads in (1, 2, 5)]
assert all((sized[0] == other).all() for other in sized[1:]), "the same on any number of threads"
compared = 0
for (current, length, voltage, ambient), row in zip(CIRCUITS, sized[0]):
    asked = f"--current {current}A --length {length}m --voltage {voltage}V --ambient {ambient}C --format json"
    told = json.loads(subprocess.run([command, "cable", *asked.split()], capture_output=True, text=True).stdout)
    if row["status"] != loomwright.OK:
        assert told["csa_mm2"] is None, (asked, row["status"])
        continue
    # The command rounds to nine digits.
    for ours, theirs in (
        ("csa_mm2", "csa_mm2"), ("drop_v", "drop_v"), ("conductor_drop_v", "conductor_drop_v"),
        ("load_voltage_v", "load_voltage_v"), ("conductor_temperature_c", "conductor_temperature_c"), ("loss_w", "loss_w"),
        ("ampacity_a", "ampacity_a"), ("longest_run_m", "longest_run_m"), ("largest_current_a", "largest_current_a"),
        ("parallel", "parallel"),
    ):
        assert abs(row[ours] - told[theirs]) <= 1e-8 * abs(told[theirs]), (asked, ours, row[ours], told[theirs])
        compared += 1
    assert row["fuse_rating_a"] == told["fuse"]["rating_a"] and row["fuse_family"].decode() == told["fuse"]["family"]

# Schedules and comparisons are the command's, whole.
for plan in ("veterinary-van", "river-launch", "mountain-hut"):
    path = ROOT / f"examples/plans/{plan}.toml"
    told = json.loads(subprocess.run([command, "schedule", path, "--format", "json"], capture_output=True, text=True).stdout)
    assert engine.schedule(path.read_text()) == told, plan
old, new = (ROOT / f"examples/plans/mountain-hut{suffix}.toml" for suffix in ("-before", ""))
told = json.loads(subprocess.run([command, "compare", old, new, "--format", "json"], capture_output=True, text=True).stdout)
assert engine.compare(old.read_text(), new.read_text()) == told

path = ROOT / "examples/plans/river-launch.toml"
asked = [command, "tolerance", path, "--samples", "300", "--seed", "5", "--threads", "1", "--format", "json"]
assert engine.tolerance(path.read_text(), 300, 5, 2) == json.loads(subprocess.run(asked, capture_output=True, text=True).stdout)

# The cabin's week: by climate, with samples, every step and a battery sized; and by measured weather.
path = ROOT / "crates/loomwright/examples/cabin.toml"
hours = [f"2026-03-{day:02}T{hour:02}:00Z" for day in range(1, 10) for hour in range(24)]
measured = "time,global_w_per_m2,air_c\n" + "".join(f"{at},{max(0, 6 - abs(int(at[11:13]) - 11)) * 70},3\n" for at in hours)
with tempfile.TemporaryDirectory() as folder:
    weather = Path(folder) / "weather.csv"
    weather.write_text(measured)
    for options, asked in (
        ({}, []),
        (
            {"stay": "spring", "steps_per_day": 48, "level_percent": 90.0, "size": loomwright.SIZE_BATTERY, "series": True,
             "samples": 60, "seed": 5, "threads": 2},
            "--stay spring --step 30min --level 90% --size battery --series --samples 60 --seed 5 --threads 1".split(),
        ),
        ({"weather": measured, "size": loomwright.SIZE_PANELS}, ["--weather", weather, "--size", "panels"]),
    ):
        done = subprocess.run([command, "forecast", path, *asked, "--format", "json"], capture_output=True, text=True)
        assert engine.forecast(path.read_text(), **options) == json.loads(done.stdout), asked
    told = []
    for options in ({"stay": "autumn"}, {"weather": measured.replace(",3\n", ",3K\n", 1)}, {"weather": ""}):
        try:
            engine.forecast(path.read_text(), **options)
        except loomwright.Failure as failure:
            told.append((failure.status, str(failure)))
    assert [status for status, _ in told] == [3, loomwright.REFUSED, loomwright.REFUSED], told
    assert "known: spring" in told[0][1] and "2:1: air_c" in told[1][1], told

# Measured against planned is the command's to the byte: readings with lines that cannot be read, a record, an inspection.
for name, kind in (("veterinary-van", "csv"), ("river-launch", "toml")):
    path, readings = ROOT / f"examples/plans/{name}.toml", ROOT / f"examples/readings/{name}.{kind}"
    plan = path.read_text()
    broken = re.sub(r"(?m)^([^#\n]*?) mV", r"\1", readings.read_text(), count=3)
    with tempfile.TemporaryDirectory() as folder:
        partly = Path(folder) / f"readings.{kind}"
        partly.write_text(broken)
        for function, text, asked in (
            ("lw_plan_reconcile", readings.read_text(), ["reconcile", path, readings]),
            ("lw_plan_reconcile", broken, ["reconcile", path, partly]),
            ("lw_plan_commission", broken, ["reconcile", path, partly, "--record"]),
            ("lw_plan_inspect", broken, ["inspect", path, "--readings", partly]),
            ("lw_plan_inspect", None, ["inspect", path]),
            ("lw_plan_before_energising", ..., ["inspect", path, "--before-energising"]),
        ):
            options = () if text is ... else loomwright._counted(text)
            told = subprocess.run([command, *asked, "--format", "json"], capture_output=True, text=True, encoding="utf-8")
            assert told.returncode in (0, 1) and engine.report_json(function, plan, options=options) + "\n" == told.stdout, asked
    assert engine.reconcile(plan, broken)["refused"], name
    for form in (loomwright.READINGS_CSV, loomwright.READINGS_TOML):
        asked = [command, "reconcile", path, f"--template={('csv', 'toml')[form]}"]
        assert engine.readings_template(plan, form).encode() == subprocess.run(asked, capture_output=True).stdout, asked
    for function in (engine.reconcile, engine.commission, engine.inspect):
        try:
            function(plan, engine.readings_template(plan) if kind == "csv" else "quantity,at,value\ncurrent,nowhere,1 A\n")
            raise SystemExit("readings that say nothing are explained")
        except loomwright.Failure as failure:
            assert failure.status == loomwright.REFUSED and ("no value" in str(failure) or "\n2:" in str(failure)), failure

# Pictures and the page are the command's to the byte.
for name, kind in (("veterinary-van", "csv"), ("river-launch", "toml")):
    path, readings = ROOT / f"examples/plans/{name}.toml", ROOT / f"examples/readings/{name}.{kind}"
    plan, drawn = path.read_text(), loomwright.PICTURE_DIAGRAM
    for picture, more, asked in (
        (loomwright.PICTURE_DIAGRAM, {}, ["diagram"]),
        (loomwright.PICTURE_MARGINS, {}, ["margins"]),
        (loomwright.PICTURE_TEMPERATURES, {}, ["temperatures"]),
        (loomwright.PICTURE_VOLTAGE, {}, ["voltage"]),
        (loomwright.PICTURE_VOLTAGE, {"of": "inverter"}, ["voltage", "--of", "inverter"]),
        (loomwright.PICTURE_FUSES, {"of": "service-lead"}, ["fuses", "--of", "service-lead"]),
        (loomwright.PICTURE_CHARGE, {"of": "starter"}, ["charge", "--of", "starter"]),
        (loomwright.PICTURE_JOINTS, {"readings": readings.read_text()}, ["joints", "--readings", readings]),
        (loomwright.PICTURE_READINGS, {"readings": readings.read_text()}, ["readings", "--readings", readings]),
    ):
        told = subprocess.run([command, "draw", path, *asked], capture_output=True)
        found = engine.draw(plan, picture, **more)
        assert told.returncode == 0 and found["svg"].encode() == told.stdout and found["title"] in found["svg"], asked
    for more, asked in (({}, []), ({"readings": readings.read_text(), "samples": 10}, ["--readings", readings, "--samples", "10"])):
        told = subprocess.run([command, "report", path, *asked], capture_output=True)
        assert engine.page(plan, threads=2, **more).encode() == told.stdout, asked
for picture, more, status in (
    (8, {}, 3), (-1, {}, 3), (loomwright.PICTURE_DIAGRAM, {"of": "inverter"}, 3), (loomwright.PICTURE_VOLTAGE, {"of": "invertr"}, 3),
    (loomwright.PICTURE_CHARGE, {"stay": "nowhere"}, 3), (loomwright.PICTURE_JOINTS, {}, 7), (loomwright.PICTURE_MARGINS, {"readings": "x"}, 7),
    (loomwright.PICTURE_JOINTS, {"readings": "case,quantity,at,value\n"}, loomwright.REFUSED),
):
    try:
        engine.draw(plan, picture, **more)
        raise SystemExit(f"drawn: {picture}, {more}")
    except loomwright.Failure as failure:
        assert failure.status == status and str(failure), (picture, more, failure)
circuit = {"current_a": 40.0, "length_m": 5.5, "voltage_v": 12.0}
asked = [command, "cable", *"--current 40A --length 5.5m --voltage 12V --format svg".split()]
found = engine.size_map(**circuit)
assert found["svg"].encode() == subprocess.run(asked, capture_output=True).stdout and found["size"] == "50 mm²", found["size"]

# The signatures that spreadsheet cells go by are the header's.
sys.path.insert(0, str(ROOT / "examples/spreadsheet"))
import cells  # noqa: E402

header = "\n".join(
    line for line in (ROOT / "include/loomwright.h").read_text().splitlines() if not line.lstrip().startswith("//")
)
for name, signature in cells.SIGNATURES.items():
    parameters = re.search(rf"int32_t {name}\(([^)]*)\);", header).group(1).split(",")
    kinds = {"int32_t": "i", "double": "d", "const char *": "t"}
    told = ["double *" if "double *" in one else next(kind for kind in kinds if one.strip().startswith(kind)) for one in parameters]
    assert told.pop() == "double *" and "".join(kinds[one] for one in told) == signature, name
print(f"{compared} values through Python are the command's")
