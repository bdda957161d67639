"""Opens the built spreadsheet in a headless LibreOffice, lets it recalculate, and reads its cells back.

    /usr/bin/python3 tests/callers/spreadsheet.py wiring.ods     with LOOMWRIGHT_LIBRARY set; needs python3-uno
"""

import subprocess
import sys
import tempfile
import time
from pathlib import Path

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

document = Path(sys.argv[1]).resolve().as_uri()
pipe = f"loomwright{time.time_ns()}"
ALWAYS_RUN_MACROS = 4


def connect():
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(240):
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except NoConnectException:
            time.sleep(0.25)
    raise SystemExit("LibreOffice does not answer")


with tempfile.TemporaryDirectory() as profile:
    office = subprocess.Popen(
        ["soffice", "--headless", "--norestore", "--nologo", f"-env:UserInstallation=file://{profile}",
         f"--accept=pipe,name={pipe};urp;"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )
    try:
        context = connect()
        desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        given = tuple(PropertyValue(Name=name, Value=value) for name, value in (("Hidden", True), ("MacroExecutionMode", ALWAYS_RUN_MACROS)))
        opened = desktop.loadComponentFromURL(document, "_blank", 0, given)
        opened.calculateAll()
        sheet = opened.Sheets.getByIndex(0)
        checked, row = 0, 1
        while sheet.getCellByPosition(0, row).String:
            name, engine, printed, within = (sheet.getCellByPosition(column, row) for column in range(4))
            if engine.getError() or abs(engine.Value - printed.Value) > within.Value:
                raise SystemExit(f"{name.String}: {engine.String} ({engine.Formula}), printed {printed.Value}")
            checked, row = checked + 1, row + 1
        # A failure is told as text.
        told = sheet.getCellByPosition(1, row)
        told.Formula = '=WIRING("lw_resistance"; 5; 0; 11; 1; 20)'
        if "is not a size" not in told.String:
            raise SystemExit(f"a failure reads {told.String!r}")
        opened.close(True)
        try:
            desktop.terminate()
        except Exception:  # The bridge ends with the office.
            pass
    finally:
        try:
            office.wait(timeout=20)
        except subprocess.TimeoutExpired:
            office.kill()
if checked < 10:
    raise SystemExit(f"only {checked} examples")
print(f"{checked} published examples through the spreadsheet")
