"""Which questions are answered and forgotten?"""

from fitcheck.checks.clock_questions import CLOCKS
from fitcheck.checks.cut_questions import SAW_MARK
from fitcheck.checks.glass_questions import GLASS, PANELS
from fitcheck.checks.kit_questions import CHANCE, KITS, LEAST_CHANGE
from fitcheck.checks.load_questions import HOLDING, RAIL
from fitcheck.checks.opening_questions import SHAPE
from fitcheck.checks.question import Question
from fitcheck.checks.site_questions import CARRYING, SEALANT, SHOWER_CODE

QUESTIONS: tuple[Question, ...] = (
    SHAPE,
    CHANCE,
    LEAST_CHANGE,
    KITS,
    SAW_MARK,
    HOLDING,
    RAIL,
    GLASS,
    PANELS,
    CARRYING,
    SEALANT,
    CLOCKS,
    SHOWER_CODE,
)
BY_ADDRESS = {one.address: one for one in QUESTIONS}
