"""Wilson's score interval of a share, by scipy: 95 %, without continuity correction.

    target/venv/bin/python tests/live/wilson.py > tests/reference/wilson.csv
"""

import scipy
from scipy.stats import binomtest

COUNTS = [(0, 20), (1, 29), (15, 148), (81, 263), (10, 10), (9500, 10000), (9999, 10000), (500000, 1000000)]
print(f"# source: scipy {scipy.__version__}, scipy.stats.binomtest(...).proportion_ci(0.95, method='wilson')")
print("# the first four are those of R. G. Newcombe, Statistics in Medicine 17 (1998), 857-872, table I, method 3")
print("kept,of,low,high")
for kept, of in COUNTS:
    interval = binomtest(kept, of).proportion_ci(0.95, method="wilson")
    print(f"{kept},{of},{interval.low:.12g},{interval.high:.12g}")
