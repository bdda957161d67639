"""Asks whether a cabin lasts a week, and what battery it would need; and what Peukert's law and the cold take.

    python3 examples/python/one_stay.py target/release/libloomwright.so crates/loomwright/examples/cabin.toml
"""

import sys
from pathlib import Path

import loomwright

engine = loomwright.Engine(sys.argv[1])
plan = Path(sys.argv[2]).read_text(encoding="utf-8")
stay = engine.forecast(plan, "spring", samples=200, threads=2, size=loomwright.SIZE_BATTERY)["stays"][0]
bank, needed = stay["banks"][0], stay["sized"][0]
print(f"{stay['name']}: {'lasts' if stay['lasts'] else 'does not last'}, in {100 * stay['chance'][0]:.0f} % of {stay['samples']} samples")
print(f"{bank['name']}: {100 * bank['lowest_charge']:.0f} % at the lowest, on {bank['lowest_at']}")
print(f"least {needed['size']}: {needed['needed']:.0f} {needed['unit']}, planned {needed['now']:.0f}")
hours = engine.number("lw_peukert_time", 100.0, 20.0, 1.3, 10.0)
usable = engine.number("lw_battery_usable", loomwright.AGM, 100.0, 50.0, 100.0, -5.0)
print(f"100 Ah within 20 h: {hours:.2f} h at 10 A; of AGM at -5 degrees, down to half, {usable:.1f} Ah")
try:
    engine.forecast(plan, "sprung")
except loomwright.Failure as told:
    print("as expected:", told)
