"""Which numbers size a joint, count cartridges and say when silicone is dry, and who says so?"""

from fractions import Fraction

from fitcheck.rules.tables_site import Sited, house, nm

UM3_PER_ML = Sited(10**12, "um3/mL", "sp811", "appendix B", "published")
UM3_PER_FLUID_OUNCE = Sited(
    29_573_529_562_500, "um3/fl oz", "fluid_ounce", "appendix B, 231/128 in3", "derived"
)
CARTRIDGE = house("10.1 fl oz", "-")
WASTE_PERCENT = house("10", "%")

JOINT_CLASS_PERCENT = Sited(
    {"12.5": (12.5, 12.5), "25": (25, 25), "35": (35, 35), "50": (50, 50), "100/50": (100, 50)},
    "% of width opened, closed",
    "c920",
    "class",
    "published",
)
LEAST_JOINT = Sited(nm("6 mm"), "nm", "c1193", "joint geometry", "published")
LEAST_DEPTH = Sited(nm("6 mm"), "nm", "c1193", "joint geometry", "published")
MOST_DEPTH = Sited(nm("13 mm"), "nm", "c1193", "joint geometry", "published")
DEPTH_SHARE = Sited((1, 2), "depth over width", "c1193", "joint geometry", "published")

DEPTH_STRAYS = house(nm("1/16 in"), "nm by which a tooled depth may be off half the width")

EXPANSION_READ = Sited(
    {
        "aluminium": Fraction(24),
        "glass": Fraction(9),
        "acrylic": Fraction(75),
        "clay_tile": Fraction("5.9"),
        "brass": Fraction(19),
    },
    "1e-6/K",
    "expansion",
    "linear expansion",
    "published",
)
EXPANSION_OF_FIR = Sited(
    {
        "douglas_fir_along_grain": Fraction("3.8"),
        "douglas_fir_across_grain": 32 * Fraction(9, 5),
    },
    "1e-6/K: 2.1e-6/F and 32e-6/F; by heat alone, moisture moves wood more",
    "c1472",
    "linear expansion of Douglas fir",
    "published",
)
EXPANSION_REMEMBERED = Sited(
    {
        "stainless_steel": (Fraction("17.3"), Fraction("17.3")),
        "concrete": (Fraction(10), Fraction("14.5")),
        "timber_along_grain": (Fraction(3), Fraction(5)),
    },
    "1e-6/K, both ends of the range",
    "expansion",
    "linear expansion",
    "from memory",
)

ROOT_OF_TIME = Sited("depth = k sqrt(days)", "mm, d", "cure", "root of time", "from memory")
MOST_CURE_HOURS = house(2000, "h; what would cure longer is asked of the maker")
FIRST_SHOWER_STEP_MINUTES = house(15, "min, rounded up")
