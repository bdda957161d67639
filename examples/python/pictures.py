"""Draws an invented van: its diagram, its least margins, and everything about it on one page, as files in a folder.

    python3 examples/python/pictures.py target/release/libloomwright.so examples/plans/veterinary-van.toml \\
        examples/readings/veterinary-van.csv FOLDER
"""

import sys
from pathlib import Path

import loomwright

engine = loomwright.Engine(sys.argv[1])
plan, readings = (Path(path).read_text(encoding="utf-8") for path in sys.argv[2:4])
folder = Path(sys.argv[4])
for name, picture, more in (
    ("diagram", loomwright.PICTURE_DIAGRAM, {}),
    ("margins", loomwright.PICTURE_MARGINS, {}),
    ("water-pump", loomwright.PICTURE_VOLTAGE, {"of": "water-pump"}),
    ("alternator-lead", loomwright.PICTURE_FUSES, {"of": "alternator-lead"}),
    ("joints", loomwright.PICTURE_JOINTS, {"readings": readings}),
):
    drawn = engine.draw(plan, picture, **more)
    (folder / f"{name}.svg").write_text(drawn["svg"], encoding="utf-8")
    print(f"{drawn['title']}\n    {drawn['description'].split('. ')[0]}")
page = engine.page(plan, readings)
(folder / "report.html").write_text(page, encoding="utf-8")
print(f"the page has {page.count('<figure')} pictures and {page.count('<table')} tables")
# Where each size takes over around a circuit of 40 A over 5.5 m at 12 V.
map = engine.size_map(current_a=40.0, length_m=5.5, voltage_v=12.0)
(folder / "sizes.svg").write_text(map["svg"], encoding="utf-8")
middle = len(map["lengths_m"]) // 2
for size in map["sizes"]:
    if 10.0 <= size["csa_mm2"] <= 70.0:
        print(f"{size['size']}: up to {size['largest_a'][middle]:.1f} A over {map['lengths_m'][middle]:.1f} m")
try:
    engine.draw(plan, loomwright.PICTURE_VOLTAGE, of="watr-pump")
except loomwright.Failure as told:
    print("as expected:", told)
