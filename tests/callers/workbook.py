"""The workbook of a schedule, opened by LibreOffice: every sheet, cell by cell, is what the command prints as CSV.

    python3 tests/callers/workbook.py target/release/loomwright target/callers/workbooks
"""

import csv
import io
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
command, work = Path(sys.argv[1]).resolve(), Path(sys.argv[2])
SHEETS = ("cables", "fuses", "terminals", "materials", "labels", "settings", "loads")
# Separated by commas, quoted, UTF-8, from the first line, every sheet to a file of its own.
EVERY_SHEET = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"
HEAD = 3


def run(*arguments):
    done = subprocess.run([command, *arguments], capture_output=True)
    assert done.returncode in (0, 1), done.stderr.decode()
    return done.stdout.decode()


def same(shown, stated):
    """Calc prints numbers as it likes, and a text may look like a number."""
    if shown == stated:
        return True
    try:
        return abs(float(shown) - float(stated)) <= 1e-9 * abs(float(stated))
    except ValueError:
        return False


shutil.rmtree(work, ignore_errors=True)
work.mkdir(parents=True)
# A name that a spreadsheet would take for a formula stays a text, in both forms.
hostile = (ROOT / "examples/plans/mountain-hut.toml").read_text().replace("radio", "=1-2")
hostile = hostile.replace("[loads.=1-2]", '[loads."=1-2"]').replace("[circuits.=1-2]", '[circuits."=1-2"]')
(work / "hostile.toml").write_text(hostile)
plans = [ROOT / f"examples/plans/{name}.toml" for name in ("veterinary-van", "river-launch")] + [work / "hostile.toml"]
compared = 0
for plan in plans:
    book = work / f"{plan.stem}.xlsx"
    run("schedule", plan, "--workbook", book)
    first = book.read_bytes()
    refused = subprocess.run([command, "schedule", plan, "--workbook", book], capture_output=True)
    assert refused.returncode == 2 and b"exists and is left as it is" in refused.stderr and book.read_bytes() == first
    again = work / "again.xlsx"
    run("schedule", plan, "--workbook", again)
    assert again.read_bytes() == first, "the same plan gives the same bytes"
    again.unlink()
    profile = f"-env:UserInstallation=file://{(work / 'profile').resolve()}"
    subprocess.run(
        ["soffice", profile, "--headless", "--norestore", "--convert-to", EVERY_SHEET, "--outdir", work, book],
        check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=180,
    )
    for sheet in SHEETS:
        stated = list(csv.reader(io.StringIO(run("schedule", plan, "--sheet", sheet, "--format", "csv"))))
        with open(work / f"{plan.stem}-{sheet}.csv", encoding="utf-8", newline="") as file:
            shown = list(csv.reader(file))
        for line, row in enumerate(stated[1:]):
            for shown_cell, cell in zip(shown[HEAD + line], row):
                # What CSV has to guard with a quote mark is a text anyway in a workbook.
                cell = cell.removeprefix("'")
                assert same(shown_cell, cell), (plan.stem, sheet, line, shown_cell, cell)
                compared += 1
assert any("'=1-2" in line for line in run("schedule", work / "hostile.toml", "--sheet", "loads", "--format", "csv").splitlines())
print(f"LibreOffice reads {compared} cells of {len(plans)} workbooks as the command prints them")
