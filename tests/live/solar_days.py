"""Light and energy of single days by pvlib's own chain: clear days, and days of 0.6 and 0.3 of a clear day's light.

    target/venv/bin/python tests/live/solar_days.py > tests/reference/solar_days.csv
"""

import pandas
import pvlib

# Name, latitude, longitude, height m, hours of the clock from UTC.
PLACES = [
    ("n55", 55.0, 10.0, 10.0, 1),
    ("n36", 36.1, -79.95, 273.0, -5),
    ("n26", 25.8, -80.27, 2.0, -5),
    ("s34", -33.87, 151.21, 58.0, 10),
]
# Day and air in °C at the northern places, at the southern.
DAYS = [("2026-03-21", 10.0, 20.0), ("2026-06-21", 22.0, 10.0), ("2026-09-21", 18.0, 14.0), ("2026-12-21", 4.0, 25.0)]
WIND = 1.5

print(f"# source: pvlib {pvlib.__version__}, made by tests/live/solar_days.py, not by our engine")
print("# hours by their middle: nrel_numpy, ineichen (Linke 3, spencer), haydavies (albedo 0.2), faiman (25, 6.84), pvwatts_dc")
print("# (100 W, -0.4 %/K); no glass, no losses. Brightness 1: ineichen's beam and diffuse; below: erbs of the scaled global")
print("place,lat,lon,alt_m,start_utc,brightness,tilt,surf_azimuth,temp_air,wind,poa_kwh_m2,dc_wh")
for place, latitude, longitude, height, clock in PLACES:
    for day, north, south in DAYS:
        air = north if latitude > 0 else south
        start = pandas.Timestamp(day, tz="UTC") - pandas.Timedelta(hours=clock)
        times = pandas.date_range(start + pandas.Timedelta(minutes=30), periods=24, freq="h")
        sun = pvlib.solarposition.get_solarposition(times, latitude, longitude, altitude=height, method="nrel_numpy")
        outside = pvlib.irradiance.get_extra_radiation(times, method="spencer")
        mass = pvlib.atmosphere.get_relative_airmass(sun["apparent_zenith"])
        mass = pvlib.atmosphere.get_absolute_airmass(mass, pvlib.atmosphere.alt2pres(height))
        clear = pvlib.clearsky.ineichen(sun["apparent_zenith"], mass, 3.0, altitude=height, dni_extra=outside)
        clear = clear.fillna(0.0)
        for brightness in (1.0, 0.6, 0.3):
            sky = clear
            if brightness < 1.0:
                dimmed = clear["ghi"] * brightness
                sky = pvlib.irradiance.erbs(dimmed, sun["zenith"], times)
                sky["ghi"] = dimmed
            for tilt in (0, round(abs(latitude))):
                bearing = 180 if latitude > 0 else 0
                light = pvlib.irradiance.get_total_irradiance(
                    tilt, bearing, sun["apparent_zenith"], sun["azimuth"], sky["dni"], sky["ghi"], sky["dhi"],
                    dni_extra=outside, albedo=0.2, model="haydavies",
                )["poa_global"].fillna(0.0)
                cell = pvlib.temperature.faiman(light, air, WIND)
                power = pvlib.pvsystem.pvwatts_dc(light, cell, 100.0, -0.004)
                print(f"{place},{latitude},{longitude},{height},{start:%Y-%m-%dT%H:%M:%SZ},{brightness},{tilt},{bearing},"
                      f"{air},{WIND},{light.sum() / 1e3:.6f},{power.sum():.5f}")
