"""Natural convection of a level cylinder in air, as the CSV stored in tests/reference/churchill_chu.csv.

The correlation is that of the `ht` library, the air that of CoolProp at film temperature, with CoolProp's own
expansion coefficient and not that of an ideal gas.
Run: `python3 tests/live/churchill_chu.py > tests/reference/churchill_chu.csv`.
"""

import math

import CoolProp
import ht
from CoolProp.CoolProp import PropsSI

PRESSURE_PA = 101325.0
GRAVITY = 9.80665

print("# source: Churchill and Chu (1975), long horizontal cylinder, ht.conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu,")
print("# source: air of CoolProp at film temperature and 101325 Pa; made by tests/live/churchill_chu.py, not by our engine")
print(f"# edition: ht {ht.__version__}, CoolProp {CoolProp.__version__}")
print("diameter_mm,ambient_c,surface_c,nusselt,convection_w_per_m")
for diameter_mm in (1, 2, 3, 5, 8, 12, 20, 30):
    for ambient_c in (-20, 30, 60):
        for rise in (5, 20, 40, 75, 120):
            film = ambient_c + rise / 2 + 273.15
            at = ("T", film, "P", PRESSURE_PA, "Air")
            viscosity = PropsSI("V", *at) / PropsSI("D", *at)
            conductivity = PropsSI("L", *at)
            expansion = PropsSI("isobaric_expansion_coefficient", *at)
            grashof = GRAVITY * expansion * rise * (diameter_mm * 1e-3) ** 3 / viscosity**2
            nusselt = ht.conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu(PropsSI("PRANDTL", *at), grashof)
            heat = math.pi * conductivity * nusselt * rise
            print(f"{diameter_mm},{ambient_c},{ambient_c + rise},{nusselt:.8g},{heat:.8g}")
