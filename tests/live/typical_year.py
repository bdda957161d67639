"""Hours of three typical years that pvlib ships, as they are written there.

    target/venv/bin/python tests/live/typical_year.py > tests/reference/typical_year.csv

January and July; with `all` every month.
"""

import sys
from pathlib import Path

import pandas
import pvlib

DATA = Path(pvlib.__file__).parent / "data"
months = range(1, 13) if "all" in sys.argv[1:] else (1, 7)


def hours(frame, columns, ends):
    """The frame by the start of its hours, in a year that the sun's place is computed for."""
    frame = frame[columns].set_axis(["ghi", "dni", "dhi", "temp_air", "wind"], axis=1)
    frame.index = frame.index - pandas.Timedelta(hours=1) if ends else frame.index
    frame.index = frame.index.map(lambda at: at.replace(year=2021))
    return frame


def tmy3(name):
    # Hours by their end.
    frame, about = pvlib.iotools.read_tmy3(DATA / name, coerce_year=2021, map_variables=True)
    return hours(frame, ["ghi", "dni", "dhi", "temp_air", "wind_speed"], True), about


def tmy2(name):
    # Hours by their start; air in tenths of a degree, wind in tenths of m/s.
    frame, about = pvlib.iotools.read_tmy2(DATA / name)
    frame = frame.assign(DryBulb=frame["DryBulb"] / 10, Wspd=frame["Wspd"] / 10)
    return hours(frame, ["GHI", "DNI", "DHI", "DryBulb", "Wspd"], False), about


print(f"# source: TMY3 703165 and 723170, TMY2 12839 (US national solar radiation data base), shipped by pvlib {pvlib.__version__}")
print("# made by tests/live/typical_year.py; hours with light, by their start, set into 2021 (days as in 1971-2000); W/m2, C, m/s")
print("dataset,lat,lon,alt_m,month,start_utc,ghi,dni,dhi,temp_air,wind")
for dataset, (frame, about) in {
    "TMY_n55": tmy3("703165TY.csv"), "TMY_n36": tmy3("723170TYA.CSV"), "TMY_n26": tmy2("12839.tm2")
}.items():
    place = f"{about['latitude']:.6g},{about['longitude']:.6g},{about['altitude']:g}"
    for at, row in frame.iterrows():
        if at.month in months and row["ghi"] > 0:
            start = at.tz_convert("UTC").strftime("%Y-%m-%dT%H:%M:%SZ")
            print(f"{dataset},{place},{at.month},{start}," + ",".join(f"{value:g}" for value in row))
