"""Seconds that general tools take for the radial network of 10 000 nodes: ngspice's .op analysis (as it reports it
itself) and its whole process, and a Newton iteration with scipy's sparse solver, matrix built beforehand."""
import json
import re
import subprocess
import tempfile
import time

import numpy
from scipy.sparse import csc_matrix, diags
from scipy.sparse.linalg import spsolve

from networks import deck, radial
from operating_points import OPTIONS

SIZE = 10_000


def with_ngspice(net):
    with tempfile.TemporaryDirectory() as folder:
        path = f"{folder}/op.cir"
        with open(path, "w") as file:
            file.write(f"{deck(net)}\n{OPTIONS}\n.control\nset noaskquit\nop\nrusage\nquit\n.endc\n.end\n")
        begun = time.perf_counter()
        ran = subprocess.run(["ngspice", "-b", path], capture_output=True, text=True)
        whole = time.perf_counter() - begun
    return float(re.search(r"Total analysis time \(seconds\) = (\S+)", ran.stdout).group(1)), whole


def with_scipy(net):
    size = net.nodes - 1
    rows, columns, values, feed = [], [], [], numpy.zeros(size)
    lines = [(b["nodes"], 1 / b["ohms"]) for b in net.branches] + [(s["nodes"], 1 / s["ohms"]) for s in net.sources]
    for (a, b), siemens in lines:
        for one, other in ((a, b), (b, a)):
            if one:
                rows.append(one - 1), columns.append(one - 1), values.append(siemens)
                if other:
                    rows.append(one - 1), columns.append(other - 1), values.append(-siemens)
    for s in net.sources:
        feed[s["nodes"][0] - 1] += s["emf"] / s["ohms"]
    matrix = csc_matrix((values, (rows, columns)), shape=(size, size))
    watts = numpy.zeros(size)
    for d in net.demands:
        watts[d["nodes"][0] - 1] += d["watts"]
    begun = time.perf_counter()
    volts = numpy.full(size, 25.6)
    for _ in range(30):
        step = spsolve(matrix - diags(watts / volts**2, format="csc"), matrix @ volts - feed + watts / volts)
        volts = volts - step
        if numpy.abs(step).max() < 1e-9:
            break
    return time.perf_counter() - begun


if __name__ == "__main__":
    net = radial(SIZE)
    analysis, whole = zip(*(with_ngspice(net) for _ in range(3)))
    print(json.dumps({"ngspice_analysis_s": min(analysis), "ngspice_process_s": min(whole),
                      "scipy_newton_s": min(with_scipy(net) for _ in range(5))}))
