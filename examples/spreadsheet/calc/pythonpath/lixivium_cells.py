"""From ranges of cells to requests, and from answers to cells. Nothing is reckoned here.

Calc hands over a number as float, a text as str, a range as a tuple of rows, an empty cell of a
range as "" and an argument that was left out as None.
"""

import re

FAT_HEADINGS = (
    "fat",
    "mass",
    "share",
    "saponification_value",
    "saponification_low",
    "saponification_high",
)
# Members of requests that are true or false. Calc hands over TRUE as the number 1.
FLAGS = ("count_alkali_water", "count_acid_water")
WHOLE_BELOW = 2.0**53
MOST_ROWS = 10000


class Wrong(Exception):
    """Cells that make no request; the text says which, and what is accepted."""


def is_empty(cell):
    return cell is None or cell == ""


def rows_of(cells):
    """The rows of a range; a single cell is a range of one."""
    if isinstance(cells, tuple):
        return cells
    return () if is_empty(cells) else ((cells,),)


def plain(cell):
    """A cell as it goes into a request: 8.0 is 8, and text has no blanks around it."""
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < WHOLE_BELOW:
        return int(cell)
    return cell.strip() if isinstance(cell, str) else cell


def fats(cells):
    """The fats of a range, and for each the row it stands in, counted from 1."""
    rows = rows_of(cells)
    if not rows:
        raise Wrong("fats: the range is empty; accepted: a column of fats and one of masses")
    names, first = FAT_HEADINGS[:2], 0
    if str(rows[0][0]).strip().lower() == "fat":
        names, first = headings(rows[0]), 1
    elif len(rows[0]) == 1:
        raise Wrong("fats: one column is not enough; accepted: a column of fats and one of masses")
    elif len(rows[0]) > 2:
        raise Wrong(
            "fats: a range of more than two columns has headings in its first row; accepted: "
            + ", ".join(FAT_HEADINGS)
        )
    lines, places = [], []
    for number, row in enumerate(rows[first:], first + 1):
        line = {name: plain(cell) for name, cell in zip(names, row) if not is_empty(cell)}
        if line:
            lines.append(with_own_figures(line))
            places.append(number)
    return lines, places


def headings(row):
    names = [str(cell).strip().lower().replace(" ", "_") for cell in row]
    for name in names:
        if name not in FAT_HEADINGS:
            raise Wrong(
                'fats: "{}" is not a heading that is known; accepted: {}'.format(
                    name, ", ".join(FAT_HEADINGS)
                )
            )
    return names


def with_own_figures(line):
    """A fat with a saponification value beside it is one of the maker's own."""
    own = {}
    if "saponification_value" in line:
        own["saponification_value"] = line.pop("saponification_value")
    ends = [line.pop(end, None) for end in ("saponification_low", "saponification_high")]
    if ends != [None, None]:
        own["saponification_range"] = ends
    if own:
        line["fat"] = dict(own, name=line.get("fat"))
    return line


def tree(cells, name):
    """The request that a range of places and values makes.

    A row is a place such as water.lye_concentration or acids[0].of_fats and its value; two values
    beside each other make a list, such as a range from low to high.
    """
    request = {}
    for row in rows_of(cells):
        place, values = row[0], [plain(cell) for cell in row[1:] if not is_empty(cell)]
        if is_empty(place) or not values:
            continue
        value = values[0] if len(values) == 1 else values
        steps = steps_of(str(place), name)
        if value in ("true", "false"):
            value = value == "true"
        elif steps[-1] in FLAGS and value in (0, 1):
            value = value == 1
        put(request, steps, value, "{}: {}".format(name, place))
    return request


def steps_of(place, name):
    """"acids[0].mass" as ["acids", 0, "mass"]."""
    place = place.strip()
    if not re.fullmatch(r"\w+(\[\d{1,3}\]|\.\w+)*", place):
        raise Wrong(
            '{}: "{}" is not a place; accepted: one such as water.lye_concentration or '
            "acids[0].mass".format(name, place)
        )
    steps = re.findall(r"\w+", place)
    return [int(step) if step.isdigit() else step for step in steps]


def put(request, steps, value, shown):
    """Puts a value where the steps lead to, making the objects and lists on the way."""
    for step, after in zip(steps, steps[1:] + [None]):
        made = value if after is None else [] if isinstance(after, int) else {}
        if isinstance(step, int) and isinstance(request, list):
            if step > len(request):
                raise Wrong("{}: a list begins at [0] and leaves no place out".format(shown))
            if step == len(request):
                request.append(made)
                if after is None:
                    return
        elif isinstance(step, str) and isinstance(request, dict):
            if step not in request:
                request[step] = made
                if after is None:
                    return
        else:
            raise Wrong("{}: this does not fit to a row above it".format(shown))
        if after is None:
            raise Wrong("{} stands here twice; write it once".format(shown))
        request = request[step]


def find(answer, what):
    """What stands at a place of an answer."""
    found, way = answer, ""
    for step in steps_of(what, "what"):
        inside = found
        if isinstance(step, int) and isinstance(inside, list) and step < len(inside):
            found = inside[step]
        elif isinstance(step, str) and isinstance(inside, dict) and step in inside:
            found = inside[step]
        else:
            raise Wrong(
                'what: the answer has no "{}"; {} has {}'.format(
                    what, '"{}"'.format(way) if way else "it", contents(inside)
                )
            )
        way += "[{}]".format(step) if isinstance(step, int) else "." * bool(way) + step
    return found


def contents(value):
    if isinstance(value, dict):
        return ", ".join(value)
    if isinstance(value, list):
        return "[0] to [{}]".format(len(value) - 1) if value else "an empty list"
    return "no parts"


def is_number(value):
    """Whether this is a number of an answer, in its two views."""
    return isinstance(value, dict) and set(value) == {"value", "exact"}


def cell(value):
    """A single value of an answer as Calc shows it; what is not known is empty."""
    if is_number(value):
        value = value["value"]
    if value is None:
        return ""
    return value if isinstance(value, str) else float(value)


def cells(value):
    """A part of an answer: a single cell, or rows of places and values."""
    if not isinstance(value, (dict, list)) or is_number(value):
        return cell(value)
    return tuple(flat(value, "")) or ""


def flat(value, place):
    if isinstance(value, list):
        for index, item in enumerate(value):
            yield from flat(item, "{}[{}]".format(place, index))
    elif isinstance(value, dict) and not is_number(value):
        for name, member in value.items():
            yield from flat(member, "{}.{}".format(place, name) if place else name)
    else:
        yield place, cell(value)


def of_height(block, rows):
    """A block with as many rows as asked for; what finds no room is told of, never dropped."""
    if is_empty(rows):
        return block
    if not isinstance(rows, float) or not rows.is_integer() or not 1 <= rows <= MOST_ROWS:
        raise Wrong("rows: accepted: a whole number from 1 to {}".format(MOST_ROWS))
    rows = int(rows)
    if not isinstance(block, tuple):
        block = ((block,),)
    width = len(block[0])
    if len(block) > rows:
        more = "{} more rows: make this block higher".format(len(block) - rows + 1)
        return block[: rows - 1] + ((more,) + ("",) * (width - 1),)
    return block + (("",) * width,) * (rows - len(block))


def as_high_as(reason, rows):
    """A fault where a block was asked for: it stands once, at the top."""
    if isinstance(rows, float) and rows >= 1:
        return ((reason, "", ""),) + (("", "", ""),) * int(min(rows, MOST_ROWS) - 1)
    return reason


def sentences(faults, places=(), inside=""):
    """The faults as one text. A fat is told by its row in the range, `places` of it."""

    def place(at):
        if inside and at.startswith(inside + "."):
            at = at[len(inside) + 1 :]
        line = re.match(r"fats\[(\d+)\]\.?", at)
        if line and int(line.group(1)) < len(places):
            row = "fats, row {}".format(places[int(line.group(1))])
            rest = at[line.end() :]
            return "{}, {}".format(row, rest) if rest else row
        return at

    told = ((place(fault["at"]), fault["says"]) for fault in faults)
    return "; ".join("{}: {}".format(at, says) if at else says for at, says in told)
