#!/usr/bin/env python3
"""Writes a workbook that plans a whole batch with the add-in.

    workbook.py OUTPUT.ods PROFILE

PROFILE is the folder of a LibreOffice profile that has the add-in. Needs a python that has
LibreOffice's `uno` (Debian: python3-uno). The batch is invented.
"""

import sys

import office
import uno
from com.sun.star.awt import Rectangle
from com.sun.star.chart.ChartDataCaption import VALUE
from com.sun.star.drawing.FillStyle import NONE as NO_FILL
from com.sun.star.drawing.LineStyle import NONE as NO_LINE
from com.sun.star.sheet.ConditionOperator import FORMULA
from com.sun.star.table import BorderLine2
from com.sun.star.table.CellHoriJustify import CENTER, LEFT, RIGHT
from com.sun.star.table.CellVertJustify2 import CENTER as MIDDLE

INK, SOFT, LINE, SHADE, RED = 0x23302F, 0x5F6B6A, 0xB9C4C1, 0xE9F1EE, 0xA4161A
OWN = "Soap "
STYLES = {
    "Title": dict(CharHeight=18, CharWeight=150, CharColor=INK),
    "Section": dict(CharHeight=11, CharWeight=150, CharColor=INK),
    "Text": dict(CharHeight=9.5, CharColor=INK),
    "Note": dict(CharHeight=8.5, CharColor=SOFT),
    "Head": dict(CharHeight=8.5, CharColor=SOFT, HoriJustify=RIGHT),
    "Head left": dict(CharHeight=8.5, CharColor=SOFT, HoriJustify=LEFT),
    "Yours": dict(CharHeight=9.5, CharColor=INK, CellBackColor=SHADE, HoriJustify=RIGHT),
    "Your name": dict(CharHeight=9.5, CharColor=INK, CellBackColor=SHADE, HoriJustify=LEFT),
    "Figure": dict(CharHeight=9.5, CharColor=INK, HoriJustify=RIGHT),
    "Weigh": dict(CharHeight=11, CharWeight=150, CharColor=INK, HoriJustify=RIGHT),
    "Mind": dict(CharHeight=9.5, CharColor=INK, IsTextWrapped=True),
    "Code": dict(CharHeight=8.5, CharColor=INK, CharFontName="Liberation Mono", IsTextWrapped=True),
    "Alarm": dict(CharColor=RED, CharWeight=150),
}

FATS = [("beef tallow", 45), ("coconut oil", 25), ("canola oil", 30)]
# What the maker calls it, its place in the request, its value.
SETTINGS = [
    ("Superfat, %", "superfat", 6),
    ("Alkali in the lye, %", "water.lye_concentration", 32),
    ("Purity of the sodium hydroxide, %", "alkali.naoh_purity", 98.5),
    ("Acid", "acids[0].acid", "citric-acid"),
    ("… as % of the fats", "acids[0].of_fats", 1),
    ("Additive", "additives[0].name", "Ground pumice"),
    ("… as % of the fats", "additives[0].of_fats", 3),
    ("Mould, inside length, cm", "mould.box.length", 24),
    ("Mould, inside width, cm", "mould.box.width", 8.5),
    ("Mould, inside height, cm", "mould.box.height", 7),
    ("How many of it", "mould.box.count", 2),
    ("Fill it to, %", "mould.fill", 95),
    ("Stays in the bowl, % of the batter", "mould.waste", "1 %"),
    ("Step of the scale, g", "scale_step", 1),
]
TOLERANCES = [
    ("Weighings may be off by, g", "tolerances.weighing_error", 2, ""),
    ("Purity of it, %, from and to", "tolerances.naoh_purity", 97, 99.5),
    ("Superfat that must be left, %", "floor", 0, ""),
]
CAUTIONS, SPREADS = 6, 6


class Page:
    """A sheet, and how things get into it."""

    def __init__(self, document, index, name, widths):
        sheets = document.Sheets
        if index >= sheets.Count:
            sheets.insertNewByName(name, index)
        self.sheet = sheets[index]
        self.sheet.Name = name
        for column, millimetres in enumerate(widths):
            self.sheet.Columns[column].Width = millimetres * 100

    def put(self, place, content, style, digits=None):
        cell = self.sheet[place]
        if isinstance(content, str) and not content.startswith("="):
            cell.String = content
        else:
            cell.Formula = str(content)
        cell.CellStyle = OWN + style
        cell.VertJustify = MIDDLE
        if digits is not None:
            cell.NumberFormat = self.number_format(digits)
        return cell

    def number_format(self, digits):
        pattern = "0" + "." * bool(digits) + "0" * digits
        formats, locale = self.formats, uno.createUnoStruct("com.sun.star.lang.Locale", "en", "US", "")
        known = formats.queryKey(pattern, locale, False)
        return known if known >= 0 else formats.addNew(pattern, locale)

    def rule(self, place):
        """A line above a range."""
        line = BorderLine2()
        line.Color, line.OuterLineWidth, line.LineWidth = LINE, 18, 18
        self.sheet[place].TopBorder = line

    def alarm(self, place, formula):
        """Shows the range in the alarm style where the formula holds."""
        entries = self.sheet[place].ConditionalFormat
        corner = self.sheet[place][0, 0].CellAddress
        entries.addNew(
            office.properties(
                Operator=FORMULA, Formula1=formula, StyleName=OWN + "Alarm", SourcePosition=corner
            )
        )
        self.sheet[place].ConditionalFormat = entries


def styles(document):
    family = document.StyleFamilies.getByName("CellStyles")
    family.getByName("Default").CharFontName = "Liberation Sans"
    for name, properties in STYLES.items():
        style = document.createInstance("com.sun.star.style.CellStyle")
        family.insertByName(OWN + name, style)
        for key, value in properties.items():
            setattr(style, key, value)


def paper(document):
    """A4, one page wide."""
    page = document.StyleFamilies.getByName("PageStyles").getByName("Default")
    page.IsLandscape, page.Width, page.Height = False, 21000, 29700
    page.LeftMargin = page.RightMargin = 1500
    page.TopMargin = page.BottomMargin = 1200
    page.HeaderIsOn = False
    page.FooterIsOn = True
    footer = page.RightPageFooterContent
    footer.LeftText.String = "Lixivium: exact soap arithmetic"
    footer.CenterText.String = ""
    footer.RightText.String = "Lye burns: goggles and gloves; alkali into water, never water to alkali."
    page.RightPageFooterContent = footer
    page.ScaleToPagesX, page.ScaleToPagesY = 1, 0


def batch(document):
    page = Page(document, 0, "Batch", (55, 39, 15, 24, 6, 55, 18))
    Page.formats = document.NumberFormats
    put = page.put
    put("A1", "Gardeners’ soap for the seed swap", "Title")
    put("A2", "An invented batch. Shaded cells are yours to change; all else is reckoned.", "Note")

    # The fats. The headings are those that the functions read.
    put("A4", "Fats", "Section")
    put("A5", "fat", "Head left")
    put("B5", "share", "Head")
    put("C5", "mg KOH/g", "Head")
    put("D5", "published range", "Head")
    first = 6
    for row, (fat, share) in enumerate(FATS, first):
        put("A%d" % row, fat, "Your name")
        put("B%d" % row, share, "Yours")
        put("C%d" % row, "=LXV.FAT(A%d)" % row, "Figure", 1)
        put(
            "D%d" % row,
            '=LXV.FAT(A{0};"saponification_range.low")&" – "&'
            'LXV.FAT(A{0};"saponification_range.high")'.format(row),
            "Figure",
        )
    fats = "$A$5:$B$%d" % (first + len(FATS) - 1)

    row = first + len(FATS) + 1
    put("A%d" % row, "The batch", "Section")
    put("B%d" % row, "place in the request", "Head left")
    start = row + 1
    for row, (label, place, value) in enumerate(SETTINGS, start):
        put("A%d" % row, label, "Text")
        put("B%d" % row, place, "Note")
        put("D%d" % row, value, "Yours")
    settings = "$B$%d:$D$%d" % (start, row)

    row += 2
    put("A%d" % row, "What is not known exactly", "Section")
    start = row + 1
    for row, (label, place, low, high) in enumerate(TOLERANCES, start):
        put("A%d" % row, label, "Text")
        put("B%d" % row, place, "Note")
        put("C%d" % row, low, "Yours")
        if high != "":
            put("D%d" % row, high, "Yours")
    tolerances = "$B$%d:$D$%d" % (start, row)
    left_end = row

    def plan(what):
        return '=LXV.PLAN(%s;%s;"%s")' % (fats, settings, what)

    def assure(what):
        return '=LXV.ASSURE(%s;%s;%s;"%s")' % (fats, settings, tolerances, what)

    put("F4", "On the scale, in this order", "Section")
    put("G5", "g", "Head")
    weigh = [("=A%d" % (first + i), plan("fats[%d].mass" % i)) for i in range(len(FATS))]
    weigh += [
        ("Water", plan("water_to_add_mass")),
        (plan("acids[0].name"), plan("acids[0].mass")),
        ("Sodium hydroxide, into the water", plan("naoh_mass")),
        (plan("additives[0].name"), plan("additives[0].mass")),
    ]
    for row, (label, formula) in enumerate(weigh, 6):
        put("F%d" % row, label, "Text")
        put("G%d" % row, formula, "Weigh", 0)
        page.rule("F%d:G%d" % (row, row))
    row += 2
    put("F%d" % row, "What it amounts to", "Section")
    amounts = [
        ("All fats, g", plan("total_fats"), 0),
        ("Batter, g", plan("batter_mass"), 0),
        ("Superfat, %", plan("superfat"), 2),
        ("… over the published ranges, from", plan("superfat_range.low"), 2),
        ("… to", plan("superfat_range.high"), 2),
        ("Alkali in the lye, %", plan("lye_concentration"), 2),
        ("Mould filled, up to, %", plan("mould.mould_filled_range.high"), 1),
        ("… at least, %", plan("mould.mould_filled_range.low"), 1),
    ]
    for row, (label, formula, digits) in enumerate(amounts, row + 1):
        put("F%d" % row, label, "Text")
        put("G%d" % row, formula, "Figure", digits)
    row += 2
    put("F%d" % row, "How safe it is", "Section")
    safety = [
        ("Superfat in the worst case, %", assure("worst.superfat"), 2),
        ("Superfat in the best case, %", assure("best.superfat"), 2),
        ("Most sodium hydroxide, g", assure("safe_naoh_mass"), 0),
        ("Superfat to plan for that, %", assure("superfat_for_floor"), 2),
        ("Free alkali possible", '=IF(LXV.ASSURE(%s;%s;%s;"lye_heavy_possible")=1;"YES";"no")'
         % (fats, settings, tolerances), None),
    ]
    for row, (label, formula, digits) in enumerate(safety, row + 1):
        put("F%d" % row, label, "Text")
        put("G%d" % row, formula, "Figure", digits)
    # A fault is a text where a number belongs.
    page.alarm("G6:G%d" % row, 'AND(ISTEXT(G6);G6<>"no")')

    row = max(row, left_end) + 2
    put("A%d" % row, "Mind", "Section")
    cautions = "LXV.CAUTIONS(%s;%s;%d)" % (fats, settings, CAUTIONS)
    for number in range(1, CAUTIONS + 1):
        line = row + number
        put("A%d" % line, "=INDEX(%s;%d)" % (cautions, number), "Mind")
        page.sheet["A%d:G%d" % (line, line)].merge(True)
        page.sheet.Rows[line - 1].Height = 820
    row = line + 2
    chart(page, row, fats, settings, tolerances)


def chart(page, row, fats, settings, tolerances):
    """Where the spread of the superfat comes from, the largest part first."""
    put = page.put
    put("A%d" % row, "Where the spread of the superfat comes from, in % of it", "Section")
    for line in range(row + 1, row + 1 + SPREADS):
        of = 'LXV.ASSURE(%s;%s;%s;"spreads[%d].' % (fats, settings, tolerances, line - row - 1)
        name = 'SUBSTITUTE(%sname");"naoh";"Sodium hydroxide")' % of
        put("A%d" % line, '=%s&", "&SUBSTITUTE(%sinput");"_";" ")' % (name, of), "Text")
        put("D%d" % line, '=' + of + 'share")', "Figure", 1)
    names = page.sheet["A%d:A%d" % (row + 1, line)].RangeAddress
    values = page.sheet["D%d:D%d" % (row + 1, line)].RangeAddress
    corner, width = page.sheet["A%d" % (line + 1)].Position, page.sheet["A1:G1"].Size.Width
    area = Rectangle(corner.X, corner.Y + 200, width, 4600)
    page.sheet.Charts.addNewByName("Spread", area, (names, values), False, True)
    drawn = page.sheet.Charts.getByName("Spread").EmbeddedObject
    drawn.Diagram = diagram = drawn.createInstance("com.sun.star.chart.BarDiagram")
    drawn.HasLegend = drawn.HasMainTitle = False
    diagram.Vertical = True
    diagram.HasYAxis = diagram.HasYAxisGrid = False
    diagram.Wall.FillStyle = NO_FILL
    diagram.Wall.LineStyle = drawn.Area.LineStyle = NO_LINE
    diagram.XAxis.ReverseDirection = True
    diagram.XAxis.CharHeight = 8
    bars = diagram.getDataRowProperties(0)
    bars.FillColor, bars.DataCaption, bars.CharHeight = 0x4A7C74, VALUE, 8


def functions(document):
    page = Page(document, 1, "Functions", (50, 88, 52))
    put = page.put
    put("A1", "One of each function", "Title")
    put("A2", "The function wizard describes them and each of their arguments.", "Note")
    for place, head in zip(("A4", "B4", "C4"), ("What it gives", "Formula", "Result")):
        put(place, head, "Head left")
    for row, (says, formula) in enumerate(
        (
            ("Sodium hydroxide for fats, g", '=LXV.NAOH({"olive oil";500|"lard";300};5;98;0.1)'),
            ("Potassium hydroxide for fats, g", '=LXV.KOH({"olive oil";500|"lard";300};5;90)'),
            ("Water for a lye, g", "=LXV.WATER(108.7;32;0.1)"),
            ("Superfat of weights, %", '=LXV.SUPERFAT({"olive oil";500|"lard";300};105;98)'),
            ("A figure of a fat", '=LXV.FAT("shea butter")'),
            ("Another figure of it", '=LXV.FAT("shea butter";"inci")'),
            ("A quantity in another unit", '=LXV.CONVERT("2 lb 3.5 oz";"g")'),
            ("The same number, exactly",
             '=LXV.CALL("convert";"{""quantity"":""1/3 lb"",""to"":""oz""}";"quantity.exact")'),
            ("A fault tells what is wrong", '=LXV.NAOH({"olive oil";500|"lardd";300};5)'),
        ),
        5,
    ):
        put("A%d" % row, says, "Text")
        put("C%d" % row, formula, "Mind").HoriJustify = LEFT
        put("B%d" % row, "=FORMULA(C%d)" % row, "Code")
        page.rule("A%d:C%d" % (row, row))
        page.sheet.Rows[row - 1].OptimalHeight = True
        page.sheet.Rows[row - 1].Height += 300


def main():
    output, profile = sys.argv[1:3]
    with office.Office(profile) as (desktop, _):
        document = office.new_sheet(desktop)
        styles(document)
        paper(document)
        batch(document)
        functions(document)
        office.store(document, output, "calc8")
        document.close(True)


main()
