"""A million invented recipes, as SQL that DuckDB and Spark both read, and what they share.

Nobody made them: the masses are remainders, with one decimal, so that every run has the same.
Every 250 000th recipe lacks all fats, as real data has gaps.
"""

HOW_MANY = 1_000_000

# A column for each fat of the setting, in its order: the mass in g.
FATS = {
    "lard": "CASE WHEN id % 250000 = 7 THEN 0e0 ELSE (2500 + id * 37 % 4001) / 10e0 END",
    "coconut_oil": "CASE WHEN id % 250000 = 7 THEN 0e0 ELSE (800 + id * 53 % 1999) / 10e0 END",
    "sunflower_oil": "CASE WHEN id % 250000 = 7 THEN 0e0 ELSE id * 71 % 1501 / 10e0 END",
}

SETTING = {
    "fats": [{"fat": "lard"}, {"fat": "coconut-oil"}, {"fat": "sunflower-oil"}],
    "superfat": 5,
    "alkali": {"naoh_purity": 98.5},
    "water": {"lye_concentration": 32},
    "scale_step": "0.1 g",
    "outputs": ["naoh_mass", "water_mass", "superfat", "superfat_range.low"],
}

# The outputs as columns of a table.
OUTPUTS = [name.replace(".", "_") for name in SETTING["outputs"]]

SELECT_FATS = ", ".join("{} AS {}".format(made, name) for name, made in FATS.items())

# The weights are multiples of 0.1 g, so their sums are exact as decimals.
SUMS = """
    SELECT count(*) AS recipes,
           count(CASE WHEN status = 0 THEN 1 END) AS planned,
           sum(CASE WHEN status = 0 THEN CAST(naoh_mass AS DECIMAL(12, 1)) END) AS naoh_g,
           sum(CASE WHEN status = 0 THEN CAST(water_mass AS DECIMAL(12, 1)) END) AS water_g,
           min(CASE WHEN status = 0 THEN superfat_range_low END) AS lowest_superfat
    FROM planned
"""


def tell(sums):
    """One line for each of the sums."""
    names = ("recipes", "planned", "sodium hydroxide, g", "water, g", "lowest superfat, %")
    for name, value in zip(names, sums):
        print("{:>20}  {}".format(name, value))
