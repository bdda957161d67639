"""Natural convection of an upright plate in air, as the CSV stored in tests/reference/vertical_plate.csv.

The correlation is that of the `ht` library, the air that of CoolProp at film temperature, with CoolProp's own
expansion coefficient and not that of an ideal gas. Plate 1 m tall; radiation by the Stefan-Boltzmann law.
Run: `python3 tests/live/vertical_plate.py > tests/reference/vertical_plate.csv`.
"""

import CoolProp
import ht
from CoolProp.CoolProp import PropsSI

PRESSURE_PA = 101325.0
GRAVITY = 9.80665
HEIGHT = 1.0
EMISSIVITY = 0.8

print("# source: Churchill and Chu (1975), vertical plate, ht.conv_free_immersed.Nu_vertical_plate_Churchill,")
print("# source: air of CoolProp at film temperature and 101325 Pa; made by tests/live/vertical_plate.py, not by our engine")
print(f"# edition: ht {ht.__version__}, CoolProp {CoolProp.__version__}")
print("ambient_c,rise_k,convection_w_per_m2,radiation_w_per_m2")
for ambient_c in (-20, 20, 40, 70):
    for rise in (1, 5, 15, 30, 60, 95):
        film = ambient_c + rise / 2 + 273.15
        at = ("T", film, "P", PRESSURE_PA, "Air")
        viscosity = PropsSI("V", *at) / PropsSI("D", *at)
        expansion = PropsSI("isobaric_expansion_coefficient", *at)
        grashof = GRAVITY * expansion * rise * HEIGHT**3 / viscosity**2
        nusselt = ht.conv_free_immersed.Nu_vertical_plate_Churchill(PropsSI("PRANDTL", *at), grashof)
        convection = nusselt * PropsSI("L", *at) / HEIGHT * rise
        radiation = EMISSIVITY * ht.radiation.q_rad(1.0, ambient_c + rise + 273.15, ambient_c + 273.15)
        print(f"{ambient_c},{rise},{convection:.8g},{radiation:.8g}")
