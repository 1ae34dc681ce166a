#!/usr/bin/env python3
"""A million recipes in a database: its sums, and a sample of them, against plan.

    run.py LIBLIXIVIUM SCRIPT

SCRIPT is a file of examples/dataframes, run with this python. The masses are worked out here
again, from what recipes.py says of them; the sums are of whole numbers.
"""

import ctypes
import json
import math
import pathlib
import subprocess
import sys

import numpy

EXAMPLES = pathlib.Path(__file__).resolve().parents[2] / "examples" / "dataframes"
sys.path.insert(0, str(EXAMPLES))
from columns import Columns  # noqa: E402
from recipes import HOW_MANY, SETTING  # noqa: E402

PATH, SCRIPT = sys.argv[1:3]
SAMPLE = 3989  # a prime: each kind of row comes


def masses():
    ids = numpy.arange(HOW_MANY)
    made = [(2500 + ids * 37 % 4001) / 10, (800 + ids * 53 % 1999) / 10, ids * 71 % 1501 / 10]
    return [numpy.where(ids % 250000 == 7, 0.0, column) for column in made]


def plan(library, row):
    """One recipe through lxv_call."""
    request = {name: value for name, value in SETTING.items() if name != "outputs"}
    request["fats"] = [
        dict(fat, mass=mass) for fat, mass in zip(SETTING["fats"], row) if mass > 0
    ]
    answer = ctypes.c_void_p()
    library.lxv_call(b"plan", json.dumps(request).encode(), ctypes.byref(answer))
    text = ctypes.string_at(answer.value)
    library.lxv_free(answer)
    answer = json.loads(text)
    for name in SETTING["outputs"]:
        found = answer
        for step in name.split("."):
            found = found[step]
        yield found["value"]


def main():
    columns = Columns(PATH, SETTING)
    fats = masses()
    outputs, status, said = columns.plan(fats)
    for row in range(0, HOW_MANY, SAMPLE):
        want = tuple(plan(columns.library, [float(column[row]) for column in fats]))
        found = tuple(float(column[row]) for column in outputs.values())
        assert found == want, (row, found, want)
    missing = numpy.flatnonzero(status)
    assert list(missing) == [7, 250007, 500007, 750007], missing
    assert all(math.isnan(column[7]) for column in outputs.values())
    assert columns.reason(status[7]) and said["faults"][0]["at"].startswith("rows[7]"), said
    try:
        Columns(PATH, dict(SETTING, superfat=500)).plan(fats)
    except ValueError as fault:
        assert "superfat" in str(fault), fault
    else:
        raise AssertionError("a superfat of 500 % was taken")

    planned = status == 0

    def grams(name):
        tenths = numpy.rint(outputs[name][planned] * 10).astype(numpy.int64).sum()
        return "{}.{}".format(tenths // 10, tenths % 10)

    want = [
        str(HOW_MANY),
        str(HOW_MANY - len(missing)),
        grams("naoh_mass"),
        grams("water_mass"),
        repr(float(outputs["superfat_range.low"][planned].min())),
    ]
    printed = subprocess.run(
        [sys.executable, str(EXAMPLES / SCRIPT), PATH], stdout=subprocess.PIPE, check=True, text=True
    ).stdout
    found = [line.split()[-1] for line in printed.splitlines()[: len(want)]]
    assert found == want, "{} prints {}\ninstead of {}".format(SCRIPT, printed, want)


main()
