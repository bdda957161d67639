"""Reads what was measured in an invented van beside its plan: verdicts worst first, what to measure next, and what is due.

    python3 examples/python/measured.py target/release/libloomwright.so examples/plans/veterinary-van.toml \\
        examples/readings/veterinary-van.csv
"""

import sys
from pathlib import Path

import loomwright

engine = loomwright.Engine(sys.argv[1])
plan, readings = (Path(path).read_text(encoding="utf-8") for path in sys.argv[2:4])
found = engine.reconcile(plan, readings)
print(f"{found['name']}: {found['verdict']}, {len(found['refused'])} lines refused")
day = found["days"][-1]
for piece in day["segments"]:
    if piece["verdict"] in ("remake", "watch"):
        print(f"{day['date']} {piece['verdict']}: {piece['name']}, {piece['excess_mohm']:.2f} ± {piece['within_mohm']:.2f} mΩ too much")
        if "body_c" in piece:
            print(f"    {piece['watts_w']:.1f} W at {piece['full_load_a']:.0f} A, {piece['body_c']:.0f} °C")
        print(f"    next: {piece.get('next', 'nothing more to measure')}")
for reading in day["readings"]:
    if reading.get("left_out"):
        print(f"line {reading['line']} is left out: {reading['left_out']}")
for row in engine.inspect(plan, readings)["rows"]:
    if row.get("due", "").startswith("now"):
        print(f"{row['part']} {row['name']}: {row['due']}")
record = engine.commission(plan, readings)
print(f"{len(engine.before_energising(plan)['steps'])} steps to make it live; to sign: {', '.join(record['signature'])}")
# A lug of 10 mm² alone in air of 40 degrees at 46 A: with 2.5 mΩ, and what it may have for 45 K.
lug = (loomwright.IEC_5, loomwright.COPPER, 10.0, loomwright.FREE_AIR, 1, 40.0, 46.0)
rise, most = engine.number("lw_joint_rise", *lug, 2.5), engine.number("lw_joint_resistance", *lug, 45.0)
softens = engine.number("lw_contact_voltage", 190.0, 20.0)
print(f"2.5 mΩ: {rise:.0f} K over its cable; 45 K at {most:.2f} mΩ; copper softens with {softens:.0f} mV across it")
try:
    engine.reconcile(plan, engine.readings_template(plan))
except loomwright.Failure as told:
    print("as expected:", told)
