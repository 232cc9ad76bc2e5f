"""Which numbers decide on mistakes, bows, the chance of the whole and the rank of kits?"""

from dataclasses import dataclass

from fitcheck.rules.length import length_parse
from fitcheck.rules.sources import Source
from fitcheck.rules.sources_shape import shape_source
from fitcheck.rules.tables import Constant, Value


@dataclass(frozen=True, slots=True)
class Sourced(Constant[Value]):
    """A number whose document stands in the sources of the opening's shape."""

    @property
    def source(self) -> Source:
        """Return the source as it is printed beside the number."""
        return shape_source(self.document, self.status, self.clause)


def _nm(text: str) -> int:
    return length_parse(text).nm


def _house(value: Value, unit: str) -> Sourced[Value]:
    return Sourced(value, unit, "house", "settings", "house setting")


SNOOPING_ALPHA = Sourced(0.001, "two-sided", "snooping", "alpha 0.001", "published")
SNOOPING_POWER = Sourced(0.80, "-", "snooping", "power 80 %", "published")
CONSISTENCY_ALPHA = _house(0.001, "chance of a false alarm")
BOW_ALPHA = _house(0.05, "chance of a bow that is none")
BOW_PLAUSIBLE = _house(_nm("3/8 in"), "nm, both walls together")
BOW_USUAL = _house(1.0, "mm standard deviation of a bow midway, both walls together")
BOW_DOUBTFUL = _house(_nm("3/16 in"), "nm, both walls together, told by one width alone")
STATION_MARK = _house(0.7, "mm standard uncertainty of a height marked on a wall")
LEAST_REDUNDANCY = _house(0.02, "share of a mistake that shows; less is not checkable")
TELL_APART_ODDS = _house(20.0, "to one")
RANK_TOLERANCE = _house(0.005, "of the largest singular value")
CONVERGED = _house(1e-7, "mm")
MOST_STEPS = _house(20, "steps")

COARSEST_MARK = _house(_nm("1 in"), "nm between two marks of a tool")
HOOK_TRAVEL = Sourced(
    _nm("1/16 in"),
    "nm",
    "trade",
    "a hook slides by its own thickness",
    "common practice, no source",
)
MISTAKE_WEIGHTS = _house(
    {
        "burned inch": 3.0,
        "burned 10 cm": 3.0,
        "burned 1 cm": 2.0,
        "an inch miscounted": 1.0,
        "a foot miscounted": 0.5,
        "a centimetre miscounted": 1.0,
        "an eighth for a sixteenth": 2.0,
        "a sixteenth for an eighth": 2.0,
        "one mark off": 1.0,
        "swapped digits": 2.0,
        "left for right": 2.0,
        "wrong way": 2.0,
        "centimetres for inches": 1.0,
        "inches for centimetres": 1.0,
        "hook pushed": 1.0,
        "hook pulled": 1.0,
    },
    "relative weight of a kind of mistake",
)
REPEATED_MISTAKE = _house(0.5, "weight of a mistake in all readings of a place, against one in one")
UNKNOWN_MISTAKE_WEIGHT = _house(3.0, "relative weight of a mistake of any size")
UNKNOWN_MISTAKE_REACH = _house(100.0, "mm, either way")
LEAST_MISTAKE = _house(_nm("1/4 in"), "nm, the least mistake that must not go unnoticed")
LEAST_ODDS = _house(15.0, "to one against chance, from which a mistake is believed")
MISTAKE_EXPLAINS = _house(2.5, "standard uncertainties between the residual and the mistake")

CHANCE_DRAWS = _house(20_000, "draws")
CHANCE_SEED = _house(20_251, "seed, so that the same verdict has the same chance")
NUDGE = _house(10_000, "nm by which a reading is moved to see what follows")
USUAL_TOOL_CLASS = _house("II", "class of the tape that one more reading is taken with")
USUAL_GRADUATION = _house("1/16 in", "graduation of the tape that one more reading is taken with")
BEST_TAPE_CLASS = _house("I", "class of the best tape that a reading could be taken with")
BEST_GRADUATION = _house("1/32 in", "graduation of the best tape")
USUAL_LEVEL_GRADUATION = _house("1/32 in", "graduation of the level for one more reading")
MOST_KITS_ASKED = _house(20, "kits whose reasons are told at once")
