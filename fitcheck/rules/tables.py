"""Which number is used where, and who says so?

Every constant of the rules stands here with its source, clause and status; a bare number in a
rule is a defect. Lengths are whole nanometres unless the unit says otherwise.
"""

from dataclasses import dataclass
from typing import Generic, TypeVar

from fitcheck.rules.length import length_parse
from fitcheck.rules.sources import Source, Status, source

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Constant(Generic[Value]):
    """A number, or a small table, with its unit and its source."""

    value: Value
    unit: str
    document: str
    clause: str
    status: Status

    @property
    def source(self) -> Source:
        """Return the source as it is printed beside the number."""
        return source(self.document, self.status, self.clause)


def _nm(text: str) -> int:
    return length_parse(text).nm


def _house(value: Value, unit: str) -> Constant[Value]:
    return Constant(value, unit, "house", "settings", "house setting")


def _trade(value: Value, unit: str) -> Constant[Value]:
    return Constant(value, unit, "trade", "common practice", "common practice, no source")


def _c1048(value: Value, unit: str) -> Constant[Value]:
    return Constant(value, unit, "c1048", "holes, as two restatements agree", "published")


TAPE_A_B_C = Constant(
    {"I": (0.1, 0.1, 0.1), "II": (0.3, 0.2, 0.2), "III": (0.6, 0.4, 0.3)},
    "mm, mm/m, mm",
    "mid",
    "paragraph 2",
    "published",
)
TAPE_HANDBOOK_44 = Constant(
    (
        (_nm("6 ft"), _nm("1/32 in")),
        (_nm("30 ft"), _nm("1/16 in")),
        (_nm("55 ft"), _nm("1/8 in")),
        (_nm("80 ft"), _nm("3/16 in")),
        (_nm("100 ft"), _nm("1/4 in")),
    ),
    "nm up to, nm",
    "hb44",
    "5.52",
    "published",
)
HANDBOOK_44_BEYOND = _house(_nm("1/2 in"), "nm half-width")
UNMARKED_TAPE_TIMES_CLASS_III = _house(2, "-")
TOOL_HALF_WIDTH = _house({"laser": 1.5, "level": 0.0, "square": 1.0, "other": 3.0}, "mm")
LEVEL_HALF_WIDTH_PER_METRE = _house(0.5, "mm/m")
LEVEL_RUN_WHEN_NOT_SAID = _house(
    {"sill_level": _nm("2 m"), "sill_fall": _nm("200 mm")}, "nm the level spans"
)
LEVEL_RUN = _house(_nm("1 m"), "nm the level spans, for anything else")
READING_REPEATABILITY = _house(0.5, "mm standard uncertainty")
GUARD_FACTOR = _house("1.645", "standard uncertainties")
AGREEMENT_FACTOR = _house("2", "standard uncertainties")
MARK = _house(16, "parts of an inch")
SAME_HEIGHT = _house(_nm("2 in"), "nm")
WIDTH_FAR_FROM_OTHERS = _house(_nm("6 in"), "nm")
EXTRAPOLATION = _house(_nm("6 in"), "nm")
EXTRAPOLATION_GROWTH = _house(0.01, "mm standard uncertainty per mm beyond")

GLASS_DENSITY = Constant(2500, "kg/m3", "en572", "5.1", "published")
GLASS_THICKNESS = Constant(
    {
        "3/32 in": ("2.5 mm", "0.085 in"),
        "7/64 in": ("2.7 mm", "0.102 in"),
        "1/8 in": ("3 mm", "0.115 in"),
        "5/32 in": ("4 mm", "0.149 in"),
        "3/16 in": ("5 mm", "0.180 in"),
        "1/4 in": ("6 mm", "0.219 in"),
        "5/16 in": ("8 mm", "0.292 in"),
        "3/8 in": ("10 mm", "0.355 in"),
        "1/2 in": ("12 mm", "0.469 in"),
        "3/4 in": ("19 mm", "0.719 in"),
    },
    "label: nominal, least",
    "c1036",
    "table of nominal and minimum thickness",
    "published",
)
C1048_DIAMETER_OVER_THICKNESS = _c1048(_nm("1/16 in"), "nm")
C1048_LEAST_DIAMETER = _c1048(_nm("1/4 in"), "nm")
C1048_LEAST_TO_EDGE = _c1048(_nm("1/4 in"), "nm")
C1048_LEAST_BETWEEN = _c1048(_nm("3/8 in"), "nm")
C1048_THICKNESSES = _c1048({"edge": (2, 1), "between": (2, 1), "corner": (13, 2)}, "thicknesses")
EN12150_HOLE = Constant(
    {"thicknesses of diameter": 1, "thicknesses to edge": 2, "thicknesses to corner": 6},
    "thicknesses",
    "en12150",
    "7.4",
    "from memory",
)
CPSC_CATEGORY_AREA_SQ_FT = Constant(9, "ft2", "cpsc1201", "1201.2(a)(3)-(4)", "published")

NIOSH_LOAD_CONSTANT = Constant({"metric": 23.0, "us": 51.0}, "kg, lb", "niosh", "p. 7", "published")
NIOSH_HORIZONTAL = Constant(
    {"metric": (25.0, 63.0), "us": (10.0, 25.0)}, "cm, in", "niosh", "p. 7", "published"
)
NIOSH_VERTICAL = Constant(
    {"metric": (0.003, 75.0, 175.0), "us": (0.0075, 30.0, 70.0)},
    "cm, in",
    "niosh",
    "p. 7",
    "published",
)
NIOSH_DISTANCE = Constant(
    {"metric": (4.5, 25.0, 175.0), "us": (1.8, 10.0, 70.0)}, "cm, in", "niosh", "p. 7", "published"
)
NIOSH_DISTANCE_BASE = Constant(0.82, "-", "niosh", "p. 7", "published")
NIOSH_ASYMMETRY = Constant((0.0032, 135.0), "1/deg, deg", "niosh", "p. 7", "published")
NIOSH_COUPLING = Constant(
    {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.9, 0.9)},
    "low lift, high lift",
    "niosh",
    "table 7",
    "published",
)
NIOSH_FREQUENCY = Constant(
    (
        (0.2, (1.00, 1.00, 0.95, 0.95, 0.85, 0.85)),
        (0.5, (0.97, 0.97, 0.92, 0.92, 0.81, 0.81)),
        (1, (0.94, 0.94, 0.88, 0.88, 0.75, 0.75)),
        (2, (0.91, 0.91, 0.84, 0.84, 0.65, 0.65)),
        (3, (0.88, 0.88, 0.79, 0.79, 0.55, 0.55)),
        (4, (0.84, 0.84, 0.72, 0.72, 0.45, 0.45)),
        (5, (0.80, 0.80, 0.60, 0.60, 0.35, 0.35)),
        (6, (0.75, 0.75, 0.50, 0.50, 0.27, 0.27)),
        (7, (0.70, 0.70, 0.42, 0.42, 0.22, 0.22)),
        (8, (0.60, 0.60, 0.35, 0.35, 0.18, 0.18)),
        (9, (0.52, 0.52, 0.30, 0.30, 0.0, 0.15)),
        (10, (0.45, 0.45, 0.26, 0.26, 0.0, 0.13)),
        (11, (0.41, 0.41, 0.0, 0.23, 0.0, 0.0)),
        (12, (0.37, 0.37, 0.0, 0.21, 0.0, 0.0)),
        (13, (0.0, 0.34, 0.0, 0.0, 0.0, 0.0)),
        (14, (0.0, 0.31, 0.0, 0.0, 0.0, 0.0)),
        (15, (0.0, 0.28, 0.0, 0.0, 0.0, 0.0)),
    ),
    "lifts/min: <=1 h low, high; <=2 h low, high; <=8 h low, high",
    "niosh",
    "table 5",
    "published",
)
LIFT_REFERENCE_MASS_KG = Constant(25, "kg", "iso11228", "annex C", "from memory")
LIFT_TEAM_FACTOR = Constant(0.85, "-", "iso11228", "two-person lift", "from memory")
LIFT_TEAM_OF_ISO = Constant(2, "people", "iso11228", "two-person lift", "from memory")
LIFT_SHARE_HSE = Constant({2: (2, 3), 3: (1, 2)}, "share of sum", "hse_l23", "120", "published")
LIFT_LARGEST_TEAM = _house(4, "people")
LEAST_HANDS = _trade(2, "people")

SCREW_BASE_AND_STEP = Constant(
    (60, 13), "in/1000, in/1000", "b1861", "d = 0.060 + 0.013 n", "published"
)
SCREW_ROOT = Constant(
    {6: "0.113 in", 8: "0.131 in", 9: "0.142 in", 10: "0.152 in", 12: "0.171 in", 14: "0.196 in"},
    "in",
    "nds",
    "appendix L3",
    "from memory",
)
SCREW_STOCK_LENGTHS = _house(
    (
        "1 in",
        "1 1/4 in",
        "1 1/2 in",
        "1 3/4 in",
        "2 in",
        "2 1/4 in",
        "2 1/2 in",
        "3 in",
        "3 1/2 in",
    ),
    "in",
)
SCREW_WHEN_THE_BOX_HOLDS_NONE = _house("#10", "size")
LEAST_PENETRATION_DIAMETERS = Constant(6, "diameters", "nds", "12.1.5", "published")
WITHDRAWAL_WOOD_SCREW = Constant(2850, "lb/in", "nds", "12.2.2", "published")
WITHDRAWAL_LAG = Constant(1800, "lb/in", "nds", "12.2.1", "published")
LEAD_HOLE_PERCENT = Constant(
    {"dense": 90, "light": 70}, "% of root", "nds", "12.1.5", "from memory"
)

CLEARANCE_OVER_MAJOR = _trade(_nm("1/16 in"), "nm")
LAYER_MOST = _house(_nm("3 in"), "nm, finish or backing")
DENSE_WOOD = Constant(
    0.60, "oven-dry specific gravity, above it dense", "nds", "12.1.5", "from memory"
)
BIT_STEP = _trade(_nm("1/64 in"), "nm")
PROTECTED_ZONE = Constant("1 1/4 in", "in", "nec", "300.4(A)(1), (D)", "published")

TILE_PILOT = _trade("1/8 in", "in")
TILE_FINAL = _trade("1/4 in", "in")
TILE_ANCHOR = _trade("tile anchor", "-")
HOLLOW_PILOT = _trade("1/8 in", "in")
HOLLOW_FINAL = _trade("3/8 in", "in")
HOLLOW_ANCHOR = _trade("hollow-wall anchor", "-")
RIM_SPEED_FT_PER_MIN = Constant(30, "ft/min", "trade", "wet diamond bit", "from memory")
CARBIDE_SPEED_RPM = _trade((100, 200), "rpm")
DIAMOND_SPEED_RPM = Constant((300, 800), "rpm", "trade", "wet, 1/4 to 1/2 in", "from memory")

LEAD_BEFORE_YEAR = Constant(1978, "year built", "lead", "745.83", "published")
ASBESTOS_UP_TO_YEAR = Constant(1980, "year built", "asbestos", "1926.1101(b)", "published")
SILICA_ACTION_LEVEL = Constant(25, "ug/m3, 8 h", "silica", "(b)", "published")
SILICA_LIMIT = Constant(50, "ug/m3, 8 h", "silica", "(b)", "published")
SILICA_DRILL_ROW = Constant(
    "Use a drill with a commercial shroud or cowling and a dust collector at the tool maker's "
    "air flow, with a filter of 99 % or better and a filter-cleaning mechanism; use a HEPA "
    "vacuum when cleaning holes.",
    "-",
    "silica",
    "(c)(1) table 1 (vii)",
    "published",
)
