"""The sun of the worked example of NREL's SPA (17 October, 12:30:30 in Golden), in its year and in later ones, by pvlib.

    target/venv/bin/python tests/live/sun_position.py > tests/reference/sun_position.csv
"""

import pandas
import pvlib

print(f"# source: pvlib {pvlib.__version__}, nrel_numpy, 820 mbar, 11 C; made by tests/live/sun_position.py, not by our engine")
print("# the example itself (I. Reda and A. Andreas) is of 2003, delta T 67 s; the later years with the delta T that pvlib computes")
print("lat,lon,alt_m,utc,apparent_zenith,azimuth")
for year in (2003, 2010, 2023, 2026, 2060, 2109):
    at = pandas.DatetimeIndex([f"{year}-10-17T19:30:30Z"])
    late = 67.0 if year == 2003 else None
    sun = pvlib.solarposition.spa_python(at, 39.742476, -105.1786, 1830.14, 82000.0, 11.0, delta_t=late).iloc[0]
    print(f"39.742476,-105.1786,1830.14,{at[0]:%Y-%m-%dT%H:%M:%SZ},{sun['apparent_zenith']:.6f},{sun['azimuth']:.6f}")
