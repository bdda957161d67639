"""A plan's operating points computed a second time, with nothing of the engine's code.

What is taken from the engine: the size, kind, material and fuse of each run, from the report of `loomwright check PLAN
--format json` on standard input, because the plan leaves them to be chosen; and the rows of its data tables of zones,
batteries, fuse drops, walls and method B. Resistances come from the printed IEC 60228 tables in tests/reference, conductor
temperatures from the plan's own lengths and zones, node voltages from numpy.

    cargo run -q -p loomwright-cli -- check PLAN --format json | python3 tests/live/recompute_plan.py PLAN
"""

import csv
import json
import math
import re
import sys
import tomllib
from pathlib import Path

import numpy

ROOT = Path(__file__).resolve().parents[2]
CASES = ("full-load-low-battery", "driving-cruise", "driving-hot-idle")
UNITS = {
    "A": 1, "mA": 1e-3, "V": 1, "mV": 1e-3, "W": 1, "kW": 1e3, "ohm": 1, "mohm": 1e-3, "uohm": 1e-6, "Ah": 1, "%": 1e-2,
    "m": 1, "cm": 1e-2, "mm": 1e-3, "mm2": 1, "°C": 1,
}


def number(text):
    """A quantity of a plan in V, A, W, Ω, Ah, m or °C."""
    value, unit = re.fullmatch(r"\s*([-+0-9.eE]*[0-9.])\s*(\S+)\s*", text.replace("Ω", "ohm").replace("²", "2")).groups()
    return float(value) * UNITS[unit]


def rows(path):
    with open(ROOT / path, encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


BATTERY = {row["chemistry"]: row for row in rows("crates/loomwright/data/battery_emf.csv")}
RESISTANCE = rows("crates/loomwright/data/battery_resistance.csv")
ZONE = {row["kind"]: float(row["hottest_c"]) for row in rows("crates/loomwright/data/zone_ambient.csv")}
METHOD_B = {float(row["csa_mm2"]): float(row["b_a"]) for row in rows("crates/loomwright/data/iec60364_5_52.csv")}
DROPS = {
    (row["family"], float(row["rating_a"])): float(row["drop_v"])
    for row in rows("crates/loomwright/data/fuse_drops.csv")
    if row["drop_v"]
}
IEC_WALLS = [row for row in rows("crates/loomwright/data/walls.csv") if row["kind"] == "iec"]
WALLS = [(float(row["csa_mm2"]), float(row["wall_mm"])) for row in IEC_WALLS]
PRINTED = rows("tests/reference/iec60228_copper_resistance.csv")
COPPER = {(int(row["class"]), float(row["csa_mm2"])): row for row in PRINTED}


def resistance_factor(chemistry, case):
    """A battery called low, resting or full has the resistance of 10, 50 or 100 % charge, at 25 °C."""
    charge = 0.1 if case == "full-load-low-battery" else 0.5
    family = "lithium" if chemistry == "lithium-iron-phosphate" else "lead"
    points = [row for row in RESISTANCE if row["family"] == family]
    return numpy.interp(charge, [float(row["charge_ratio"]) for row in points], [float(row["over_ratio"]) for row in points])


def at_20(conductor_class, csa, material):
    column = {"copper": "plain_ohm_per_km", "tinned-copper": "tinned_ohm_per_km"}[material]
    return float(COPPER[conductor_class, csa][column]) * 1e-3


def hot(at_20_degrees, celsius):
    """IEC 60287-1-1: resistance of copper is straight in temperature and would vanish at -234.5 °C."""
    return at_20_degrees * (234.5 + celsius) / 254.5


class Cable:
    """Metres of one conductor in one zone."""

    def __init__(self, csa, conductor_class, material, method, ambient):
        self.csa, self.ambient, self.method = csa, ambient, method
        self.r20 = at_20(conductor_class, csa, material)

    def shed(self, surface):
        """W/m of a level cylinder in still air: Churchill and Chu 1975, Sutherland's air, emissivity 0.9."""
        film, rise = (surface + self.ambient) / 2 + 273.15, surface - self.ambient
        viscosity = 1.716e-5 * (film / 273.15) ** 1.5 * (273.15 + 110.4) / (film + 110.4)
        conductivity = 0.0241 * (film / 273.15) ** 0.87
        kinematic = viscosity / (101325 / (287.05 * film))
        rayleigh = 9.80665 / film * rise * self.outer**3 / kinematic**2 * 0.71
        nusselt = (0.6 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / 0.71) ** (9 / 16)) ** (8 / 27)) ** 2
        fourth = (surface + 273.15) ** 4 - (self.ambient + 273.15) ** 4
        radiation = 0.9 * 5.670374419e-8 * math.pi * self.outer * fourth
        own = math.pi * conductivity * nusselt * rise + radiation
        # The second opinion: IEC 60287-2-1 for a single cable in air. The smaller heat is the hotter conductor.
        return min(own, math.pi * self.outer * (0.21 / self.outer**0.6 + 3.94) * max(rise, 0.0) ** 1.25)

    def temperature(self, current):
        if self.method == "enclosed":
            # Method B says which current holds the class 2 conductor at 70 °C in 30 °C air: so much heat per kelvin.
            per_kelvin = METHOD_B[self.csa] ** 2 * hot(at_20(2, self.csa, "copper"), 70) / 40
            celsius = self.ambient
            for _ in range(200):
                celsius = self.ambient + current**2 * hot(self.r20, celsius) / per_kelvin
            return celsius
        bare = math.sqrt(4 * self.csa / (math.pi * 0.75)) * 1e-3
        wall = next(wall for size, wall in WALLS if size >= self.csa) * 1e-3
        self.outer = bare + 2 * wall
        through = 5 / (2 * math.pi) * math.log(self.outer / bare)
        low, high = 0.0, 200.0
        for _ in range(80):
            rise = (low + high) / 2
            heat = self.shed(self.ambient + rise) if rise else 0.0
            made = current**2 * hot(self.r20, self.ambient + rise + through * heat)
            low, high = (low, rise) if heat > made else (rise, high)
        return self.ambient + low + through * current**2 * hot(self.r20, self.ambient + low)


class Plan:
    def __init__(self, plan, report):
        self.plan = plan
        self.system = number(plan["plan"]["system_voltage"])
        self.chosen = {run["name"]: run for run in report["runs"]}
        self.aliases, self.edges = {}, []
        for section in ("batteries", "alternators", "loads"):
            for name, device in self.of(section).items():
                if device.get("grounded"):
                    self.aliases[f"{name}.-"] = "chassis"
        for name, device in self.of("converters").items():
            for side in ("in-", "out-"):
                if device.get("grounded"):
                    self.aliases[f"{name}.{side}"] = "chassis"
                elif not device.get("isolated"):
                    self.aliases[f"{name}.{side}"] = f"{name}.-"
        self.runs = []
        for name, run in self.of("runs").items():
            self.run(name, run, run["from"], run["to"])
        self.links = []
        for name, link in self.of("links").items():
            self.links.append((f"{name}.in", f"{name}.out", self.joint(link), self.drop(link), link.get("closed")))
        for name, circuit in self.of("circuits").items():
            to = circuit["to"]
            port = to if "." in to else f"{to}.in" if to in self.of("converters") else f"{to}."
            ends = (f"{port}+", f"{port}-")
            self.run(f"{name} +", circuit, circuit["from"], ends[0])
            if circuit["return"] != "chassis":
                self.run(f"{name} -", circuit, circuit["return"], ends[1])
            elif self.node(ends[1]) != "chassis":
                self.links.append((ends[1], "chassis", number(circuit.get("return_resistance", "3 mohm")), 0.0, None))

    def of(self, section):
        return self.plan.get(section, {})

    def node(self, name):
        return self.aliases.get(name, name)

    def value(self, device, key, default):
        return number(device[key]) if key in device else default

    def joint(self, link):
        rated = self.value(link, "rating", None)
        usual = {"shunt": 0.05 / rated if rated else 0, "isolator": 2e-4, "relay": 2e-4}.get(link["kind"], 1e-4)
        return self.value(link, "resistance", usual)

    def drop(self, link):
        return self.value(link, "drop", 0.8 if link["kind"] == "diode" else 0.0)

    def run(self, name, entry, start, end):
        chosen, defaults = self.chosen[name], self.of("defaults")
        stretches = [stretch.split(" in ") for stretch in entry["route"]]
        route = sum(number(length) for length, _ in stretches)
        cut = route * 1.1 + 0.6
        zones = self.of("zones")
        cables = []
        for length, zone in stretches:
            zone = zones[zone.strip()]
            ambient = self.value(zone, "hottest", ZONE[zone["kind"]])
            method = entry.get("install", defaults.get("install", "enclosed"))
            kind = int(chosen["kind"].removeprefix("iec-"))
            cable = Cable(chosen["csa_mm2"], kind, chosen["material"], method, ambient)
            cables.append((cable, number(length) / route * cut))
        fuse = chosen["fuse_rating_a"]
        drop = max(0.1, DROPS.get((chosen["fuse_family"], fuse), 0.0))
        ends = self.clamp(start) + self.clamp(end)
        self.runs.append((name, start, end, cables, ends + (drop / fuse if fuse else 0)))

    def clamp(self, node):
        """A lug on a stud has 0.1 mohm, as what nothing is said of; a screw or spring that a conductor enters 0.2."""
        if node == "chassis":
            return 1e-4
        section = {name: entry for kind in ("batteries", "alternators", "converters", "loads", "links", "busbars")
                   for name, entry in self.of(kind).items()}
        entry = section[node if node in section else node.rsplit(".", 1)[0]]
        stated = entry.get("terminal", "M8")
        form = self.of("terminals").get(stated, {}).get("form", "stud" if stated.startswith("M") else "screw")
        return 1e-4 if form == "stud" else 2e-4

    def draws(self, case, load):
        situation = "driving" if case.startswith("driving") else "parked"
        return case == "full-load-low-battery" or situation in load.get("when", ["parked", "driving", "shore"])

    def load_power(self, load):
        volts = self.value(load, "nominal_voltage", self.system)
        if "power" in load:
            return number(load["power"])
        return number(load["current"]) * volts if "current" in load else volts**2 / number(load["resistance"])

    def output(self, device):
        return self.value(device, "output_voltage", 1.2 * self.system)

    def input_power(self, case, name, device, bucks):
        if "efficiency_points" in device:
            pairs = [point.split(" at ") for point in device["efficiency_points"]]
            at = numpy.array([number(share) for _, share in pairs])
            lost = at / numpy.array([number(efficiency) for efficiency, _ in pairs]) - at
            rated = number(device["output_power"])
            # Loss over output by solving for the three coefficients at once.
            curve = numpy.linalg.solve(numpy.vander(at, 3), lost)
            takes = lambda given: given + max(rated * numpy.polyval(curve, given / rated), self.value(device, "no_load", 0.0))
        else:
            # One efficiency: the loss at rated output in the usual shares of 0.17, 0.19 and 0.64.
            rated = number(device["output_power"]) if "output_power" in device else number(device["output_current"]) * self.output(device)
            lost = rated * (1 / self.value(device, "efficiency", 0.9) - 1)
            own = self.value(device, "no_load", 0.17 * lost)
            takes = lambda given: given + own + max(lost - own, 0.0) / 0.83 * (0.19 * given / rated + 0.64 * (given / rated) ** 2)
        if device["kind"] == "dc-dc-charger" and case.startswith("driving"):
            return takes(number(device["output_current"]) * self.output(device))
        if device["kind"] == "inverter":
            fed = [load for load in self.of("loads").values() if load.get("inverter") == name and self.draws(case, load)]
            power = sum(map(self.load_power, fed))
            if case == "full-load-low-battery":
                power = number(device["output_power"])
            return takes(power)
        return takes(bucks[name]) if device["kind"] == "buck" else 0.0

    def solve(self, case, limited):
        """Voltages of nodes, currents of runs and of sources, at the temperatures that the currents bring."""
        driving, low = case.startswith("driving"), case == "full-load-low-battery"
        resistances = {}
        for name, _, _, cables, joints in self.runs:
            resistances[name] = joints + sum(hot(cable.r20, cable.ambient) * metres for cable, metres in cables)
        bucks = {name: 0.0 for name in self.of("converters")}
        for _ in range(60):
            branches, sources, demands = [], [], []
            for name, start, end, _, _ in self.runs:
                branches.append((name, start, end, resistances[name], 0.0))
            for start, end, ohms, drop, closed in self.links:
                if closed is None or ("driving" if driving else "parked") in closed:
                    branches.append((None, start, end, ohms, drop))
            reached = parts([(self.node(start), self.node(end)) for _, start, end, _, _ in branches])
            regulated = set()
            for name, device in self.of("alternators").items():
                if driving and name in limited:
                    demands.append((name, f"{name}.+", f"{name}.-", "current", -limited[name], None))
                elif driving:
                    regulated.add(reached(f"{name}.+"))
                    volts = self.value(device, "voltage", 14.2 / 12 * self.system)
                    sources.append((name, f"{name}.+", f"{name}.-", volts, 1e-3))
            for name, device in self.of("batteries").items():
                lead = device["chemistry"] != "lithium-iron-phosphate"
                if lead and reached(f"{name}.+") in regulated:
                    continue
                blocks = self.value(device, "nominal_voltage", self.system) / 12
                row = BATTERY[device["chemistry"]]
                usual = float(row["resistance_mohm"]) * 1e-3 * blocks * 100 / number(device["capacity"])
                volts = blocks * float(row["low_v" if low else "resting_v"])
                ohms = self.value(device, "resistance", usual) * resistance_factor(device["chemistry"], case)
                sources.append((name, f"{name}.+", f"{name}.-", volts, ohms))
            for name, device in self.of("converters").items():
                power = self.input_power(case, name, device, bucks)
                if power:
                    limit = self.value(device, "input_limit", math.inf)
                    demands.append((name, f"{name}.in+", f"{name}.in-", "power", power, limit))
                if device["kind"] == "buck":
                    sources.append((name, f"{name}.out+", f"{name}.out-", self.output(device), 1e-3))
                if device["kind"] == "dc-dc-charger" and driving:
                    pushed = -number(device["output_current"])
                    demands.append((name, f"{name}.out+", f"{name}.out-", "current", pushed, None))
            for name, load in self.of("loads").items():
                if "inverter" not in load and self.draws(case, load):
                    form = next(key for key in ("current", "power", "resistance") if key in load)
                    demands.append((name, f"{name}.+", f"{name}.-", form, number(load[form]), math.inf))
            volts = self.nodal(branches, sources, demands)
            across = lambda plus, minus: volts(plus) - volts(minus)
            currents = {name: (across(start, end) - drop) / ohms for name, start, end, ohms, drop in branches if name}
            given = {name: (emf - across(plus, minus)) / ohms for name, plus, minus, emf, ohms in sources}
            for name, device in self.of("converters").items():
                bucks[name] = self.output(device) * abs(given[name]) if device["kind"] == "buck" else 0.0
            for name, _, _, cables, joints in self.runs:
                warm = lambda cable: hot(cable.r20, cable.temperature(abs(currents[name])))
                resistances[name] = joints + sum(warm(cable) * metres for cable, metres in cables)
        return volts, currents, given

    def nodal(self, branches, sources, demands):
        """Node voltages: G·v = i, one node of each connected part held at zero, constant power by fixed point."""
        node = self.node
        joined = [element[1:3] for element in branches + sources]
        part = parts([(node(one), node(other)) for one, other in joined])
        fed = {part(node(plus)) for _, plus, _, _, _ in sources}
        names = sorted({node(end) for pair in joined for end in pair if part(node(end)) in fed})
        held = {part(name): name for name in reversed(names)}
        free = [name for name in names if held[part(name)] != name]
        index = {name: place for place, name in enumerate(free)}
        matrix, fixed = numpy.zeros((len(free), len(free))), numpy.zeros(len(free))

        def add(plus, minus, conductance, injected):
            plus, minus = index.get(node(plus)), index.get(node(minus))
            for here, there, sign in ((plus, minus, 1), (minus, plus, -1)):
                if here is not None:
                    matrix[here, here] += conductance
                    fixed[here] += sign * injected
                    if there is not None:
                        matrix[here, there] -= conductance

        for _, start, end, ohms, drop in branches:
            add(start, end, 1 / ohms, drop / ohms)
        for _, plus, minus, emf, ohms in sources:
            add(plus, minus, 1 / ohms, emf / ohms)
        home = lambda demand: [part(node(end)) for end in demand[1:3]]
        demands = [demand for demand in demands if home(demand)[0] in fed and home(demand)[0] == home(demand)[1]]
        for _, plus, minus, form, value, _ in demands:
            if form == "resistance":
                add(plus, minus, 1 / value, 0.0)
        solution = numpy.linalg.solve(matrix, fixed)
        at = lambda name: solution[index[node(name)]] if node(name) in index else 0.0
        for _ in range(400):
            right = fixed.copy()
            for _, plus, minus, form, value, limit in demands:
                if form == "resistance":
                    continue
                drawn = value if form == "current" else min(value / (at(plus) - at(minus)), limit)
                for end, sign in ((plus, -1), (minus, 1)):
                    if node(end) in index:
                        right[index[node(end)]] += sign * drawn
            before, solution = solution, numpy.linalg.solve(matrix, right)
            if len(free) == 0 or numpy.abs(solution - before).max() < 1e-12:
                break
        final = {name: float(solution[place]) for name, place in index.items()} | {name: 0.0 for name in held.values()}
        return lambda name: final.get(node(name), math.nan)


def parts(edges):
    """Which connected part a node belongs to: a function from name to the name of a member."""
    parent = {}

    def find(name):
        while parent.setdefault(name, name) != name:
            name = parent[name]
        return name

    for one, other in edges:
        parent[find(one)] = find(other)
    return find


def case_of(plan, case):
    driving = case.startswith("driving")
    output = "idle_output" if case == "driving-hot-idle" else "hot_output"
    share = 0.4 if case == "driving-hot-idle" else 0.8
    available = {}
    for name, device in plan.of("alternators").items():
        available[name] = plan.value(device, output, share * number(device["rating"]))
    volts, currents, given = plan.solve(case, {})
    asked = {name: given[name] for name in available if driving}
    limited = {name: available[name] for name, amperes in asked.items() if amperes > available[name]}
    if limited:
        volts, currents, given = plan.solve(case, limited)
    across = lambda plus, minus: round(volts(plus) - volts(minus), 9)
    wired = [name for name, load in plan.of("loads").items() if "inverter" not in load]
    loads = {name: across(f"{name}.+", f"{name}.-") for name in wired}
    taking = ("dc-dc-charger", "inverter", "buck")
    takers = [name for name, device in plan.of("converters").items() if device["kind"] in taking]
    inputs = {name: across(f"{name}.in+", f"{name}.in-") for name in takers}
    keep = lambda found: {name: value for name, value in found.items() if not math.isnan(value)}
    return {
        "load_voltages_v": keep(loads),
        "converter_input_voltages_v": keep(inputs),
        "run_currents_a": {name: round(value, 9) for name, value in keep(currents).items()},
        "alternators_asked_a": {name: round(value, 9) for name, value in asked.items()},
    }


def main():
    path = Path(sys.argv[1])
    plan = Plan(tomllib.loads(path.read_text(encoding="utf-8")), json.load(sys.stdin))
    present = [case for case in CASES if plan.of("alternators") or not case.startswith("driving")]
    result = {
        "source": f"tests/live/recompute_plan.py from {path.name}; numpy {numpy.__version__}; not made by our engine",
        "cases": {case: case_of(plan, case) for case in present},
    }
    print(json.dumps(result, indent=1, ensure_ascii=False))


main()
