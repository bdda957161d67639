"""A year of an off-grid site hour by hour, the same model written with pandas and pvlib: light, modules, load, battery.

    target/venv/bin/python benches/pvlib_year.py

The sky and the modules are whole columns, as pvlib means it; the battery depends on the hour before and is stepped in plain
Python over the numbers of numpy arrays. Prints one line of JSON: the best of five whole models after one to warm up, and what they found.
"""

import json
import time

import numpy
import pandas
import pvlib

LATITUDE, LONGITUDE, HEIGHT = 45.0, 8.0, 100.0
TILT, BEARING, ALBEDO = 30.0, 180.0, 0.2
RATED, PER_KELVIN = 400.0, -0.004
BRIGHTNESS = [0.55, 0.60, 0.64, 0.66, 0.68, 0.72, 0.76, 0.74, 0.70, 0.62, 0.55, 0.52]
AIR = [2.0, 4.0, 8.5, 12.5, 17.0, 21.0, 23.5, 23.0, 18.5, 13.0, 7.0, 3.0]
WIND = 1.0
LOAD = [9.5] * 6 + [18.0, 23.0, 16.0, 14.0, 14.0, 16.0, 21.0, 16.0, 14.0, 14.0, 16.0, 23.0, 36.0, 41.0, 39.0, 32.0, 21.0, 12.0]
CAPACITY, VOLTAGE, RESISTANCE = 200.0, 12.8, 1e-3
EFFICIENCY, FLOOR, MOST_CHARGE = 0.98, 0.2, 30.0


def modules():
    """Power of the modules in the middle of every hour of 2026."""
    times = pandas.date_range("2026-01-01T00:30", periods=8760, freq="h", tz="UTC")
    sun = pvlib.solarposition.get_solarposition(times, LATITUDE, LONGITUDE, altitude=HEIGHT, method="nrel_numpy")
    outside = pvlib.irradiance.get_extra_radiation(times, method="spencer")
    mass = pvlib.atmosphere.get_relative_airmass(sun["apparent_zenith"])
    mass = pvlib.atmosphere.get_absolute_airmass(mass, pvlib.atmosphere.alt2pres(HEIGHT))
    clear = pvlib.clearsky.ineichen(sun["apparent_zenith"], mass, 3.0, altitude=HEIGHT, dni_extra=outside)["ghi"].fillna(0.0)
    month = times.month.to_numpy() - 1
    ghi = clear * numpy.array(BRIGHTNESS)[month]
    sky = pvlib.irradiance.erbs(ghi, sun["zenith"], times)
    light = pvlib.irradiance.get_total_irradiance(
        TILT, BEARING, sun["apparent_zenith"], sun["azimuth"], sky["dni"], ghi, sky["dhi"],
        dni_extra=outside, albedo=ALBEDO, model="haydavies",
    ).fillna(0.0)
    cell = pvlib.temperature.sapm_cell(
        light["poa_global"], numpy.array(AIR)[month], WIND,
        **pvlib.temperature.TEMPERATURE_MODEL_PARAMETERS["sapm"]["insulated_back_glass_polymer"],
    )
    aoi = pvlib.irradiance.aoi(TILT, BEARING, sun["apparent_zenith"], sun["azimuth"])
    entered = light["poa_direct"] * pvlib.iam.ashrae(aoi, b=0.05) + light["poa_diffuse"]
    return pvlib.pvsystem.pvwatts_dc(entered, cell, RATED, PER_KELVIN)


def battery(power, load):
    """State of charge at the end, Wh not served, Wh of light not taken."""
    charge, unserved, clipped = 0.5, 0.0, 0.0
    for given, wanted in zip(power, load):
        over = given - wanted
        # What flows into a voltage behind a resistance at that power; out of it when negative.
        current = 2.0 * over / (VOLTAGE + (VOLTAGE * VOLTAGE + 4.0 * RESISTANCE * over) ** 0.5)
        if over >= 0.0:
            taken = min(current, MOST_CHARGE, (1.0 - charge) * CAPACITY / EFFICIENCY)
            clipped += over - taken * (VOLTAGE + RESISTANCE * taken)
            charge += taken * EFFICIENCY / CAPACITY
        else:
            drawn = min(-current, max(charge - FLOOR, 0.0) * CAPACITY)
            unserved += -over - drawn * (VOLTAGE - RESISTANCE * drawn)
            charge -= drawn / CAPACITY
    return charge, unserved, clipped


def year():
    power = modules()
    load = pandas.Series(LOAD).loc[power.index.hour]
    # As Python's own numbers: in a plain loop they are faster than numpy's scalars.
    return battery(power.to_numpy().tolist(), load.to_numpy().tolist())


year()
took = []
for _ in range(5):
    begun = time.perf_counter()
    charge, unserved, clipped = year()
    took.append(time.perf_counter() - begun)
print(json.dumps({
    "seconds": min(took), "charge": charge, "unserved_wh": unserved, "clipped_wh": clipped,
}))
