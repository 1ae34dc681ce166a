#!/usr/bin/env python3
"""The Calc add-in, installed fresh, against the C library.

    run.py ADD_IN LIBRARY VECTORS SCRATCH

Needs a python that has LibreOffice's `uno`. SCRATCH is an empty folder.
"""

import csv
import ctypes
import json
import pathlib
import shutil
import subprocess
import sys
import zipfile
from xml.sax.saxutils import quoteattr

HERE = pathlib.Path(__file__).resolve().parent
EXAMPLES = HERE.parents[1] / "examples" / "spreadsheet"
sys.path[:0] = [str(HERE), str(EXAMPLES)]
import cases  # noqa: E402
import office  # noqa: E402

ADD_IN, LIBRARY, VECTORS, SCRATCH = (pathlib.Path(argument) for argument in sys.argv[1:5])
CSV = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false"
failures = []


def check(holds, *says):
    if not holds:
        failures.append(" ".join(str(part) for part in says))


# The C library, without the add-in's code.

library = ctypes.CDLL(str(LIBRARY))
library.lxv_free.argtypes = [ctypes.c_void_p]


def call(operation, request):
    answer = ctypes.c_void_p()
    library.lxv_call(operation.encode(), request.encode(), ctypes.byref(answer))
    text = ctypes.string_at(answer).decode()
    library.lxv_free(answer)
    return json.loads(text)


def ask(operation, request):
    answer = call(operation, json.dumps(request))
    assert "error" not in answer, (operation, request, answer)
    return answer


def shown(value):
    """A part of an answer as a cell holds it."""
    if isinstance(value, dict):
        value = value["value"]
    if value is None:
        return ""
    return value if isinstance(value, str) else float(value)


def at(answer, place):
    for step in place.split("."):
        answer = answer[int(step)] if step.isdigit() else answer[step]
    return shown(answer)


def told(faults, strip=""):
    places = [fault["at"][len(strip) :] for fault in faults]
    return "; ".join(
        "{}: {}".format(place, fault["says"]) if place else fault["says"]
        for place, fault in zip(places, faults)
    )


def leaves(value, place=""):
    """All the places of an answer and what stands there, as LXV.CALL lists them."""
    if isinstance(value, list):
        for index, item in enumerate(value):
            yield from leaves(item, "{}[{}]".format(place, index))
    elif isinstance(value, dict) and set(value) != {"value", "exact"}:
        for name, item in value.items():
            yield from leaves(item, place + "." * bool(place) + name)
    else:
        yield place, shown(value)


# Cells.


def content(cell):
    """What a cell holds: a number, a text, or an error as Calc writes it."""
    if cell.getError():
        return "Err:{}".format(cell.getError())
    kind = cell.FormulaResultType2
    return cell.Value if kind == 1 else cell.String


def fill_in(sheet):
    for corner, rows in cases.RANGES.items():
        start = sheet[corner].CellAddress
        for down, row in enumerate(rows):
            for right, value in enumerate(row):
                cell = sheet[start.Row + down, start.Column + right]
                if isinstance(value, str):
                    cell.String = value
                else:
                    cell.Formula = str(value).upper() if isinstance(value, bool) else value


def type_in(sheet, formulas):
    """Puts formulas below each other into column L; gives their cells."""
    typed = []
    for row, formula in enumerate(formulas):
        sheet[row, 11].Formula = "=" + formula
        typed.append(sheet[row, 11])
    return typed


def single_values(sheet):
    expected = [at(ask(operation, request), place) for _, operation, request, place in cases.SINGLE]
    for cell, case, want in zip(type_in(sheet, [c[0] for c in cases.SINGLE]), cases.SINGLE, expected):
        check(content(cell) == want, case[0], "gives", repr(content(cell)), "instead of", repr(want))
    # A cell that shows one number is a number to other formulas too.
    first, second = expected[0], expected[1]
    sheet["N1"].Formula = "=" + cases.SINGLE[0][0] + "+" + cases.SINGLE[1][0]
    check(content(sheet["N1"]) == first + second, "the sum of two results is", content(sheet["N1"]))


def faults(sheet):
    for cell, (formula, operation, request) in zip(
        type_in(sheet, [case[0] for case in cases.FAULTY]), cases.FAULTY
    ):
        answer = call(operation, json.dumps(request))
        strip = "plan." if operation == "assure" else ""
        want = told(answer["error"]["faults"], strip)
        check(content(cell) == want, formula, "says", repr(content(cell)), "instead of", repr(want))
    for cell, (formula, piece) in zip(type_in(sheet, [case[0] for case in cases.TOLD]), cases.TOLD):
        check(piece in str(content(cell)), formula, "says", repr(content(cell)), "without", piece)


def blocks(sheet):
    plan = ask("plan", cases.SINGLE[0][2])
    block = sheet["P1:R40"]
    block.ArrayFormula = "=LXV.PLAN(A1:B4;D1:E4;;40)"
    rows = {row[0]: row for row in block.DataArray}
    for name, place, unit in (
        ("Olive oil", "fats.0.mass", "g"),
        ("Sodium hydroxide", "naoh_mass", "g"),
        ("Water", "water_to_add_mass", "g"),
        ("Batter", "batter_mass", "g"),
        ("Superfat", "superfat", "%"),
        ("Superfat, lowest", "superfat_range.low", "%"),
        ("Lye concentration", "lye_concentration", "%"),
    ):
        check(rows.get(name) == (name, at(plan, place), unit), "the row", name, "is", rows.get(name))
    minded = [row[1] for row in block.DataArray if row[0] == "Mind"]
    check(minded == [caution["says"] for caution in plan["cautions"]], "cautions:", minded)
    check(block.DataArray[39] == ("", "", ""), "the block is padded with", block.DataArray[39])
    block.clearContents(16)
    low = sheet["P1:R3"]
    low.ArrayFormula = "=LXV.PLAN(A1:B4;D1:E4;;3)"
    check("make this block higher" in low.DataArray[2][0], "a low block ends with", low.DataArray[2])
    check("make this block higher" not in low.DataArray[1][0], "a low block drops too much")
    low.clearContents(16)
    wrong = sheet["P1:R3"]
    wrong.ArrayFormula = "=LXV.PLAN(A1:A4;D1:E4;;3)"
    check("one column" in wrong.DataArray[0][0], "a block with a fault is", wrong.DataArray)
    check(wrong.DataArray[1:] == (("", "", ""),) * 2, "a fault fills", wrong.DataArray)
    wrong.clearContents(16)
    for function in "LXV.FILL(A7:B9;D7:E15;;60)", "LXV.ASSURE(A1:B4;D1:E4;G1:I3;;60)":
        block = sheet["P1:R60"]
        block.ArrayFormula = "=" + function
        check(len([row for row in block.DataArray if row[0]]) > 8, function, block.DataArray[:3])
        check(any(row[0] == "Mind" for row in block.DataArray), function, "has no cautions")
        block.clearContents(16)
    block = sheet["P1:P20"]
    block.ArrayFormula = "=LXV.CAUTIONS(A1:B4;D1:E4;20)"
    said = [row[0] for row in block.DataArray if row[0]]
    check(said == [caution["says"] for caution in plan["cautions"]], "LXV.CAUTIONS:", said)
    block.clearContents(16)


def vectors(sheet):
    """Every shared vector through LXV.CALL, each figure of each answer."""
    run = 0
    for file in sorted(VECTORS.glob("*.json")):
        shared = json.loads(file.read_text())
        for vector in shared["vectors"]:
            run += 1
            name = "{}: {}".format(file.stem, vector["name"])
            request = vector.get("request", vector.get("request_text"))
            text = request if isinstance(request, str) else json.dumps(request, ensure_ascii=False)
            sheet["A1"].String, sheet["B1"].String = shared["operation"], text
            if vector["ok"]:
                want = tuple(leaves(vector["answer"]))
                block = sheet.getCellRangeByPosition(2, 0, 3, len(want) - 1)
                block.ArrayFormula = "=LXV.CALL(A1;B1)"
                check(block.DataArray == want, name, "differs")
                block.clearContents(16)
            else:
                sheet["C1"].Formula = "=LXV.CALL(A1;B1)"
                want = told(vector["answer"]["error"]["faults"])
                check(content(sheet["C1"]) == want, name, "says", content(sheet["C1"]))
    check(run > 40, "only", run, "vectors were found in", VECTORS)


def wizard(context):
    """Each function and each of its arguments is described."""
    descriptions = context.ServiceManager.createInstanceWithContext(
        "com.sun.star.sheet.FunctionDescriptions", context
    )
    found = {}
    for index in range(descriptions.Count):
        description = {value.Name: value.Value for value in descriptions.getByIndex(index)}
        if description["Name"].startswith("LXV."):
            found[description["Name"]] = description
    check(len(found) > 10, "the function wizard has only", sorted(found))
    for name, description in found.items():
        check(description["Description"], name, "is not described")
        for argument in description["Arguments"] or ():
            # Calc shows ### where it found no words.
            words = argument.Name + argument.Description
            check(argument.Name and "###" not in words, name, "has an argument without words")
    naoh = found["LXV.NAOH"]["Arguments"]
    names = [argument.Name for argument in naoh]
    check(names == ["fats", "superfat", "purity", "scale_step"], "LXV.NAOH has", names)
    check(naoh[1].Description.startswith("Share of the fats"), "superfat is", naoh[1].Description)
    check(naoh[2].IsOptional and naoh[3].IsOptional, "LXV.NAOH has no optional arguments")


# Files, as they are exchanged.


def flat_sheet(path):
    """A file that holds formulas and no results, written without LibreOffice."""

    def cell(value):
        if isinstance(value, str):
            return "<table:table-cell office:value-type='string'><text:p>{}</text:p></table:table-cell>".format(value)
        return "<table:table-cell office:value-type='float' office:value='{}'/>".format(value)

    fats = [[cell(value) for value in row] for row in (("olive oil", 620), ("lard", 255.5))]
    formulas = (
        "LXV.NAOH([.A1:.B2];5)",
        'LXV.FAT("olive oil")',
        'LXV.CONVERT("10 oz";"g")',
        'LXV.FAT("olve oil")',
    )
    made = [
        ["<table:table-cell table:formula={}/>".format(
            quoteattr("of:=" + formula))]
        for formula in formulas
    ]
    rows = "".join(
        "<table:table-row>{}</table:table-row>".format("".join(row)) for row in fats + made
    )
    names = " ".join(
        'xmlns:{}="urn:oasis:names:tc:opendocument:xmlns:{}"'.format(short, name)
        for short, name in (
            ("office", "office:1.0"), ("table", "table:1.0"), ("text", "text:1.0"), ("of", "of:1.2"),
        )
    )
    path.write_text(
        '<?xml version="1.0" encoding="UTF-8"?><office:document {} office:version="1.3" '
        'office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body>'
        '<office:spreadsheet><table:table table:name="T">{}</table:table></office:spreadsheet>'
        "</office:body></office:document>".format(names, rows),
        encoding="utf-8",
    )


def as_csv(file, profile):
    with open(office.convert(file, CSV, SCRATCH, profile), newline="", encoding="utf-8") as read:
        return [row[0] for row in csv.reader(read)][2:]


def files(with_add_in, without):
    flat_sheet(SCRATCH / "flat.fods")
    naoh = ask("plan", {"fats": [{"fat": "olive oil", "mass": 620}, {"fat": "lard", "mass": 255.5}],
                        "superfat": 5, "water": {"of_fats": 30}})
    cells = as_csv(SCRATCH / "flat.fods", with_add_in)
    check(abs(float(cells[0]) / at(naoh, "naoh_mass") - 1) < 1e-14, "as CSV:", cells)
    check(cells[1:3] == ["190", "283.49523125"], "as CSV:", cells)
    check("did you mean" in cells[3], "as CSV:", cells)
    # Formulas in files of Excel have the same names.
    office.convert(SCRATCH / "flat.fods", "xlsx", SCRATCH, with_add_in)
    (SCRATCH / "flat.xlsx").rename(SCRATCH / "excel.xlsx")
    with zipfile.ZipFile(SCRATCH / "excel.xlsx") as file:
        check(b"LXV.NAOH(A1:B2,5)" in file.read("xl/worksheets/sheet1.xml"), "xlsx has other names")
    check(as_csv(SCRATCH / "excel.xlsx", with_add_in) == cells, "from xlsx the cells differ")
    # Without the add-in the same file shows errors: the figures above do come from it.
    cells = as_csv(SCRATCH / "flat.fods", without)
    check(cells == ["#NAME?"] * 4, "without the add-in:", cells)


def is_shown(label, text, number):
    """The number as text with the decimals that its cell shows."""
    want = "{:.{}f}".format(number, len(text.partition(".")[2]))
    check(text == want, "workbook:", label, text, "instead of", want)


def workbook(profile):
    """The example: what it says to weigh, that nothing in it is an error, that it prints."""
    made = SCRATCH / "batch.ods"
    script = EXAMPLES / "workbook.py"
    subprocess.run([sys.executable, str(script), str(made), str(profile)], check=True)
    with open(office.convert(made, CSV, SCRATCH, profile), newline="", encoding="utf-8") as read:
        rows = [row for row in csv.reader(read)]
    named = {row[5]: row[6] for row in rows}
    plan = {
        "fats": [{"fat": "beef tallow", "share": 45}, {"fat": "coconut oil", "share": 25},
                 {"fat": "canola oil", "share": 30}],
        "superfat": 6,
        "water": {"lye_concentration": 32},
        "alkali": {"naoh_purity": 98.5},
        "acids": [{"acid": "citric-acid", "of_fats": 1}],
        "additives": [{"name": "Ground pumice", "of_fats": 3}],
        "mould": {"box": {"length": 24, "width": 8.5, "height": 7, "count": 2}, "fill": 95,
                  "waste": "1 %"},
        "scale_step": 1,
    }
    answer = ask("plan", plan)
    for label, place in (
        ("beef tallow", "fats.0.mass"),
        ("coconut oil", "fats.1.mass"),
        ("canola oil", "fats.2.mass"),
        ("Water", "water_to_add_mass"),
        ("Sodium hydroxide, into the water", "naoh_mass"),
        ("Ground pumice", "additives.0.mass"),
        ("Superfat, %", "superfat"),
        ("Mould filled, up to, %", "mould.mould_filled_range.high"),
    ):
        is_shown(label, named[label], at(answer, place))
    tolerances = {"weighing_error": 2, "naoh_purity": [97, 99.5]}
    safe = ask("assure", {"plan": plan, "tolerances": tolerances, "floor": 0})
    label = "Superfat in the worst case, %"
    is_shown(label, named[label], at(safe, "worst.superfat"))
    minded = [row[0] for row in rows]
    for caution in answer["cautions"]:
        check(caution["says"] in minded, "workbook: not said:", caution["says"])
    pdf = office.convert(made, "pdf", SCRATCH, profile)
    text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True)
    printed = text.stdout.decode()
    for piece in "Gardeners", "On the scale", "goggles", "Where the spread", "did you mean":
        check(piece in printed, "workbook: the print lacks", piece)
    for error in "#NAME?", "#VALUE!", "#N/A", "Err:", "###":
        check(error not in printed, "workbook: the print shows", error)
    # The chart's own labels: each name stands in the table and in the chart.
    check(printed.count("Coconut oil, saponification value") == 2, "workbook: the chart is missing")


def typed(desktop, separator, decimal):
    """Formulas as they are typed where this separator and this decimal mark are in use."""
    document = office.new_sheet(desktop)
    sheet = document.Sheets[0]
    sheet["A1"].String = "olive oil"
    # Text that is typed is read as the place has it: 500.5 or 500,5.
    sheet["B1"].FormulaLocal = "500" + decimal + "5"
    sheet["C1"].FormulaLocal = "=LXV.NAOH(A1:B1{0}5{1}5)".format(separator, decimal)
    want = ask("plan", {"fats": [{"fat": "olive oil", "mass": 500.5}], "superfat": 5.5,
                        "water": {"of_fats": 30}})
    check(content(sheet["C1"]) == at(want, "naoh_mass"), "typed with", separator, "and", decimal,
          "it gives", content(sheet["C1"]))
    sheet["C2"].FormulaLocal = '=LXV.CONVERT(B1{0}"oz"{0}"g")'.format(separator)
    want = ask("convert", {"quantity": "500.5 g", "to": "oz"})
    check(content(sheet["C2"]) == at(want, "quantity"), "typed with", separator, "it gives",
          content(sheet["C2"]))
    document.close(True)


def german(profile):
    """The profile with another place: decimal comma, semicolons between arguments."""
    copy = SCRATCH / "german"
    shutil.copytree(profile, copy)
    settings = copy / "user" / "registrymodifications.xcu"
    text = settings.read_text(encoding="utf-8")
    items = (
        '<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale" '
        'oor:op="fuse"><value>de-DE</value></prop></item>'
        '<item oor:path="/org.openoffice.Office.Calc/Formula/Syntax"><prop oor:name="SeparatorArg" '
        'oor:op="fuse"><value>;</value></prop></item>'
    )
    settings.write_text(text.replace("</oor:items>", items + "</oor:items>"), encoding="utf-8")
    return copy


def main():
    installed, bare = SCRATCH / "installed", SCRATCH / "bare"
    office.install(ADD_IN, installed)
    files(installed, bare)
    workbook(installed)
    with office.Office(installed) as (desktop, context):
        document = office.new_sheet(desktop)
        sheet = document.Sheets[0]
        fill_in(sheet)
        single_values(sheet)
        faults(sheet)
        blocks(sheet)
        document.close(True)
        document = office.new_sheet(desktop)
        vectors(document.Sheets[0])
        document.close(True)
        wizard(context)
        typed(desktop, ",", ".")
    with office.Office(german(installed)) as (desktop, _):
        typed(desktop, ";", ",")
    if failures:
        raise SystemExit("\n".join(["tests/calc: {} failures".format(len(failures)), *failures]))


main()
