"""Which numbers rule over a pane: tolerances, bow, gaps, safety marks, the compartment around it?"""

from fitcheck.rules.tables_structure import Sourced, house, nm

C1036_MOST_THICKNESS = Sourced(
    {nm("6 mm"): nm("6.2 mm"), nm("8 mm"): nm("8.43 mm"), nm("10 mm"): nm("10.31 mm")}
    | {nm("12 mm"): nm("13.49 mm")},
    "nominal nm: nm",
    "c1036",
    "table of thickness",
    "from memory",
)
EN572_THICKNESS = Sourced(
    (
        (nm("6 mm"), nm("0.2 mm")),
        (nm("12 mm"), nm("0.3 mm")),
        (nm("15 mm"), nm("0.5 mm")),
        (nm("25 mm"), nm("1 mm")),
    ),
    "nominal nm up to, nm either way",
    "en572_2",
    "table of thickness",
    "from memory",
)
C1048_SIZE = Sourced(
    (
        (nm("6 mm"), nm("1/16 in")),
        (nm("8 mm"), nm("2 mm")),
        (nm("10 mm"), nm("2.4 mm")),
        (nm("1/2 in"), nm("3.2 mm")),
    ),
    "nominal nm up to, nm either way; from memory above 6 mm",
    "temperer",
    "cut size",
    "from memory",
)
C1048_SQUARE = Sourced(
    (nm("6 mm"), nm("5/64 in")), "nominal nm up to, nm", "temperer", "squareness", "published"
)
C1048_BOW_10 = Sourced(
    (
        (nm("900 mm"), nm("2 mm")),
        (nm("1200 mm"), nm("3 mm")),
        (nm("1500 mm"), nm("4 mm")),
        (nm("1800 mm"), nm("5 mm")),
        (nm("2000 mm"), nm("6 mm")),
        (nm("2300 mm"), nm("7 mm")),
    ),
    "edge nm up to, nm, 10 mm glass",
    "c1048",
    "overall bow",
    "from memory",
)
C1048_BOW_LOCAL = Sourced(
    (nm("1/16 in"), nm("12 in")), "nm, over nm", "c1048", "local bow", "published"
)
C1048_MOST_DIAMETER = Sourced((1, 3), "of the narrow side", "c1048", "holes", "published")
C1048_NOTCH_RADIUS = Sourced(1, "thicknesses", "c1048", "notches", "published")
C1048_LOCATION = Sourced(nm("1/16 in"), "nm either way", "c1048", "holes", "published")
EN12150_LOCATION = Sourced(
    ((nm("20 mm"), nm("1 mm")), (nm("100 mm"), nm("2 mm"))),
    "diameter nm up to, nm either way",
    "en12150",
    "7.4",
    "from memory",
)
EN12150_SIZE = Sourced(
    (
        (nm("2000 mm"), nm("2 mm"), nm("3 mm")),
        (nm("3000 mm"), nm("3 mm"), nm("4 mm")),
        (nm("100 m"), nm("4 mm"), nm("5 mm")),
    ),
    "side nm up to; nm either way to 8 mm thick, thicker",
    "en12150",
    "table 2",
    "from memory",
)
EN12150_SQUARE = Sourced(
    (
        (nm("2000 mm"), nm("4 mm"), nm("6 mm")),
        (nm("3000 mm"), nm("6 mm"), nm("8 mm")),
        (nm("100 m"), nm("8 mm"), nm("10 mm")),
    ),
    "side nm up to; nm to 8 mm thick, thicker",
    "en12150",
    "table 3",
    "from memory",
)
EN12150_THIN = Sourced(nm("8 mm"), "nm", "en12150", "tables 2 and 3", "from memory")
EN12150_BOW = Sourced((3, 1000), "of the side", "en12150", "6.2", "from memory")
EN12150_BOW_LOCAL = Sourced(
    (nm("0.3 mm"), nm("300 mm")), "nm, over nm", "en12150", "6.2", "from memory"
)
EN12150_FRAGMENTS = Sourced(40, "in 50 mm by 50 mm", "en12150", "8", "from memory")

TEMPERED_COMPRESSION = Sourced(
    {"tempered": (69, None), "heat_strengthened": (24, 52)}, "MPa", "c1048", "kinds", "published"
)
GLASS_STRENGTH = Sourced(
    {
        "annealed": 45,
        "heat_strengthened": 70,
        "tempered": 120,
        "tempered_patterned": 90,
        "tempered_enamelled": 75,
    },
    "MPa",
    "en572",
    "characteristic bending strength",
    "published",
)
GLASS_E = Sourced(70, "GPa", "en572", "5.1", "published")

SQUARE_WITHIN = house(2, "degrees of a right angle")
LEAST_GAP = house(nm("1/16 in"), "nm, glass to anything")
NARROW_WEB = house(6, "thicknesses of glass beside a notch, else the temperer is asked")
LEAST_FACE_GAP = house(nm("1/16 in"), "nm, face to face of sliding panels")
LEAST_OVERLAP = house(nm("1 in"), "nm, sliding panels")

ACCESS_WIDTH = Sourced(nm("22 in"), "nm", "irc", "P2708.1.1", "published")
COMPARTMENT = Sourced(
    {"square_inches": 900, "disc": nm("30 in"), "kept_up_to": nm("70 in")},
    "in2, nm, nm above the drain",
    "irc",
    "P2708.1",
    "published",
)
DOOR_SWINGS = Sourced(
    {"outward": True, "both": True, "slides": True, "inward": False},
    "whether one who has fallen can be reached",
    "irc",
    "P2708.1",
    "published",
)
CURB_HEIGHT = Sourced((nm("2 in"), nm("9 in")), "nm above the drain", "irc", "P2709.1", "published")
CURB_BELOW_SIDES = Sourced(nm("1 in"), "nm", "irc", "P2709.1", "published")
FLOOR_SLOPE = Sourced((2, 4), "parts of 96: 1/4 to 1/2 in in 12", "irc", "P2709.1", "published")
CURB_TOP_SLOPE = Sourced((1, 48), "1/4 in in 12", "tcna", "shower receptors", "from memory")
ADA_THRESHOLD = Sourced(
    {"new": nm("1/2 in"), "existing_transfer": nm("2 in")}, "nm", "ada", "608.7", "published"
)
ADA_ROLL_IN = Sourced(
    {"width": nm("60 in"), "depth": nm("30 in"), "entry": nm("60 in")},
    "nm",
    "ada",
    "608.2.2",
    "published",
)
HAZARD_EDGE = Sourced(nm("60 in"), "nm above the floor", "irc", "R308.4.5", "published")
HAZARD_AWAY = Sourced(nm("60 in"), "nm from the water's edge", "irc", "R308.4.5", "published")
MARK_SMALL_PANE = Sourced(1, "ft2", "irc", "R308.1.1", "published")
DROP_HEIGHTS = Sourced(
    {"A": nm("48 in"), "B": nm("18 in")}, "nm, a bag of 100 lb", "z97", "impact", "published"
)
DROP_BAG = Sourced(100, "lb", "z97", "impact", "published")
DROP_EN12600 = Sourced(
    {1: nm("1200 mm"), 2: nm("450 mm"), 3: nm("190 mm")}, "nm", "en12600", "classes", "published"
)
DROP_CLASS_OF_CATEGORY = Sourced(
    {"I": "B", "II": "A"}, "class", "cpsc1201", "1201.2, by Z97.1", "published"
)
