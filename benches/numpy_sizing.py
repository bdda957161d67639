"""A million sizings by vectorised numpy, chunked to stay in the cache, beside the array call of the C library.

    cargo xtask install --prefix target/prefix
    PYTHONPATH=examples/python target/venv/bin/python benches/numpy_sizing.py target/prefix/lib/libloomwright.so

The same steps: for every row the smallest size of twenty whose conductor carries the current in its air, is protected by
the smallest fuse that carries the load, and loses no more than 3 % with joints and fuse, at its own temperature; solved to
the same residual, 1e-9 K. What the library finds besides (the longest run, the largest current) numpy is spared. Rows that
the two size differently are counted: they stand within a rounding of a limit, or within the ten-thousandth by which two
laws for the air differ.
"""

import csv
import math
import sys
import time
from pathlib import Path

import loomwright
import numpy

ROOT = Path(__file__).resolve().parents[1]
CHUNK, ROWS = 8192, int(sys.argv[2]) if len(sys.argv) > 2 else 1_000_000
LIMIT = 70.0


def rows(name):
    with open(ROOT / "crates/loomwright/data" / name, encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


COPPER = {
    int(kind): {float(row["csa_mm2"]): float(row["plain_ohm_per_km"]) * 1e-3 for row in rows("iec60228.csv") if float(row["class"]) == kind}
    for kind in (2, 5)
}
SIZES = numpy.array(sorted(COPPER[5]))
R20 = numpy.array([COPPER[5][size] for size in SIZES])
METHOD_B = {float(row["csa_mm2"]): float(row["b_a"]) for row in rows("iec60364_5_52.csv")}
KNOWN = numpy.array(sorted(METHOD_B))
WALLS = [row for row in rows("walls.csv") if row["kind"] == "iec"]
FAMILIES = [row for row in rows("fuse_families.csv") if row["automatic"] in ("first", "second")]
RERATING = rows("fuse_rerating.csv")


def resistance(at_20, celsius):
    return at_20 * (234.5 + celsius) / 254.5


def fuses(current, ambient, highest):
    """Rating of the smallest fuse of the first families that carries, else of the second."""
    best = numpy.full(current.shape, numpy.inf)
    for turn in ("first", "second"):
        found = numpy.full(current.shape, numpy.inf)
        for family in (row for row in FAMILIES if row["automatic"] == turn):
            points = [row for row in RERATING if row["family"] == family["family"]]
            share = numpy.interp(ambient, [float(row["ambient_c"]) for row in points], [float(row["factor"]) for row in points])
            ratings = numpy.append([float(rating) for rating in family["ratings_a_list"].split()], numpy.inf)
            rating = ratings[numpy.searchsorted(ratings, current / (share * float(family["continuous_ratio"])) * (1 - 1e-12))]
            found = numpy.minimum(found, numpy.where(highest <= float(family["rated_v"]), rating, numpy.inf))
        best = numpy.where(numpy.isfinite(best), best, found)
    return best


class Enclosed:
    def __init__(self, size):
        r70 = resistance(COPPER[2][size], 70.0)
        self.per_kelvin, self.r20 = METHOD_B[size] ** 2 * r70 / 40.0, COPPER[5][size]

    def ampacity(self, ambient):
        return numpy.sqrt((LIMIT - ambient) * self.per_kelvin / resistance(self.r20, LIMIT))

    def temperature(self, current, ambient):
        # Straight in temperature: solved at once.
        heat = current**2 * self.r20 / 254.5 / self.per_kelvin
        return (ambient + heat * 234.5) / (1.0 - heat)


class FreeAir:
    def __init__(self, size):
        self.r20 = COPPER[5][size]
        bare = math.sqrt(4.0 * size / (math.pi * 0.75)) * 1e-3
        wall = next(float(row["wall_mm"]) for row in WALLS if float(row["csa_mm2"]) >= size) * 1e-3
        self.outer = bare + 2.0 * wall
        self.through = 5.0 / (2.0 * math.pi) * math.log(self.outer / bare)

    def own(self, rise, ambient):
        surface = ambient + rise
        film = (surface + ambient) / 2 + 273.15
        kinematic = 1.716e-5 * (film / 273.15) ** 1.5 * (273.15 + 110.4) / (film + 110.4) * (287.05 / 101325) * film
        conductivity = 0.0241 * (film / 273.15) ** 0.87
        rayleigh = 9.80665 / film * numpy.maximum(rise, 0.0) * self.outer**3 / kinematic**2 * 0.71
        nusselt = (0.6 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / 0.71) ** (9 / 16)) ** (8 / 27)) ** 2
        fourth = (surface + 273.15) ** 4 - (ambient + 273.15) ** 4
        return math.pi * conductivity * nusselt * rise + 0.9 * 5.670374419e-8 * math.pi * self.outer * fourth

    def standard(self, rise, ambient):
        return math.pi * self.outer * (0.21 / self.outer**0.6 + 3.94) * numpy.maximum(rise, 0.0) ** 1.25

    @staticmethod
    def root(function, low, high):
        """Where a rising function is zero, by the Illinois rule on all rows at once."""
        below, above = function(low), function(high)
        for _ in range(60):
            middle = numpy.clip(high - above * (high - low) / (above - below), low, high)
            value = function(middle)
            rising = value > 0
            step = numpy.where(rising, high - middle, middle - low)
            below = numpy.where(rising, below * 0.5, value)
            above = numpy.where(rising, value, above * 0.5)
            high, low = numpy.where(rising, middle, high), numpy.where(rising, low, middle)
            if (numpy.minimum(numpy.abs(step), numpy.abs(value)) < 1e-9).all():
                break
        return middle

    def ampacity(self, ambient):
        room = LIMIT - ambient
        least = None
        for shed in (self.own, self.standard):
            rise = self.root(lambda rise: rise + self.through * shed(rise, ambient) - room, numpy.full_like(room, 1e-6), room)
            heat = shed(rise, ambient)
            least = heat if least is None else numpy.minimum(least, heat)
        return numpy.sqrt(least / resistance(self.r20, LIMIT))

    def temperature(self, current, ambient):
        hottest = None
        for shed in (self.own, self.standard):
            def open_heat(rise):
                heat = shed(rise, ambient)
                return heat - current**2 * resistance(self.r20, ambient + rise + self.through * heat)
            rise = self.root(open_heat, numpy.full_like(ambient, 1e-6), LIMIT - ambient + 30.0)
            reached = ambient + rise + self.through * shed(rise, ambient)
            hottest = reached if hottest is None else numpy.maximum(hottest, reached)
        return hottest


def sized(kind, current, length, voltage, ambient):
    chosen = numpy.zeros(current.shape)
    open_rows = numpy.arange(len(current))
    rating = fuses(current, ambient, voltage * (14.6 / 12.0))
    for size in SIZES:
        if len(open_rows) == 0:
            break
        model = kind(size) if kind is FreeAir or size in METHOD_B else None
        if model is None:
            continue
        i, l, v, a = current[open_rows], length[open_rows], voltage[open_rows], ambient[open_rows]
        ampacity = model.ampacity(a)
        bears = (ampacity >= i) & (ampacity >= rating[open_rows]) & (1.45 * ampacity >= 1.35 * rating[open_rows])
        passes = numpy.zeros(len(open_rows), bool)
        if bears.any():
            i, l, v, a = i[bears], l[bears], v[bears], a[bears]
            hot = resistance(model.r20, model.temperature(i, a))
            passes[bears] = 2.0 * l * hot * i + 4e-4 * i + 0.08 <= 0.03 * v
        chosen[open_rows[passes]] = size
        open_rows = open_rows[~passes]
    return chosen


engine = loomwright.Engine(sys.argv[1])
row = numpy.arange(ROWS)
asked = {
    "current_a": 0.5 + (row % 997) * 0.05, "length_m": 0.5 + (row % 89) * 0.1,
    "voltage_v": numpy.choose(row % 3, (12.0, 24.0, 48.0)), "ambient_c": numpy.choose(row % 4, (20.0, 30.0, 40.0, 50.0)),
}
for kind, number in ((Enclosed, loomwright.ENCLOSED), (FreeAir, loomwright.FREE_AIR)):
    begun = time.perf_counter()
    by_numpy = numpy.concatenate([
        sized(kind, *(column[start : start + CHUNK] for column in asked.values())) for start in range(0, ROWS, CHUNK)
    ])
    took = time.perf_counter() - begun
    told = [f"{kind.__name__}: numpy {took / ROWS * 1e6:.2f} us a row"]
    for threads in (1, 2):
        begun = time.perf_counter()
        found = engine.size_circuits(threads=threads, installation=number, **asked)
        ours = time.perf_counter() - begun
        told.append(f"library on {threads}: {ours / ROWS * 1e6:.2f} us, {took / ours:.1f} times as fast")
    single = numpy.where(found["parallel"] == 1, found["csa_mm2"], 0.0)
    told.append(f"{int((numpy.abs(single - by_numpy) > 1e-6).sum())} rows differ")
    print("; ".join(told), flush=True)
