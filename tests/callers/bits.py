"""The published numbers through Python, each as it stands in memory.

    PYTHONPATH=examples/python python3 tests/callers/bits.py libloomwright.so examples/published.csv
"""

import csv
import struct
import sys
from pathlib import Path

import loomwright

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "examples/spreadsheet"))
import cells  # noqa: E402

engine = loomwright.Engine(sys.argv[1])
READ = {"i": int, "d": float, "t": str}
with open(sys.argv[2], encoding="utf-8") as file:
    for row in csv.DictReader(line for line in file if not line.startswith("#")):
        kinds = cells.SIGNATURES[row["function"]]
        given = [READ[kind](part) for kind, part in zip(kinds, row["arguments"].split())]
        print(row["id"], struct.pack(">d", engine.number(row["function"], *given)).hex())
