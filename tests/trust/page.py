"""The trust page, `tests/TRUST.md`, from what the last run of the outside tests told (`target/trust`), from the data's
sources and from `limits.md` and `campaigns.md` beside this file. Standard library only.

    python3 tests/trust/page.py            writes it
    python3 tests/trust/page.py --check    fails when the committed page is another
"""

import csv
import re
import sys
import tomllib
from collections import Counter, defaultdict
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
PAGE = ROOT / "tests/TRUST.md"
DATA = ROOT / "crates/loomwright/data"


def share(value):
    """A deviation in two digits; below 1e-9 it is rounding, which machines differ in."""
    percent = 100 * value
    return "0" if value < 1e-9 else f"{percent:.0f} %" if percent >= 100 else f"{percent:.2g} %"


def quantile(values, part):
    return values[min(len(values) - 1, int(part * len(values)))]


def head(source):
    """The first sentence of a test file's head: what it is held against."""
    lines = []
    for line in source.read_text(encoding="utf-8").splitlines():
        if not line.startswith("//!") or line == "//!":
            break
        lines.append(line[3:].strip())
    text = " ".join(lines)
    return re.split(r"[.:;] (?=[A-Z])|; ", text)[0].rstrip(".:")


def compared():
    """Deviations by test file."""
    told = defaultdict(list)
    for file in sorted((ROOT / "target/trust").iterdir()):
        told[file.name.split(".")[0]] += [float(line) for line in file.read_text().split()]
    outside = {file.stem: file for file in sorted((ROOT / "tests/outside").glob("*.rs")) if file.stem != "main"}
    silent = sorted(set(outside) - set(told))
    if silent:
        sys.exit(f"no comparison was told by {', '.join(silent)}: run the outside tests first")
    return [(name, head(file), sorted(told[name])) for name, file in outside.items()]


def rows(file):
    with open(file, encoding="utf-8", newline="") as opened:
        return list(csv.DictReader(line for line in opened if not line.startswith("#")))


def sources():
    """Sources of the engine's own tables by confidence, and how many rows rest on each."""
    known = tomllib.loads((DATA / "sources.toml").read_text(encoding="utf-8"))
    used = Counter()
    for file in sorted(DATA.glob("*.csv")):
        for row in rows(file):
            # A table whose columns were read in several places has a source for each.
            used.update({value for column, value in row.items() if column.endswith("source") and value})
    return {key: (one, used[key]) for key, one in known.items()}


def confidences():
    """Rows of the reference tables by what is said of where they were read."""
    kinds = Counter()
    for file in sorted((ROOT / "tests/reference").glob("*.csv")):
        for row in rows(file):
            kinds[(row.get("confidence") or "").split(" ")[0].rstrip(",;:") or "as the file's head says"] += 1
    return kinds


def page():
    out = [
        "# What the numbers rest on",
        "",
        "Made by `tests/run` from its own run (`tests/trust/page.py`); no count here was typed. To see it made again: `tests/run`, or"
        " only this page, once `tests/run` has installed what it needs: `cargo test -p loomwright-tests --features live --test outside`,"
        " then `python3 tests/trust/page.py`.",
        "",
        "## Held against others",
        "",
        "Every file of `tests/outside` names its sources, editions and tolerances at its head and beside each check. A deviation is"
        " |ours − theirs| / |theirs|, of every value compared; a value that the outside tool computed again in this run counts again."
        " A deviation of 0 is a transcription, or equal but for rounding. Where a deviation is large it is meant to be: a heat balance"
        " of our own beside a table that the engine then does not exceed (the table caps it), a limit that ours must stay within, a temperature near 0 °C, a joint of some microhms, or a time below a"
        " second, where the adiabatic law deliberately tells less.",
        "",
        "| check | held against | values | median | 95 % | worst |",
        "|---|---|---:|---:|---:|---:|",
    ]
    all_values = []
    for name, title, values in compared():
        all_values += values
        spread = " | ".join(share(quantile(values, part)) for part in (0.5, 0.95, 1.0))
        out.append(f"| [`{name}`](outside/{name}.rs) | {title} | {len(values)} | {spread} |")
    all_values.sort()
    spread = " | ".join(share(quantile(all_values, part)) for part in (0.5, 0.95, 1.0))
    out.append(f"| all | | {len(all_values)} | {spread} |")
    out += ["", "Rows of the reference tables in `tests/reference`, by how their values were come by:", ""]
    out += [f"- {kind}: {count}" for kind, count in sorted(confidences().items(), key=lambda pair: (-pair[1], pair[0]))]
    known = sources()
    out += [
        "",
        "## Where the engine's own numbers come from",
        "",
        "Sources of the tables in `crates/loomwright/data`. Every result names those that it rests on.",
        "",
        "| confidence | sources | rows |",
        "|---|---:|---:|",
    ]
    for kind in ("published", "memory", "common-practice"):
        of = [used for one, used in known.values() if one["confidence"] == kind]
        out.append(f"| {kind} | {len(of)} | {sum(of)} |")
    for kind, title in (("memory", "From memory, provisional"), ("common-practice", "Customs of the trade, no source")):
        out += ["", f"### {title}", ""]
        for key, (one, used) in known.items():
            if one["confidence"] == kind:
                place = ", ".join(one[part] for part in ("title", "edition", "section") if one.get(part))
                out.append(f"- `{key}`: {place} ({used} {'row' if used == 1 else 'rows'})")
    for more in ("limits.md", "campaigns.md"):
        out += ["", (HERE / more).read_text(encoding="utf-8").strip()]
    return "\n".join(out) + "\n"


def main():
    made = page()
    if "--check" not in sys.argv[1:]:
        PAGE.write_text(made, encoding="utf-8")
    elif not PAGE.exists() or PAGE.read_text(encoding="utf-8") != made:
        sys.exit("tests/TRUST.md is not what this run tells: run tests/trust/page.py and read the difference")


main()
