#!/usr/bin/env python3
"""Plans a million recipes with Spark, on this machine or on many.

    spark_plan.py LIBLIXIVIUM

The library travels with the job and is loaded where the recipes are.
"""

import os
import pathlib
import sys

import pyarrow
from pyspark.sql import SparkSession

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))
from recipes import FATS, HOW_MANY, OUTPUTS, SELECT_FATS, SETTING, SUMS, tell  # noqa: E402

LIBRARY = pathlib.Path(sys.argv[1]).resolve()


def weigh(batches):
    """Runs in the worker: it is sent there, so the library can only be loaded here."""
    from columns import Columns
    from pyspark import SparkFiles

    columns = Columns(SparkFiles.get(LIBRARY.name), SETTING)
    for batch in batches:
        outputs, status, _ = columns.plan([batch.column(name) for name in FATS])
        arrays = [batch.column("id"), *outputs.values(), status]
        yield pyarrow.RecordBatch.from_arrays(
            list(map(pyarrow.array, arrays)), ["id", *OUTPUTS, "status"]
        )


os.environ.setdefault("PYSPARK_PYTHON", sys.executable)
builder = SparkSession.builder.appName("lixivium").config("spark.ui.enabled", False)
spark = builder.config("spark.ui.showConsoleProgress", False).getOrCreate()
spark.sparkContext.setLogLevel("ERROR")
spark.sparkContext.addPyFile(str(HERE / "columns.py"))
spark.sparkContext.addFile(str(LIBRARY))
recipes = spark.range(HOW_MANY).selectExpr("id", *(m + " AS " + n for n, m in FATS.items()))
schema = "id BIGINT, {}, status INT".format(", ".join(name + " DOUBLE" for name in OUTPUTS))
recipes.mapInArrow(weigh, schema).createOrReplaceTempView("planned")
tell(spark.sql(SUMS).first())
spark.stop()
