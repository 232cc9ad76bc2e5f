"""Which numbers say whether a screw, an anchor or a bracket holds, and who says so?"""

from fitcheck.rules.tables_structure import Sourced, house, nm, trade

WOOD_GRAVITY = Sourced(
    {
        "southern_pine": 0.55,
        "douglas_fir_larch": 0.50,
        "douglas_fir_larch_north": 0.49,
        "douglas_fir_south": 0.46,
        "hem_fir": 0.43,
        "spruce_pine_fir": 0.42,
        "spruce_pine_fir_south": 0.36,
        "western_woods": 0.36,
        "eastern_softwoods": 0.36,
        "northern_species": 0.35,
        "northern_white_cedar": 0.31,
        "red_oak": 0.67,
        "white_oak": 0.73,
    },
    "oven-dry specific gravity",
    "nds",
    "table 12.3.3A",
    "published",
)
GRAVITY_WHEN_UNKNOWN = house(0.36, "oven-dry specific gravity")

DOWEL_BEARING_SMALL = Sourced(
    {"factor": 16600, "power": 1.84, "rounded_to": 50}, "psi", "nds", "table 12.3.3", "published"
)
DOWEL_BEARING_PARALLEL = Sourced(11200, "psi", "nds", "table 12.3.3", "published")
DOWEL_BEARING_PERPENDICULAR = Sourced(
    {"factor": 6100, "power": 1.45}, "psi", "nds", "table 12.3.3", "published"
)
DOWEL_BEARING_BRACKET = Sourced(
    {"steel": 61850, "aluminium": 30250},
    "psi, 1.375 times the least ultimate strength",
    "nds12k",
    "table 12K, aluminium 6063-T5 by the same ratio",
    "derived",
)
KD_SMALL = Sourced(
    {"up_to": 0.17, "least": 2.2, "slope": 10, "plus": 0.5, "below": 0.25},
    "in, -",
    "nds",
    "table 12.3.1B",
    "published",
)
RD_LARGE = Sourced(
    {"I": 4.0, "II": 3.6, "III": 3.2, "IV": 3.2}, "-", "nds", "table 12.3.1B", "published"
)
BENDING_YIELD_WOOD_SCREW = Sourced(
    ((0.142, 100_000), (0.177, 90_000), (0.236, 80_000), (0.273, 70_000)),
    "nominal in up to, psi",
    "nds",
    "table I1",
    "from memory",
)
LAG_TIP = Sourced(
    {"1/4 in": nm("5/32 in"), "5/16 in": nm("3/16 in"), "3/8 in": nm("7/32 in")},
    "nominal: nm",
    "nds",
    "appendix L2",
    "from memory",
)
LAG_THREAD_BEYOND_HALF = Sourced(nm("1/2 in"), "nm", "nds", "appendix L2", "from memory")
LAG_SCREWS = Sourced(
    {"1/4 in": (0.173, 70_000), "5/16 in": (0.227, 60_000), "3/8 in": (0.265, 45_000)},
    "nominal: root in, psi",
    "nds12k",
    "table 12K",
    "published",
)
PENETRATION_DIAMETERS = Sourced(
    {"full": 10, "wood_screw": 6, "lag": 4, "lag_full": 8, "tip": 2},
    "diameters",
    "nds",
    "12.1.4, 12.1.5",
    "from memory",
)
THREAD_SHARE_OF_LENGTH = Sourced((2, 3), "of length", "nds", "appendix L3", "from memory")
THREAD_LEAST_DIAMETERS = Sourced(4, "diameters", "nds", "appendix L3", "from memory")
LOAD_DURATION = Sourced(
    {
        "permanent": 0.9,
        "ten_years": 1.0,
        "two_months": 1.15,
        "seven_days": 1.25,
        "ten_minutes": 1.6,
    },
    "-",
    "nds",
    "table 2.3.2",
    "from memory",
)
END_GRAIN_LAG = Sourced(
    {"out": 0.75}, "of the value in side grain", "nds", "12.2.1, Ceg", "published"
)
END_GRAIN_LATERAL = Sourced(0.67, "of the value in side grain", "nds", "12.5.2, Ceg", "from memory")
END_GRAIN_WOOD_SCREW = Sourced(0, "no pull at all", "nds", "12.2.2", "published")
WET_SERVICE = Sourced(0.7, "-", "nds", "table 11.3.3", "from memory")
ROOT_TENSION_SHARE = house(0.33, "of the bending yield, on the root area")

EDGE_DIAMETERS = Sourced(
    {
        "edge": 2.5,
        "end_lead_hole": 10,
        "end": 15,
        "along_lead_hole": 10,
        "along": 15,
        "across_lead_hole": 5,
        "across": 10,
        "rows_lead_hole": 3,
        "rows": 5,
    },
    "diameters",
    "nds",
    "commentary table C12.1.5.7",
    "from memory",
)
EDGE_DIAMETERS_LAG = Sourced(1.5, "diameters", "nds", "table 12.5.1C", "from memory")
EDGE_DIAMETERS_LAG_ACROSS = Sourced(4.0, "diameters", "nds", "table 12.5.1C", "from memory")
STUD_FACE = Sourced(nm("1 1/2 in"), "nm", "nds", "PS 20 dressed sizes", "published")

STEEL_OMEGA = Sourced(3.0, "-", "s100", "J4", "published")
STEEL_SHEAR = Sourced({"tilting": 4.2, "bearing": 2.7}, "-", "s100", "J4.3.1", "published")
STEEL_SHEAR_RATIO = Sourced((1.0, 2.5), "t2/t1", "s100", "J4.3.1", "published")
STEEL_PULL_OUT = Sourced(0.85, "-", "s100", "J4.4.1", "published")
STEEL_PULL_OVER = Sourced(1.5, "-", "s100", "J4.4.2", "published")
STEEL_WASHER_MOST = Sourced(0.75, "in", "s100", "J4.4.2", "from memory")
STEEL_OFF_CENTRE = Sourced(0.5, "of pull-over", "s100", "J4.4.2", "published")
STEEL_INTERACTION = Sourced(
    {"over": (0.71, 1.10, 2.35), "out": (1.0, 1.15, 2.55)},
    "factor on T, limit, divisor",
    "s100",
    "J4.5",
    "from memory",
)
STEEL_SCREW_STRENGTH = Sourced(
    {6: (643, 419), 8: (1278, 586), 10: (1644, 1158), 12: (2330, 2325), 14: (3048, 3201)},
    "nominal lb: shear, tension",
    "cfsei",
    "F701-12 tables",
    "published",
)
STEEL_HEAD = Sourced(
    {8: 0.272, 10: 0.340, 12: 0.340}, "in", "ssma", "load tables for screws", "published"
)
STEEL_DESIGN_THICKNESS = Sourced(
    {
        18: 0.0188,
        27: 0.0283,
        30: 0.0312,
        33: 0.0346,
        43: 0.0451,
        54: 0.0566,
        68: 0.0713,
        97: 0.1017,
    },
    "mils: in",
    "ssma",
    "design thickness",
    "from memory",
)
STEEL_FLANGE = Sourced(nm("1 1/4 in"), "nm", "ssma", "narrowest stud flange, S125", "from memory")
STEEL_LEAST_MILS = house(30, "mils")
STEEL_STRENGTH_WHEN_UNKNOWN = house({30: 33_000, 33: 45_000}, "from mils: psi")
STEEL_SPACING = Sourced(
    {"spacing": 3.0, "edge": 1.5, "threads": 3}, "diameters, threads", "s100", "J4.1", "published"
)
STEEL_THREADS_PER_INCH = trade({8: 18, 10: 16, 12: 14}, "1/in, self-drilling screws")
STEEL_POINT = trade(nm("0.21 in"), "nm, point no. 3 of a self-drilling screw")

ANCHOR_THUMB = Sourced(
    {"spacing": 10, "edge": 5},
    "diameters",
    "trade",
    "a supplier's note",
    "common practice, no source",
)
ANCHOR_TOGETHER = Sourced(
    {"small": 0.2, "sum": 1.2, "power": 5 / 3},
    "share of the allowed load, exponent",
    "aci318",
    "17.8.2, 17.8.3, R17.8",
    "published",
)
ANCHOR_HOLE_BEYOND = trade(nm("1/2 in"), "nm")
FACE_SHELL = Sourced(
    {
        nm("3 in"): nm("3/4 in"),
        nm("4 in"): nm("3/4 in"),
        nm("6 in"): nm("1 in"),
        nm("8 in"): nm("1 1/4 in"),
    },
    "nominal nm: nm",
    "c90",
    "minimum face shell",
    "from memory",
)
HEAD_JOINT_CLEAR = trade(nm("1 1/2 in"), "nm")

BRACKET_WHEN_NOT_TOLD = house((nm("1/16 in"), "aluminium"), "nm, metal")
SLAM_FACTOR = house("2", "on the moving part")
TIGHT_FROM = house(0.9, "of the capacity")
GRAVITY_N_PER_KG = Sourced(9.80665, "m/s2", "sp811", "standard acceleration", "published")
LBF_IN_NEWTON = Sourced(4.4482216152605, "N", "sp811", "appendix B", "published")

ALUMINIUM_E = Sourced(10.0e6, "psi", "alloy", "6063 typical", "published")
ALUMINIUM_YIELD = Sourced(
    {"6063-T5": 16_000, "6063-T6": 25_000}, "psi, wall to 1/2 in", "alloy", "minimum", "published"
)
ALUMINIUM_YIELD_THICK = Sourced(
    {"from": 0.5, "psi": 15_000},
    "in, psi: 6063-T5 thicker than that; T6, of which nobody read it, no more",
    "alloy",
    "minimum",
    "published",
)
ALUMINIUM_DENSITY = Sourced(0.0975, "lb/in3", "alloy", "6063", "published")
ALUMINIUM_ULTIMATE = Sourced(22_000, "psi, 6063-T5", "alloy", "minimum", "published")
ALUMINIUM_SAFETY = Sourced(1.65, "-", "adm", "bending on yield", "from memory")
RAIL_SAG_SPAN = house(360, "span divided by")
RAIL_CLEAR_LEFT = house(nm("1/16 in"), "nm")
BRACKET_SAG_STEPS = house(60, "sections along a rail")
