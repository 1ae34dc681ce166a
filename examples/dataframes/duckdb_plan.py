#!/usr/bin/env python3
"""Plans a million recipes inside DuckDB, with a function that takes and gives Arrow columns.

    duckdb_plan.py LIBLIXIVIUM
"""

import sys

import duckdb
import pyarrow
from columns import Columns
from recipes import FATS, HOW_MANY, OUTPUTS, SELECT_FATS, SETTING, SUMS, tell

columns = Columns(sys.argv[1], SETTING)


def weigh(lard, coconut_oil, sunflower_oil):
    """Called by DuckDB with some thousand recipes at a time."""
    outputs, status, _ = columns.plan([lard, coconut_oil, sunflower_oil])
    arrays = [*outputs.values(), status]
    return pyarrow.StructArray.from_arrays(map(pyarrow.array, arrays), [*OUTPUTS, "status"])


database = duckdb.connect()
result = database.struct_type({**dict.fromkeys(OUTPUTS, "DOUBLE"), "status": "INTEGER"})
database.create_function("weigh", weigh, ["DOUBLE"] * len(FATS), result, type="arrow")
database.execute(
    "CREATE TABLE recipes AS SELECT id, {} FROM range({}) AS made(id)".format(SELECT_FATS, HOW_MANY)
)
database.execute(
    "CREATE TABLE planned AS SELECT id, unnest(weigh({})) FROM recipes".format(", ".join(FATS))
)
tell(database.execute(SUMS).fetchone())
for status, count in database.execute(
    "SELECT status, count(*) FROM planned WHERE status <> 0 GROUP BY status"
).fetchall():
    print("{} not planned: {}".format(count, columns.reason(status)))
