"""Converter losses fitted to efficiency points, as the CSV stored in tests/reference/converter_fit.csv.

Written independently of the engine: the constrained least-squares problem is turned into one of least distance and
that into one of non-negative least squares (Lawson and Hanson, Solving Least Squares Problems, chapter 23), solved by
scipy.optimize.nnls with the loss held at 2001 outputs, and at 4001 more around where it is least. Where no condition decides it is numpy's lstsq.
Weight of a loss: e²/p, which makes the sum of squares that of the efficiencies to first order.
Run: `python3 tests/live/converter_fit.py > tests/reference/converter_fit.csv`.
"""

import numpy
import scipy
from scipy.optimize import nnls

LEAST_LOSS = 1e-4  # of rated output
LEAST_SLOPE = 0.01  # of the input
GRID = numpy.linspace(0.0, 1.0, 2001)
AT = (0.0, 0.03, 0.25, 0.5, 0.75, 1.0)


def fit(points):
    """p0, k1 and k2 per rated output, and whether a condition decides."""
    found, bound = fit_on(points, GRID)
    if bound and found[2] > 0 and 0 < -found[1] / found[2] / 2 < 1:
        lowest = -found[1] / found[2] / 2
        near = numpy.clip(lowest + numpy.linspace(-1, 1, 4001) / 1000, 0, 1)
        found, bound = fit_on(points, numpy.concatenate([GRID, near]))
    return found, bound


def fit_on(points, grid):
    output, efficiency = numpy.array(points).T
    weight = efficiency**2 / output
    loss = output * (1 / efficiency - 1)
    matrix = numpy.vander(output, 3, increasing=True) * weight[:, None]
    free = numpy.linalg.lstsq(matrix, loss * weight, rcond=None)[0]
    conditions = numpy.vstack([numpy.vander(grid, 3, increasing=True), [0, 1, 0], [0, 1, 2]])
    least = numpy.concatenate([numpy.full(grid.size, LEAST_LOSS), numpy.full(2, LEAST_SLOPE - 1)])
    # y = S·V'(x − free) has the length of what the fit loses.
    _, singular, turn = numpy.linalg.svd(matrix, full_matrices=False)
    back = turn.T / singular
    g, h = conditions @ back, least - conditions @ free
    if numpy.all(h <= 0):
        return free, False
    # Lawson and Hanson 23.27: the shortest y with g·y ≥ h.
    rows = numpy.vstack([g.T, h])
    target = numpy.array([0.0, 0.0, 0.0, 1.0])
    u, _ = nnls(rows, target, maxiter=100000)
    rest = rows @ u - target
    assert abs(rest[3]) > 1e-14, points
    return free + back @ (-rest[:3] / rest[3]), True


# Sheets: printed in whole and half per cents, with scatter, and such as no converter has.
SHEETS = [
    [(0.1, 0.84), (0.25, 0.91), (0.5, 0.93), (0.75, 0.925), (1.0, 0.91)],
    [(0.05, 0.70), (0.1, 0.82), (0.2, 0.88), (0.3, 0.90), (0.5, 0.91), (0.75, 0.905), (1.0, 0.89)],
    [(0.2, 0.955), (0.4, 0.965), (0.6, 0.965), (0.8, 0.96), (1.0, 0.955)],
    [(0.1, 0.90), (0.5, 0.93), (1.0, 0.91)],
    [(0.25, 0.80), (0.5, 0.86), (0.75, 0.87), (1.0, 0.87)],
    # Little loss at small output: p0 would be negative.
    [(0.1, 0.97), (0.25, 0.95), (0.5, 0.93), (1.0, 0.90)],
    [(0.2, 0.995), (0.5, 0.95), (0.8, 0.90), (1.0, 0.88)],
    # A loss that would vanish between the points.
    [(0.1, 0.80), (0.5, 0.9999), (1.0, 0.90)],
    [(0.1, 0.5), (0.2, 0.99), (0.4, 0.99), (0.6, 0.99), (0.8, 0.99), (1.0, 0.5)],
    [(0.05, 0.6), (0.3, 0.99), (0.45, 0.98), (0.7, 0.995), (1.0, 0.93)],
    # A loss that would vanish at rated output.
    [(0.2, 0.70), (0.5, 0.90), (1.0, 0.9999)],
    # An input that would fall, from the first watt or near the last.
    [(0.1, 0.12), (0.2, 0.30), (0.3, 0.55), (1.0, 0.60)],
    [(0.3, 0.40), (0.5, 0.50), (1.0, 0.98)],
    [(0.1, 0.02), (0.3, 0.30), (0.6, 0.97), (1.0, 0.50)],
]
# Scatter from a small congruential generator, the same everywhere.
state = 12345


def chance():
    global state
    state = (1103515245 * state + 12345) % 2**31
    return state / 2**31


for _ in range(30):
    own, linear, quadratic = 0.03 * chance(), -0.01 + 0.08 * chance(), 0.1 * chance()
    sheet = []
    for output in (0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1.0):
        efficiency = output / (output + own + linear * output + quadratic * output**2) + 0.03 * (chance() - 0.5)
        sheet.append((output, round(min(efficiency, 0.995), 3)))
    SHEETS.append(sheet)

print("# source: scipy.optimize.nnls on the dual of the constrained least-squares problem (Lawson and Hanson, chapter 23),")
print("# source: made by tests/live/converter_fit.py, not by our engine; points are share of rated output: efficiency")
print(f"# edition: scipy {scipy.__version__}, numpy {numpy.__version__}")
print("points,bound," + ",".join(f"loss_at_{round(100 * at)}" for at in AT))
for sheet in SHEETS:
    (own, linear, quadratic), bound = fit(sheet)
    losses = [own + linear * at + quadratic * at**2 for at in AT]
    text = " ".join(f"{output}:{efficiency}" for output, efficiency in sheet)
    print(f"{text},{int(bound)}," + ",".join(f"{each:.9g}" for each in losses))
