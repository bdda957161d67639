"""Dry air at 101 325 Pa from CoolProp, as the CSV stored in tests/reference/coolprop_air.csv.

Run with a Python that has CoolProp: `python3 tests/live/coolprop_air.py > tests/reference/coolprop_air.csv`.
"""

import CoolProp
from CoolProp.CoolProp import PropsSI

PRESSURE_PA = 101325.0

print("# source: dry air of Lemmon, Jacobsen, Penoncello and Friend (2000), transport of Lemmon and Jacobsen (2004),")
print("# source: at 101325 Pa, evaluated by CoolProp; made by tests/live/coolprop_air.py, not by our engine")
print(f"# edition: CoolProp {CoolProp.__version__}")
print("t_c,conductivity_w_per_m_k,kinematic_viscosity_m2_per_s,prandtl")
for degrees in range(-40, 201, 10):
    at = ("T", degrees + 273.15, "P", PRESSURE_PA, "Air")
    viscosity = PropsSI("V", *at) / PropsSI("D", *at)
    print(f"{degrees},{PropsSI('L', *at):.8g},{viscosity:.8g},{PropsSI('PRANDTL', *at):.8g}")
