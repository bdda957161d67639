"""Builds a LibreOffice Calc document whose cells call the engine: one row for each published example.

    python3 examples/spreadsheet/build.py examples/published.csv wiring.ods

A cell says =WIRING("lw_resistance"; 2; 0; 25; 1000; 70). Basic hands that to cells.py, which calls the C library. Calc
asks whether to run the document's macros; without them the cells stay empty.
"""

import csv
import sys
import zipfile
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

HERE = Path(__file__).parent
NAMESPACES = " ".join(
    f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{what}:1.0"'
    for name, what in (("office", "office"), ("table", "table"), ("text", "text"), ("manifest", "manifest"))
) + ' xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2"'
MOST = 8
ARGUMENTS = [f"a{number}" for number in range(1, MOST + 1)]
BASIC = f"""Function Wiring(name As String, {", ".join(f"Optional {one}" for one in ARGUMENTS)})
    Dim given() As Variant
    given = Array({", ".join(f"IIf(IsMissing({one}), Empty, {one})" for one in ARGUMENTS)})
    Dim count As Integer
    count = 0
    Do While count < {MOST}
        If IsEmpty(given(count)) Then Exit Do
        count = count + 1
    Loop
    Dim all() As Variant
    ReDim all(count)
    all(0) = name
    Dim at As Integer
    For at = 1 To count
        all(at) = given(at - 1)
    Next at
    Dim script As Object
    script = ThisComponent.getScriptProvider().getScript("vnd.sun.star.script:cells.py$wiring?language=Python&location=document")
    Wiring = script.invoke(all, Array(), Array())
End Function
"""
LIBRARIES = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:libraries PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "libraries.dtd">
<library:libraries xmlns:library="http://openoffice.org/2000/library" xmlns:xlink="http://www.w3.org/1999/xlink">
 <library:library library:name="Standard" library:link="false"/>
</library:libraries>"""
LIBRARY = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard" library:readonly="false"
 library:passwordprotected="false"><library:element library:name="Wiring"/></library:library>"""
MODULE = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Wiring"
 script:language="StarBasic">{}</script:module>"""


def text(value):
    return f'<table:table-cell office:value-type="string"><text:p>{escape(value)}</text:p></table:table-cell>'


def number(value):
    return f'<table:table-cell office:value-type="float" office:value="{value}"/>'


def formula(row):
    parts = [f'"{row["function"]}"'] + [
        part if part.replace(".", "").lstrip("-").isdigit() else f'"{part}"' for part in row["arguments"].split()
    ]
    said = f"of:=WIRING({';'.join(parts)})*{row['factor']}"
    return f"<table:table-cell table:formula={quoteattr(said)}/>"


def rows(examples):
    head = "".join(map(text, ("example", "engine", "printed", "within", "unit", "source")))
    yield f"<table:table-row>{head}</table:table-row>"
    for row in examples:
        cells = [text(row["id"]), formula(row), number(row["expected"]), number(row["tolerance"])]
        yield f"<table:table-row>{''.join(cells + [text(row['unit']), text(row['source'])])}</table:table-row>"


def build(examples, target):
    files = {
        "content.xml": f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {NAMESPACES} office:version="1.2">'
        f'<office:body><office:spreadsheet><table:table table:name="examples">{"".join(rows(examples))}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>",
        "Basic/script-lc.xml": LIBRARIES,
        "Basic/Standard/script-lb.xml": LIBRARY,
        "Basic/Standard/Wiring.xml": MODULE.format(escape(BASIC)),
        "Scripts/python/cells.py": (HERE / "cells.py").read_text(encoding="utf-8"),
    }
    kinds = {"": "application/vnd.oasis.opendocument.spreadsheet", "Scripts/": "", "Scripts/python/": "", "Basic/": ""}
    entries = [(f"/{path}" if not path else path, kind) for path, kind in kinds.items()]
    entries = [("/", kinds[""])] + [(path, kind) for path, kind in entries if path != "/"]
    entries += [(path, "text/xml" if path.endswith(".xml") else "") for path in files]
    listed = "".join(
        f'<manifest:file-entry manifest:full-path="{path}" manifest:media-type="{kind}"/>' for path, kind in entries
    )
    manifest = f'<?xml version="1.0" encoding="UTF-8"?><manifest:manifest {NAMESPACES} manifest:version="1.2">{listed}</manifest:manifest>'
    with zipfile.ZipFile(target, "w") as archive:
        archive.writestr("mimetype", kinds[""], zipfile.ZIP_STORED)
        for path, content in {**files, "META-INF/manifest.xml": manifest}.items():
            archive.writestr(path, content, zipfile.ZIP_DEFLATED)


if __name__ == "__main__":
    with open(sys.argv[1], encoding="utf-8") as file:
        build(list(csv.DictReader(line for line in file if not line.startswith("#"))), sys.argv[2])
