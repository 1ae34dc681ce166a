"""Formulas, and what the C library itself answers for the same request.

The sheet in which they stand: fats in A1:B4 (row 3 is empty), others by share with headings in
A7:B9, one of the maker's own in A20:E22, settings in D1:E4, settings with a mould in D7:E15,
tolerances in G1:I3.
"""

FATS = [("olive oil", 620), ("coconut oil", 255.5), ("", ""), ("castor-oil", "3 oz")]
SHARES = [("Fat", "Share"), ("Lard", 55), ("coconut-oil", 45)]
OWN = [
    ("fat", "mass", "saponification value", "saponification low", "saponification high"),
    ("our tallow", 400, 197.5, 192, 203),
    ("olive oil", 100, "", "", ""),
]
SETTINGS = [
    ("superfat", 6),
    ("water.lye_concentration", 31.5),
    ("alkali.naoh_purity", 98.5),
    ("scale_step", "0.5 g"),
]
MOULD = [
    ("superfat", 5),
    ("water.of_fats", 35),
    ("water.count_alkali_water", True),
    ("scale_step", 1),
    ("acids[0].acid", "citric-acid"),
    ("acids[0].of_fats", 1.5),
    ("mould.box.length", 24),
    ("mould.box.width", 8.5),
    ("mould.box.height", "7 cm"),
]
TOLERANCES = [
    ("tolerances.weighing_error", 1, ""),
    ("tolerances.naoh_purity", 97, 99.5),
    ("floor", 1, ""),
]
RANGES = {"A1": FATS, "A7": SHARES, "A20": OWN, "D1": SETTINGS, "D7": MOULD, "G1": TOLERANCES}

_FATS = [
    {"fat": "olive oil", "mass": 620},
    {"fat": "coconut oil", "mass": 255.5},
    {"fat": "castor-oil", "mass": "3 oz"},
]
_SHARES = [{"fat": "Lard", "share": 55}, {"fat": "coconut-oil", "share": 45}]
_OWN = [
    {"fat": {"name": "our tallow", "saponification_value": 197.5,
             "saponification_range": [192, 203]}, "mass": 400},
    {"fat": "olive oil", "mass": 100},
]
_PLAN = {
    "fats": _FATS,
    "superfat": 6,
    "water": {"lye_concentration": 31.5},
    "alkali": {"naoh_purity": 98.5},
    "scale_step": "0.5 g",
}
_BOX = {"box": {"length": 24, "width": 8.5, "height": "7 cm"}}
_POURED = {
    "fats": _SHARES,
    "superfat": 5,
    "water": {"of_fats": 35, "count_alkali_water": True},
    "scale_step": 1,
    "acids": [{"acid": "citric-acid", "of_fats": 1.5}],
    "mould": _BOX,
}
_SIMPLE = {"superfat": 5, "water": {"water_to_lye": 2}}
_NAOH = {"fats": _FATS, **_SIMPLE}

# Formula, operation, request, place in the answer.
SINGLE = [
    ('LXV.PLAN(A1:B4;D1:E4;"naoh_mass")', "plan", _PLAN, "naoh_mass"),
    ('LXV.PLAN(A1:B4;D1:E4;"water_mass")', "plan", _PLAN, "water_mass"),
    ('LXV.PLAN(A1:B4;D1:E4;"superfat")', "plan", _PLAN, "superfat"),
    ('LXV.PLAN(A1:B4;D1:E4;"superfat.exact")', "plan", _PLAN, "superfat.exact"),
    ('LXV.PLAN(A1:B4;D1:E4;"fats[2].name")', "plan", _PLAN, "fats.2.name"),
    ('LXV.PLAN(A7:B9;D7:E15;"total_fats")', "plan", _POURED, "total_fats"),
    ('LXV.PLAN(A7:B9;D7:E15;"mould.state")', "plan", _POURED, "mould.state"),
    ('LXV.PLAN(A20:E22;D1:E4;"superfat_range.low")', "plan", {**_PLAN, "fats": _OWN},
     "superfat_range.low"),
    ('LXV.ASSURE(A1:B4;D1:E4;G1:I3;"worst.superfat")', "assure",
     {"plan": _PLAN, "floor": 1, "tolerances": {"weighing_error": 1, "naoh_purity": [97, 99.5]}},
     "worst.superfat"),
    ('LXV.ASSURE(A1:B4;D1:E4;;"worst.superfat")', "assure", {"plan": _PLAN}, "worst.superfat"),
    ('LXV.ASSURE(A1:B4;D1:E4;;"lye_heavy_possible")', "assure", {"plan": _PLAN},
     "lye_heavy_possible"),
    ('LXV.FILL(A7:B9;D7:E15;"scale_to_fill")', "fill", {"batter": {"plan": _POURED}},
     "scale_to_fill"),
    ("LXV.NAOH(A1:B4;5)", "plan", _NAOH, "naoh_mass"),
    ("LXV.NAOH(A1:B4;5;98.5;0.1)", "plan",
     {**_NAOH, "alkali": {"naoh_purity": 98.5}, "scale_step": 0.1}, "naoh_mass"),
    ("LXV.KOH(A1:B4;5;90)", "plan",
     {**_NAOH, "alkali": {"koh_share": 100, "koh_purity": 90}}, "koh_mass"),
    ("LXV.SUPERFAT(A1:B4;130;98)", "audit",
     {"fats": _FATS, "alkalis": [{"alkali": "naoh", "mass": 130, "purity": 98}]}, "superfat"),
    ("LXV.SUPERFAT(A1:B4;100;98;40;90)", "audit",
     {"fats": _FATS, "alkalis": [{"alkali": "naoh", "mass": 100, "purity": 98},
                                 {"alkali": "koh", "mass": 40, "purity": 90}]}, "superfat"),
    ("LXV.WATER(130.5;31.5;0.5)", "plan",
     {"fats": [{"fat": {"name": "x", "naoh_per_gram": 0.1305}, "mass": 1000}], "superfat": 0,
      "water": {"lye_concentration": 31.5}, "scale_step": 0.5}, "water_mass"),
    ('LXV.FAT("olive oil")', "fats", {"fat": "olive oil"}, "fats.0.saponification_value"),
    ('LXV.FAT("lard";"saponification_range.low")', "fats", {"fat": "lard"},
     "fats.0.saponification_range.low"),
    ('LXV.FAT("olive oil";"inci")', "fats", {"fat": "olive oil"}, "fats.0.inci"),
    ('LXV.CONVERT("2 lb 3.5 oz";"g")', "convert", {"quantity": "2 lb 3.5 oz", "to": "g"},
     "quantity"),
    ('LXV.CONVERT(12.5;"g";"oz")', "convert", {"quantity": "12.5 oz", "to": "g"}, "quantity"),
    ('LXV.CALL("convert";"{""quantity"":""1/3 lb"",""to"":""oz""}";"quantity.exact")', "convert",
     {"quantity": "1/3 lb", "to": "oz"}, "quantity.exact"),
    ('LXV.CALL("assure";{"plan.fats[0].fat";"lard"|"plan.fats[0].mass";500|"plan.superfat";3|'
     '"plan.water.of_fats";30};"worst.superfat")', "assure",
     {"plan": {"fats": [{"fat": "lard", "mass": 500}], "superfat": 3, "water": {"of_fats": 30}}},
     "worst.superfat"),
]


# Formula, operation, request whose faults the cell tells; `row` translates places of fats.
FAULTY = [
    ('LXV.PLAN(A7:B9;D1:E4;"naoh_mass")', "plan", {**_PLAN, "fats": _SHARES}),
    ('LXV.NAOH(A1:B4;"5,5")', "plan", {**_NAOH, "superfat": "5,5"}),
    ("LXV.NAOH(A1:B4;120)", "plan", {**_NAOH, "superfat": 120}),
    ('LXV.FAT("olve oil")', "fats", {"fat": "olve oil"}),
    ('LXV.CONVERT("5 g";"cm")', "convert", {"quantity": "5 g", "to": "cm"}),
    ('LXV.CALL("plane";"{}")', "plane", {}),
    ('LXV.ASSURE(A7:B9;D1:E4;;"worst.superfat")', "assure", {"plan": {**_PLAN, "fats": _SHARES}}),
]

# Formula and a piece of the text that the cell shows.
TOLD = [
    ('LXV.NAOH({"olive oil";500|"olve oil";100};5)', "fats, row 2, fat: \"olve oil\" is no fat"),
    ('LXV.NAOH({"fat";"mass"|"olive oil";500|"lard";"10 stone"};5)', "fats, row 3, mass: "),
    ("LXV.NAOH(A1:B4;0.05)", "if you meant 5 %"),
    ("LXV.NAOH(A1:B4)", "superfat: this is missing"),
    ("LXV.NAOH(A1:A4;5)", "one column is not enough"),
    ("LXV.NAOH(Z1:Z4;5)", "fats: "),
    ('LXV.NAOH({"fat";"wt"|"olive oil";500};5)', '"wt" is not a heading'),
    ('LXV.PLAN(A1:B4;D1:E4;"naoh")', 'the answer has no "naoh"'),
    ('LXV.PLAN(A1:B4;D1:E4;"fats[7].mass")', 'the answer has no "fats[7].mass"'),
    ('LXV.PLAN(A1:B4;{"superfat";5|"water";5|"water.of_fats";30})', "does not fit to a row above"),
    ('LXV.PLAN(A1:B4;{"superfat";5|"superfat";6})', "stands here twice"),
    ('LXV.PLAN(A1:B4;{"super fat";5})', "is not a place"),
    ('LXV.PLAN(A1:B4;{"superfatt";5})', "superfatt"),
    ("LXV.PLAN(A1:B4;D1:E4;;2.5)", "a whole number"),
    ('LXV.WATER(130;"33 %")', "lye_concentration: accepted: a number"),
    ("LXV.WATER(130;133)", "lye concentration"),
    ('LXV.CALL("plan";"{")', "JSON"),
    ("LXV.FAT()", "fat: accepted"),
    ("LXV.FAT(Z1)", "fat: accepted"),
    ('LXV.CONVERT("10 oz")', "to: this is missing"),
]
