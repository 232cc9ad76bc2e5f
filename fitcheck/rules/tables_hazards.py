"""Which numbers say how hands, eyes, lungs and an old house are looked after, and who says so?"""

from fitcheck.rules.tables_structure import Sourced, house

GLOVE_CUT_GRAMS = Sourced(
    {
        "A1": 200,
        "A2": 500,
        "A3": 1000,
        "A4": 1500,
        "A5": 2200,
        "A6": 3000,
        "A7": 4000,
        "A8": 5000,
        "A9": 6000,
    },
    "g on the blade by ASTM F2992, from which a glove has its level",
    "isea105",
    "cut levels",
    "published",
)
GLOVE_LEAST_GRAMS = house(1500, "g on the blade, for panes with bare edges")
EYE_MARK = Sourced("Z87.1", "mark on the eyewear", "eye", "(b)(1)", "published")
PIPES_UPC = Sourced("1 in", "in from the edge of the stud", "upc", "312.9", "published")
PIPES_IMC = Sourced("1 1/2 in", "in from the edge of the stud", "imc", "305", "published")
FLAT_STUD = Sourced(
    "1 1/2 in", "in that a partition's stud may be deep, laid flat", "irc", "R602.5", "published"
)
SILICA_INDOORS = Sourced(
    "Indoors draw the air off as well, so that no visible dust builds up (29 CFR 1926.1153 (c)(2)(i)).",
    "-",
    "silica",
    "(c)(2)(i)",
    "published",
)
LEAD_MINOR_REPAIR = Sourced(
    {"room": 6, "outside": 20}, "ft2 of painted surface", "lead", "745.83", "published"
)
TILE_BACKERS = Sourced(
    {"glass-mat board": "C1178", "fibre-cement": "C1288", "cement board": "C1325"},
    "ASTM",
    "irc",
    "R702.4.2",
    "published",
)
