"""Sizes a grid of circuits at once, and judges a plan.

    python3 examples/python/size_many.py target/release/libloomwright.so examples/plans/veterinary-van.toml
"""

import sys
from pathlib import Path

import loomwright
import numpy

engine = loomwright.Engine(sys.argv[1])
currents, lengths = numpy.meshgrid([2.0, 10.0, 40.0], [1.0, 3.0, 6.0])
sized = engine.size_circuits(
    threads=2, current_a=currents.ravel(), length_m=lengths.ravel(), voltage_v=12.0, ambient_c=40.0, drop_percent=3.0
)
for current, length, row in zip(currents.ravel(), lengths.ravel(), sized):
    family = row["fuse_family"].decode()
    print(f"{current:4.0f} A {length:3.0f} m: {row['csa_mm2']:5.4g} mm2, {row['fuse_rating_a']:3.0f} A {family}")
report = engine.check(Path(sys.argv[2]).read_text(encoding="utf-8"))
print(f"{report['name']}: {report['verdict']}, {len(report['findings'])} findings")
try:
    engine.check('format = 1\n[plan]\nname = "hut"\nplace = "cabn"\nsystem_voltage = "12 V"\n')
except loomwright.Failure as told:
    print("as expected:", told)
