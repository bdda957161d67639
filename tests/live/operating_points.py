"""Operating points by ngspice (Debian package) and loadabilities by continuation with scipy, as JSON.

Options: reltol 1e-9, abstol 1e-12 A, vntol 1e-10 V, gmin 1e-18 S. ngspice ends its iteration when a step changes a
node by less than reltol times its voltage plus vntol, here some 1e-8 V; its steps shrink as squares, so what is left
is far below the 1e-6 V that are asked for. gmin would leak 1e-17 A. Node voltages are read from the binary raw file.

With numbers as arguments: only radial networks of that many nodes, for the larger sizes that are not stored.
"""
import json
import re
import struct
import subprocess
import sys
import tempfile

import numpy
from scipy.optimize import root

from networks import all_networks, deck, guess, radial

OPTIONS = ".options reltol=1e-9 abstol=1e-12 vntol=1e-10 gmin=1e-18 itl1=1000"


def operating_point(net):
    start = guess(net)
    nodeset = "\n".join(f".nodeset v(n{node})={volts!r}" for node, volts in start.items() if node)
    with tempfile.TemporaryDirectory() as folder:
        text = f"{deck(net)}\n{OPTIONS}\n{nodeset}\n.control\nset noaskquit\nop\nwrite {folder}/op.raw\nquit\n.endc\n.end\n"
        with open(f"{folder}/op.cir", "w") as file:
            file.write(text)
        ran = subprocess.run(["ngspice", "-b", f"{folder}/op.cir"], capture_output=True, text=True)
        try:
            raw = open(f"{folder}/op.raw", "rb").read()
        except FileNotFoundError:
            raise SystemExit(f"ngspice: {ran.stdout}{ran.stderr}")
    head, _, values = raw.partition(b"Binary:\n")
    names = re.findall(r"^\t\d+\t(\S+)\t", head.decode(), re.M)
    volts = struct.unpack(f"<{len(names)}d", values[: 8 * len(names)])
    found = {name: value for name, value in zip(names, volts)}
    at = lambda node: 0.0 if node == 0 else found.get(f"v(n{node})", found.get(f"n{node}"))
    return [at(node) for node in range(net.nodes)]


def plain(net):
    """Whether the network is resistances, sources and constant powers and currents only."""
    limits = any("limit" in s or s.get("one_way") for s in net.sources + net.demands)
    return not (limits or net.converters or any("drop" in b for b in net.branches)) and any(
        "watts" in d for d in net.demands)


def loadability(net):
    """The largest common factor on all constant powers: pseudo-arclength continuation past the turning point."""
    size = net.nodes - 1
    matrix, feed = numpy.zeros((net.nodes, net.nodes)), numpy.zeros(net.nodes)

    def stamp(nodes, siemens):
        a, b = nodes
        matrix[a, a] += siemens
        matrix[b, b] += siemens
        matrix[a, b] -= siemens
        matrix[b, a] -= siemens

    for b in net.branches:
        stamp(b["nodes"], 1 / b["ohms"])
    for s in net.sources:
        stamp(s["nodes"], 1 / s["ohms"])
        feed[s["nodes"][0]] += s["emf"] / s["ohms"]
        feed[s["nodes"][1]] -= s["emf"] / s["ohms"]
    for d in net.demands:
        if "ohms" in d:
            stamp(d["nodes"], 1 / d["ohms"])
        elif "amperes" in d:
            feed[d["nodes"][0]] -= d["amperes"]
            feed[d["nodes"][1]] += d["amperes"]
    matrix, feed = matrix[1:, 1:], feed[1:]
    powers = [(d["nodes"][0] - 1, d["nodes"][1] - 1, d["watts"]) for d in net.demands if "watts" in d]

    def residual(volts, factor):
        out = matrix @ volts - feed
        for p, m, watts in powers:
            amperes = factor * watts / (volts[p] - (volts[m] if m >= 0 else 0.0))
            out[p] += amperes
            if m >= 0:
                out[m] -= amperes
        return out

    # Unknowns: node voltages and the logarithm of the factor, from factor 0.01 on.
    start = root(lambda volts: residual(volts, 0.01), numpy.linalg.solve(matrix, feed), tol=1e-13)
    here = numpy.append(start.x, numpy.log(0.01))
    tangent = numpy.append(numpy.zeros(size), 1.0)
    kept, best, step = (here, tangent), here[size], 0.1
    for _ in range(4000):
        ahead = here + step * tangent
        solved = root(lambda x: numpy.append(residual(x[:size], numpy.exp(x[size])), tangent @ (x - ahead)), ahead, tol=1e-13)
        if not solved.success or numpy.linalg.norm(solved.x - ahead) > step:
            step *= 0.5
            continue
        if solved.x[size] < best:
            # Past the top: from the last point before it, in finer steps.
            if step < 1e-3:
                break
            (here, tangent), step = kept, 0.25 * step
            continue
        tangent = (solved.x - here) / numpy.linalg.norm(solved.x - here)
        here, best = solved.x, solved.x[size]
        kept, step = (here, tangent), min(1.3 * step, 0.3)
    return numpy.exp(best)


def main():
    sizes = [int(argument) for argument in sys.argv[1:]]
    nets = {f"radial {nodes}": radial(nodes) for nodes in sizes} if sizes else all_networks()
    found = {}
    for name, net in nets.items():
        found[name] = {"volts": [float(f"{v:.12g}") for v in operating_point(net)]}
        found[name]["network"] = net.data()
        if plain(net) and net.nodes <= 120:
            found[name]["loadability"] = float(f"{loadability(net):.6g}")
    source = "ngspice " + subprocess.run(["ngspice", "--version"], capture_output=True, text=True).stdout.split("ngspice-")[1].split()[0]
    print(json.dumps({"source": f"{source}, {OPTIONS}; loadability: scipy", "networks": found}, separators=(",", ":")).replace('},"', '},\n"'))


if __name__ == "__main__":
    main()
