"""Plants with a hidden fault, solved by ngspice (Debian package): what a voltmeter and a clamp would truly show.

Invented: ten small installations, twenty plants of each. A plant is its plan as somebody built it: conductors of 95 to
100 % of the resistance of IEC 60228 class 5, warmed by their current as IEC 60364-5-52 table B.52.2 has it (40 K at the
current of method B1, here within a tenth), joints and fuses somewhere within their spread, sources and loads somewhat off
the plan, and one joint, fuse holder or crimp that is bad. Printed as JSON: the plans, and for every plant the true
resistance of every segment and the true voltages and currents of two cases, without any noise.
"""
import json
import math
import random
import re
import struct
import subprocess
import tempfile

# IEC 60228:2004 table 3, class 5, plain copper, ohm/km at 20 °C.
OHM_PER_KM = {1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91, 16: 1.21, 25: 0.780, 35: 0.554, 50: 0.386, 70: 0.272,
              95: 0.206, 120: 0.161}
# IEC 60364-5-52:2009 table B.52.2, method B1, two loaded conductors, PVC, copper, A: 70 °C in air of 30 °C.
AMPACITY = {1.5: 17.5, 2.5: 24, 4: 32, 6: 41, 10: 57, 16: 76, 25: 101, 35: 125, 50: 151, 70: 192, 95: 232, 120: 269}
AIR = 22.0


class Plan:
    def __init__(self, name, volts):
        self.name, self.volts = name, volts
        self.batteries, self.bars, self.links, self.runs, self.loads = [], [], [], [], []
        self.cases = {}

    def battery(self, name, resistance):
        self.batteries.append((name, resistance))
        return self

    def bar(self, *names):
        self.bars += names
        return self

    def link(self, name, ohms, kind="isolator"):
        self.links.append((name, ohms, kind))
        return self

    def run(self, name, one, other, metres, mm2, fuse=None):
        self.runs.append((name, one, other, metres, mm2, fuse))
        return self

    def load(self, name, plus, minus, metres, mm2, fuse, **draws):
        self.loads.append((name, draws))
        self.run(f"{name} feed", plus, f"{name}.+", metres, mm2, fuse)
        return self.run(f"{name} return", f"{name}.-", minus, metres, mm2)

    def toml(self):
        lines = ["format = 1", "[plan]", f'name = "{self.name} (invented)"', 'place = "cabin"',
                 f'system_voltage = "{self.volts} V"', "[zones.here]", 'kind = "hut"']
        for name, ohms in self.batteries:
            lines += [f"[batteries.{name}]", 'chemistry = "agm"', 'capacity = "200 Ah"', f'nominal_voltage = "{self.volts} V"',
                      f'resistance = "{ohms * 1e3:g} mohm"']
        for name in self.bars:
            lines += [f'[busbars."{name}"]']
        for name, ohms, kind in self.links:
            lines += [f"[links.{name}]", f'kind = "{kind}"', f'resistance = "{ohms * 1e3:g} mohm"']
        for name, draws in self.loads:
            lines += [f"[loads.{name}]"]
            lines += [f'power = "{draws["watts"]:g} W"' if "watts" in draws else f'current = "{draws["amperes"]:g} A"']
        for name, one, other, metres, mm2, fuse in self.runs:
            lines += [f'[runs."{name}"]', f'from = "{one}"', f'to = "{other}"', f'route = ["{metres:g} m in here"]',
                      f'conductor = "{mm2:g} mm2"', f'fuse = "{fuse}"' if fuse else 'fuse = "none"']
        for case, loads in self.cases.items():
            lines += [f"[cases.{case}]", 'engine = "off"', 'batteries = "resting"', "loads = " + json.dumps(loads)]
        return "\n".join(lines) + "\n"


def cased(plan):
    names = [name for name, _ in plan.loads]
    plan.cases = {"everything": names, "every-other": names[::2]}
    return plan


def plans():
    found = []
    van = Plan("Van with one board", 12).battery("house", 5e-3).bar("main", "minus").link("isolator", 2e-4)
    van.link("shunt", 2.5e-4, "shunt")
    van.run("battery lead", "house.+", "isolator.in", 0.5, 70, "200 A class-t").run("bar lead", "isolator.out", "main", 0.5, 70)
    van.run("battery return", "shunt.in", "house.-", 0.6, 70).run("shunt lead", "minus", "shunt.out", 0.3, 70)
    for index, (watts, size, fuse) in enumerate([(60, 2.5, 10), (120, 4, 15), (40, 1.5, 5), (200, 6, 25), (90, 4, 15)]):
        van.load(f"load{index}", "main", "minus", 2 + index, size, f"{fuse} A blade-c", watts=watts)
    found.append(cased(van))

    boards = Plan("Hut with two boards", 12).battery("house", 4e-3).bar("main", "minus", "kitchen", "kitchen-minus")
    boards.run("lead", "house.+", "main", 1, 50, "150 A class-t").run("return", "minus", "house.-", 1, 50)
    boards.run("kitchen feed", "main", "kitchen", 4, 16, "60 A strip-sf30").run("kitchen return", "kitchen-minus", "minus", 4, 16)
    for index in range(3):
        boards.load(f"near{index}", "main", "minus", 3, 4, "15 A blade-c", amperes=6 + 2 * index)
        boards.load(f"far{index}", "kitchen", "kitchen-minus", 2, 2.5, "15 A blade-c", amperes=4 + 3 * index)
    found.append(cased(boards))

    boat = Plan("Boat with a bow board", 24).battery("house", 8e-3).bar("main", "minus", "bow", "bow-minus").link("isolator", 2e-4)
    boat.run("lead", "house.+", "isolator.in", 0.8, 50, "150 A class-t").run("bar", "isolator.out", "main", 0.5, 50)
    boat.run("return", "minus", "house.-", 0.8, 50)
    boat.run("bow feed", "main", "bow", 7, 25, "80 A strip-sf30").run("bow return", "bow-minus", "minus", 7, 25)
    for index, watts in enumerate([300, 700]):
        boat.load(f"bow{index}", "bow", "bow-minus", 2, 6, "40 A blade-c", watts=watts)
    for index, watts in enumerate([80, 150, 250]):
        boat.load(f"aft{index}", "main", "minus", 3, 2.5, "20 A blade-c", watts=watts)
    found.append(cased(boat))

    hut = Plan("Mountain hut of two lamps and a pump", 48).battery("house", 12e-3).bar("main", "minus")
    hut.run("lead", "house.+", "main", 1, 25, "80 A class-t").run("return", "minus", "house.-", 1, 25)
    hut.load("pump", "main", "minus", 15, 4, "20 A class-t", watts=600).load("lamps", "main", "minus", 9, 1.5, "10 A class-t", watts=150)
    hut.load("stove", "main", "minus", 4, 6, "30 A class-t", watts=1100)
    found.append(cased(hut))

    pair = Plan("Two batteries in parallel", 12).battery("one", 5e-3).battery("two", 5e-3).bar("main", "minus")
    for name in ("one", "two"):
        pair.run(f"{name} lead", f"{name}.+", "main", 0.6, 50, "150 A class-t").run(f"{name} return", "minus", f"{name}.-", 0.6, 50)
    for index, amperes in enumerate([25, 12, 40]):
        pair.load(f"load{index}", "main", "minus", 2, [6, 4, 16][index], f"{[40, 20, 60][index]} A {'strip-sf30' if index == 2 else 'blade-c'}", amperes=amperes)
    found.append(cased(pair))

    ring = Plan("Three boards on a ring", 12).battery("house", 4e-3).bar("a", "b", "c", "minus")
    ring.run("lead", "house.+", "a", 0.7, 70, "200 A class-t").run("return", "minus", "house.-", 0.7, 70)
    ring.run("a to b", "a", "b", 3, 16).run("b to c", "b", "c", 3, 16).run("c to a", "c", "a", 4, 16)
    for index, bar in enumerate("abc"):
        ring.load(f"load-{bar}", bar, "minus", 2, 6, "40 A blade-c", amperes=18 + 6 * index)
        ring.load(f"lamp-{bar}", bar, "minus", 4, 2.5, "10 A blade-c", watts=70)
    found.append(cased(ring))

    hull = Plan("Returns through a common strap", 12).battery("house", 5e-3).bar("main", "frame").link("strap", 1e-3, "joint")
    hull.run("lead", "house.+", "main", 0.6, 50, "125 A class-t").run("earth", "strap.out", "house.-", 0.5, 50)
    hull.run("frame lead", "frame", "strap.in", 0.4, 50)
    for index, watts in enumerate([110, 240, 60, 180]):
        hull.load(f"load{index}", "main", "frame", 2.5, 4, "25 A blade-c", watts=watts)
    found.append(cased(hull))

    chain = Plan("Boards in a row", 12).battery("house", 4e-3).bar("b0", "b1", "b2", "b3", "minus")
    chain.run("lead", "house.+", "b0", 0.6, 70, "200 A class-t").run("return", "minus", "house.-", 0.8, 70)
    for index in range(3):
        chain.run(f"hop{index}", f"b{index}", f"b{index + 1}", 2, [35, 25, 16][index])
    for index in range(4):
        chain.load(f"load{index}", f"b{index}", "minus", 2 + index, 6, "30 A blade-c", amperes=14 + 4 * (index % 3))
    found.append(cased(chain))

    heavy = Plan("A converter and small loads", 24).battery("house", 5e-3).bar("main", "minus").link("isolator", 2e-4)
    heavy.run("lead", "house.+", "isolator.in", 0.4, 70, "200 A class-t").run("bar", "isolator.out", "main", 0.4, 70)
    heavy.run("return", "minus", "house.-", 0.5, 70)
    heavy.load("oven", "main", "minus", 1.2, 50, "150 A strip-sf51", watts=2400)
    for index, watts in enumerate([40, 90, 160]):
        heavy.load(f"small{index}", "main", "minus", 4, 2.5, "15 A blade-c", watts=watts)
    found.append(cased(heavy))

    three = Plan("Three batteries and two boards", 24).battery("one", 8e-3).battery("two", 8e-3).battery("three", 8e-3)
    three.bar("main", "minus", "side", "side-minus")
    for name in ("one", "two", "three"):
        three.run(f"{name} lead", f"{name}.+", "main", 0.7, 35, "125 A class-t").run(f"{name} return", "minus", f"{name}.-", 0.7, 35)
    three.run("side feed", "main", "side", 5, 16, "60 A strip-sf30").run("side return", "side-minus", "minus", 5, 16)
    for index, amperes in enumerate([15, 22]):
        three.load(f"side{index}", "side", "side-minus", 2, 4, "30 A blade-c", amperes=amperes)
    for index, amperes in enumerate([30, 10, 18]):
        three.load(f"near{index}", "main", "minus", 3, 6, "40 A blade-c", amperes=amperes)
    found.append(cased(three))
    return found


def built(plan, chance):
    """True resistance of every segment, conductors at 20 °C, and kelvin of rise per square ampere of each."""
    ohms, warmth = {}, {}
    spread = lambda low, high: math.exp(chance.uniform(math.log(low), math.log(high)))
    for name, _, _, metres, mm2, fuse in plan.runs:
        ohms[f"cable {name}"] = OHM_PER_KM[mm2] * 1e-3 * (1.1 * metres + 0.6) * chance.uniform(0.95, 1.0)
        warmth[name] = 40 / AMPACITY[mm2] ** 2 * chance.uniform(0.9, 1.1)
        ohms[f"start {name}"], ohms[f"end {name}"] = 1e-4 * spread(0.4, 1.6), 1e-4 * spread(0.4, 1.6)
        if fuse:
            ohms[f"fuse {name}"] = 0.1 / float(fuse.split()[0]) * spread(0.4, 1.5)
    for name, value, kind in plan.links:
        ohms[f"link {name}"] = value * (chance.uniform(0.99, 1.01) if kind == "shunt" else spread(0.5, 1.6))
    return ohms, warmth


def warmed(plan, ohms, warmth, emf, draws, case):
    """As solved, with every conductor as warm as its current makes it, and the resistances that go with that."""
    amperes = {name: 0.0 for name, *_ in plan.runs}
    for _ in range(3):
        warm = dict(ohms)
        for name, current in amperes.items():
            warm[f"cable {name}"] = ohms[f"cable {name}"] * (1 + 3.93e-3 * (AIR + warmth[name] * current**2 - 20))
        at, amperes = solved(plan, warm, emf, draws, case)
    return at, amperes, warm


def solved(plan, ohms, emf, draws, case):
    """Voltages of all places against the first battery's negative, and currents of all runs."""
    ids, lines = {}, ["* plant"]
    node = lambda name: ids.setdefault(name, f"n{len(ids)}")
    zero = f"{plan.batteries[0][0]}.-"
    ids[zero] = "0"
    count = 0

    def resistor(one, other, value):
        nonlocal count
        count += 1
        lines.append(f"R{count} {node(one)} {node(other)} {value!r}")

    for name, _, kind in plan.links:
        resistor(f"{name}.in", f"{name}.out", ohms[f"link {name}"])
    for name, one, other, _, _, fuse in plan.runs:
        resistor(one, f"{name}@start", ohms[f"start {name}"])
        here = f"{name}@start"
        if fuse:
            resistor(here, f"{name}@fuse", ohms[f"fuse {name}"])
            here = f"{name}@fuse"
        resistor(here, f"{name}@end", ohms[f"cable {name}"])
        resistor(f"{name}@end", other, ohms[f"end {name}"])
    for name, resistance in plan.batteries:
        lines.append(f"V{name} e_{name} {node(name + '.-')} {emf[name]!r}")
        resistor_name = f"RI{name}"
        lines.append(f"{resistor_name} e_{name} {node(name + '.+')} {resistance!r}")
    for name, kind in plan.loads:
        if name in plan.cases[case]:
            plus, minus = node(f"{name}.+"), node(f"{name}.-")
            value = draws[name]
            lines.append(f"B{name} {plus} {minus} I={value!r}/V({plus},{minus})" if "watts" in kind else f"I{name} {plus} {minus} {value!r}")
    start = "\n".join(f".nodeset v({at})={0.0 if name.endswith('-') or 'minus' in name else plan.volts}" for name, at in ids.items() if at != "0")
    with tempfile.TemporaryDirectory() as folder:
        text = "\n".join(lines) + "\n.options reltol=1e-9 abstol=1e-12 vntol=1e-10 gmin=1e-18 itl1=1000\n" + start
        text += f"\n.control\nset noaskquit\nop\nwrite {folder}/op.raw\nquit\n.endc\n.end\n"
        open(f"{folder}/op.cir", "w").write(text)
        ran = subprocess.run(["ngspice", "-b", f"{folder}/op.cir"], capture_output=True, text=True)
        try:
            raw = open(f"{folder}/op.raw", "rb").read()
        except FileNotFoundError:
            raise SystemExit(f"ngspice: {ran.stdout}{ran.stderr}\n{text}")
    head, _, values = raw.partition(b"Binary:\n")
    names = re.findall(r"^\t\d+\t(\S+)\t", head.decode(), re.M)
    volts = dict(zip(names, struct.unpack(f"<{len(names)}d", values[: 8 * len(names)])))
    at = {name: 0.0 if id == "0" else volts.get(f"v({id})", volts.get(id)) for name, id in ids.items()}
    amperes = {}
    for name, one, other, _, _, fuse in plan.runs:
        here = f"{name}@fuse" if fuse else f"{name}@start"
        amperes[name] = (at[here] - at[f"{name}@end"]) / ohms[f"cable {name}"]
    return at, amperes


def main():
    chance = random.Random(20261127)
    found, plants = plans(), []
    for index, plan in enumerate(found):
        for _ in range(20):
            ohms, warmth = built(plan, chance)
            base = 12.5 * plan.volts / 12
            emf = {name: base * (1 + 0.01 * chance.gauss(0, 1)) for name, _ in plan.batteries}
            if len(emf) > 1:
                # Batteries that are joined have long come together.
                first = next(iter(emf.values()))
                emf = {name: first + 0.01 * chance.gauss(0, 1) for name in emf}
            draws = {name: next(iter(kind.values())) * (1 + 0.12 * chance.gauss(0, 1)) for name, kind in plan.loads}
            sound, amperes = solved(plan, ohms, emf, draws, "everything")
            # One bad joint, fuse holder or crimp in a run that carries something: 40 to 250 mV.
            carrying = [name for name, current in amperes.items() if abs(current) > 2]
            places = [key for key in ohms if key.split(" ", 1)[1] in carrying]
            fault = chance.choice(places)
            excess = chance.uniform(0.04, 0.25) / abs(amperes[fault.split(" ", 1)[1]])
            ohms[fault] += excess
            cases = {}
            for case in plan.cases:
                volts, amperes, warm = warmed(plan, ohms, warmth, emf, draws, case)
                short = lambda table: {name: float(f"{value:.8g}") for name, value in table.items()}
                cables = {name: warm[f"cable {name}"] for name in amperes}
                cases[case] = {"volts": short(volts), "amperes": short(amperes), "cables": short(cables)}
            plants.append({"plan": index, "fault": fault, "excess": float(f"{excess:.8g}"),
                           "ohms": short({key: value for key, value in ohms.items() if not key.startswith("cable")}),
                           "cases": cases})
    source = "ngspice " + subprocess.run(["ngspice", "--version"], capture_output=True, text=True).stdout.split("ngspice-")[1].split()[0]
    text = json.dumps({"source": f"{source}, reltol 1e-9, vntol 1e-10; invented plants, tests/live/plants.py",
                       "plans": [plan.toml() for plan in found], "plants": plants}, separators=(",", ":"))
    print(text.replace('{"plan":', '\n{"plan":'))


main()
