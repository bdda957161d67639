"""Readings of four of the plants of tests/reference/plants.json explained by scipy, as JSON.

The whole network is solved densely for every trial; unknown are the resistance of every piece between two probed places, every
load's current and every battery's voltage. Readings weigh by the deviation of their rectangle; the plan's doubt counts as the
engine has it: loads 20 % and 0.1 A, batteries at rest 3 %. Deviations of the result are those of the inverse of JᵀJ.
"""
import json
import math
import pathlib
import re
import sys

import numpy
from scipy.optimize import least_squares

REFERENCE = pathlib.Path(__file__).parent.parent / "reference" / "plants.json"


def sections(text, kind):
    found = {}
    for name, body in re.findall(rf'^\[{kind}\."?([^"\]]+)"?\]\n((?:[^\[].*\n)*)', text, re.M):
        found[name] = dict(re.findall(r'^(\w+) = "?([^"\n]*)"?$', body, re.M))
    return found


def explained(stored, index, seed):
    plant = stored["plants"][index]
    text = stored["plans"][plant["plan"]]
    truth = plant["cases"]["everything"]
    chance = numpy.random.default_rng(seed)
    pieces, readings = [], []
    volt = lambda one, other: truth["volts"][one] - truth["volts"][other]

    def read(one, other):
        value = volt(one, other)
        within = 0.005 * abs(value) + (0.2e-3 if abs(value) < 0.4 else 20e-3)
        readings.append(["voltage", one, other, value + chance.uniform(-within, within), within])

    for name, run in sections(text, "runs").items():
        fused = run["fuse"] != "none"
        middle = f"{name}@fuse"
        if fused:
            pieces += [(run["from"], middle), (middle, run["to"])]
            read(run["from"], middle)
        else:
            pieces.append((run["from"], run["to"]))
        read(run["from"], run["to"])
        value = truth["amperes"][name]
        within = 0.02 * abs(value) + 0.1
        readings.append(["current", name, len(pieces) - 1, value + chance.uniform(-within, within), within])
    batteries, loads = sections(text, "batteries"), sections(text, "loads")
    for name in [*batteries, *loads]:
        read(f"{name}.+", f"{name}.-")
    for name in sections(text, "links"):
        raise SystemExit(f"no links here: {name}")
    nodes = sorted({node for piece in pieces for node in piece})
    place = {node: number for number, node in enumerate(nodes)}
    inside = [float(battery["resistance"].split()[0]) * 1e-3 for battery in batteries.values()]
    rest = [12.5 * float(battery["nominal_voltage"].split()[0]) / 12 for battery in batteries.values()]
    draws = [float(load["current"].split()[0]) for load in loads.values()]
    known = numpy.array([0.01] * len(pieces) + rest + draws)
    doubt = numpy.array([1.0] * len(pieces) + [0.03 * volts for volts in rest] + [0.2 * amperes + 0.1 for amperes in draws])
    zero = place[f"{next(iter(batteries))}.-"]

    def voltages(x):
        matrix, feed = numpy.zeros((len(nodes), len(nodes))), numpy.zeros(len(nodes))

        def stamp(one, other, ohms):
            for a, b in ((one, other), (other, one)):
                matrix[a, a] += 1 / ohms
                matrix[a, b] -= 1 / ohms

        for (one, other), ohms in zip(pieces, x):
            stamp(place[one], place[other], ohms)
        for number, name in enumerate(batteries):
            plus, minus = place[f"{name}.+"], place[f"{name}.-"]
            stamp(plus, minus, inside[number])
            feed[plus] += x[len(pieces) + number] / inside[number]
            feed[minus] -= x[len(pieces) + number] / inside[number]
        for number, name in enumerate(loads):
            amperes = x[len(pieces) + len(batteries) + number]
            feed[place[f"{name}.+"]] -= amperes
            feed[place[f"{name}.-"]] += amperes
        keep = [node for node in range(len(nodes)) if node != zero]
        found = numpy.zeros(len(nodes))
        found[keep] = numpy.linalg.solve(matrix[numpy.ix_(keep, keep)], feed[keep])
        return found

    def residual(x):
        at = voltages(x)
        off = []
        for kind, one, other, value, within in readings:
            if kind == "voltage":
                shows = at[place[one]] - at[place[other]]
            else:
                a, b = pieces[other]
                shows = (at[place[a]] - at[place[b]]) / x[other]
            off.append((shows - value) / (within / math.sqrt(3)))
        return numpy.concatenate([off, (x - known) / doubt])

    start = numpy.concatenate([numpy.full(len(pieces), 0.01), known[len(pieces):]])
    solved = least_squares(residual, start, method="trf", x_scale=numpy.maximum(start, 1e-3), ftol=1e-14, xtol=1e-14, gtol=1e-14, max_nfev=2000)
    step = numpy.maximum(abs(solved.x), 1e-3) * 1e-6
    slopes = numpy.column_stack([(residual(solved.x + e) - residual(solved.x - e)) / (2 * s) for s, e in zip(step, numpy.diag(step))])
    deviation = numpy.sqrt(numpy.diag(numpy.linalg.inv(slopes.T @ slopes)))
    short = lambda value: float(f"{value:.9g}")
    return {"plan": plant["plan"], "readings": [[*row[:3], short(row[3]), short(row[4])] for row in readings],
            "pieces": [[*piece, short(ohms), short(off)] for piece, ohms, off in zip(pieces, solved.x, deviation)]}


def main():
    stored = json.loads(REFERENCE.read_text())
    fits = [explained(stored, index, index) for index in (20, 80, 140, 180)]
    import scipy
    print(json.dumps({"source": f"scipy {scipy.__version__} least_squares over tests/reference/plants.json, tests/live/plants_fit.py",
                      "fits": fits}, separators=(",", ":")).replace('{"plan"', '\n{"plan"'))


sys.exit(main())
