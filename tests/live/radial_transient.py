"""Heating of insulated conductors in still air, as the CSV stored in tests/reference/radial_transient.csv.

Written independently of the engine: the equation of heat conduction in the insulation on 200 shells of equal
thickness, the metal as one body, scipy's BDF. Outside natural convection after Churchill and Chu with
CoolProp's air and radiation (of which and the IEC 60287-2-1 coefficient for a single cable the smaller counts).
Starts are steady states.
Run: `python3 tests/live/radial_transient.py > tests/reference/radial_transient.csv`.
"""

import math

import CoolProp
import numpy
import scipy
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

SHELLS = 200
SIGMA = 5.670374419e-8
EMISSIVITY = 0.9
RESISTIVITY = 5.0  # insulation, K m/W
CAPACITY = 1.7e6  # insulation, J/(m3 K)
METAL_CAPACITY = 3.45e6  # copper, J/(m3 K)
BETA = 234.5
RHO20 = 17.241379310344827e-9

# Air once, on a fine grid of film temperatures.
films = numpy.arange(230.0, 560.0, 2.0)


def air(name):
    return CubicSpline(films, [PropsSI(name, "T", film, "P", 101325.0, "Air") for film in films])


conductivity, density, viscosity, prandtl = air("L"), air("D"), air("V"), air("PRANDTL")


def free_air(diameter, ambient):
    """Heat shed per metre at a surface temperature in kelvin."""

    def heat(surface):
        rise = surface - ambient
        if rise <= 0:
            return 0.0
        film = 0.5 * (surface + ambient)
        kinematic = viscosity(film) / density(film)
        pr = prandtl(film)
        rayleigh = 9.80665 / film * rise * diameter**3 * pr / kinematic**2
        nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / pr) ** (9 / 16)) ** (8 / 27)) ** 2
        own = math.pi * conductivity(film) * nusselt * rise
        own += math.pi * diameter * EMISSIVITY * SIGMA * (surface**4 - ambient**4)
        standard = math.pi * diameter * (0.21 / diameter**0.6 + 3.94) * rise**1.25
        return float(min(own, standard))

    return heat


def resistance(r20, metal):
    return r20 * (BETA + metal - 273.15) / (BETA + 20.0)


def time_to(inner, outer, r20, heat, current, start, limit):
    """Seconds from the steady temperature `start` to `limit`, kelvin; metal from the resistance."""
    edges = numpy.linspace(inner / 2, outer / 2, SHELLS + 1)
    middles = 0.5 * (edges[1:] + edges[:-1])
    volumes = math.pi * (edges[1:] ** 2 - edges[:-1] ** 2) * CAPACITY
    points = numpy.concatenate([[inner / 2], middles, [outer / 2]])
    conductances = 2 * math.pi / RESISTIVITY / numpy.log(points[1:] / points[:-1])
    metal = METAL_CAPACITY * RHO20 / r20
    whole = RESISTIVITY / (2 * math.pi) * math.log(outer / inner)

    # The steady state whose metal is at `start`.
    surface = brentq(lambda t: t + whole * heat(t) - start, 200.0, start + 1.0) if heat(start) > 0 else start
    flow = heat(surface)
    state = [start]
    for conductance in conductances[:-1]:
        state.append(state[-1] - flow / conductance)
    state = numpy.array(state)

    def outwards(shell):
        # The surface has no heat of its own.
        inside = conductances[-1]
        top = brentq(lambda t: inside * (shell - t) - heat(t), min(shell, 200.0) - 1.0, shell + 1.0, xtol=1e-10)
        return inside * (shell - top)

    def rate(_, state):
        flows = conductances[:-1] * (state[:-1] - state[1:])
        change = numpy.empty_like(state)
        change[0] = (current**2 * resistance(r20, state[0]) - flows[0]) / metal
        change[1:-1] = (flows[:-1] - flows[1:]) / volumes[:-1]
        change[-1] = (flows[-1] - outwards(state[-1])) / volumes[-1]
        return change

    def reached(_, state):
        return state[0] - limit

    reached.terminal = True
    size = len(state)
    sparse = scipy.sparse.diags_array([numpy.ones(size - 1), numpy.ones(size), numpy.ones(size - 1)], offsets=[-1, 0, 1])
    found = solve_ivp(rate, (0, 1e7), state, method="BDF", events=reached, rtol=1e-7, atol=1e-6, jac_sparsity=sparse)
    assert found.status == 1, (inner, current, found.message)
    return found.t_events[0][0]


def ampacity(r20, inner, outer, heat, limit):
    whole = RESISTIVITY / (2 * math.pi) * math.log(outer / inner)
    surface = brentq(lambda t: t + whole * heat(t) - limit, 200.0, limit)
    return math.sqrt(heat(surface) / resistance(r20, limit))


# Class 5 conductors (IEC 60228) with PVC walls as cable makers give them: mm², mm over strands, mm outside, Ω/km.
CABLES = [
    (0.5, 0.93, 2.1, 39.0),
    (1.5, 1.6, 3.0, 13.3),
    (4, 2.6, 4.2, 4.95),
    (10, 4.1, 6.1, 1.91),
    (25, 6.6, 9.0, 0.780),
    (50, 9.4, 12.2, 0.386),
    (120, 14.5, 17.7, 0.161),
]

print("# source: scipy.integrate.solve_ivp (BDF) on the radial heat equation, Churchill and Chu (1975) with CoolProp's air,")
print("# source: made by tests/live/radial_transient.py, not by our engine; time from a steady start to a metal temperature")
print(f"# edition: scipy {scipy.__version__}, CoolProp {CoolProp.__version__}")
print("csa_mm2,strands_mm,outside_mm,r20_ohm_per_km,ambient_c,start_c,limit_c,times_ampacity,current_a,time_s")
for csa, inner, outer, ohm in CABLES:
    for ambient, start, limit, multiples in (
        (30, 30, 70, (1.2, 2.0, 5.0)),
        (40, 70, 120, (1.5, 3.0)),
        (25, 60, 160, (4.0, 10.0, 30.0)),
    ):
        heat = free_air(outer * 1e-3, ambient + 273.15)
        rated = ampacity(ohm * 1e-3, inner * 1e-3, outer * 1e-3, heat, limit + 273.15)
        for multiple in multiples:
            current = multiple * rated
            seconds = time_to(inner * 1e-3, outer * 1e-3, ohm * 1e-3, heat, current, start + 273.15, limit + 273.15)
            print(f"{csa},{inner},{outer},{ohm},{ambient},{start},{limit},{multiple},{current:.8g},{seconds:.8g}")
