"""One rehearsed survey: is its mistake caught on the spot, after one more reading, before the saw?"""

import random
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import cast

from fitcheck.rules.adjustment import CORRECTED, UNDECIDED, Shape, shape_adjust
from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, Length, length_parse
from fitcheck.rules.one_more_reading import reading_advised
from fitcheck.rules.plausible import implausible_widths
from fitcheck.rules.quadrilateral import observations
from fitcheck.rules.sawmark import saw_mark
from fitcheck.rules.sawmark_read import MarkAsked, Predicted
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import Reading, Survey, Tool, house_read
from fitcheck.rules.tables import READING_REPEATABILITY
from mistakes import KINDS, QUARTER, Planted, planted, written
from tests.fitcheck.rules import simulated_openings as bathroom

HEIGHTS = (0, bathroom.TOP_NM)
DEDUCT, HIDDEN = NM_PER_INCH // 4, NM_PER_INCH // 4
FINE = Tool("tape", "II", Length(NM_PER_INCH // 32, "1/32 in"), False)
HOUSE = house_read(Strict.open({}, ("house",), "", []))
BOW_MM = 1.0


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one survey and of the cut that followed from it."""

    kind: str
    quantity: str
    off_nm: int
    spot: bool
    located: bool
    after_one_more: bool
    decision: str
    right: bool
    misread_at_saw: bool


def rehearsed(seed: int, number: int, kind: str) -> Outcome:
    """Play one survey through to the saw; the same seed and number give the same survey."""
    chance = random.Random(f"{seed}:{number}:{kind}")
    made = None
    while made is None:
        opening = bathroom.drawn(chance, bow=BOW_MM)
        readings = bathroom.as_read(opening, bathroom.usual_readings(), chance)
        made = planted(readings, kind, chance) if kind else Planted(readings, "", "", (), 0)
    shape, spot = looked_at(made.readings)
    extra = one_more(opening, shape, chance)
    later, after = looked_at((*made.readings, extra))
    decision, right, misread = at_the_saw(opening, later, chance)
    return Outcome(
        kind,
        made.quantity,
        made.off_nm,
        spot,
        spot and named(shape, made),
        spot or after,
        decision,
        right,
        misread,
    )


def looked_at(readings: tuple[Reading, ...]) -> tuple[Shape, bool]:
    """Adjust a survey; is anything said against it, at its entry or by the adjustment?"""
    shape = shape_adjust(readings)
    odd = implausible_widths(cast(Survey, SimpleNamespace(readings=readings)))
    return shape, bool(odd) or shape.state in (CORRECTED, UNDECIDED)


def named(shape: Shape, made: Planted) -> bool:
    """Is the wrong reading the one that is pointed at?"""
    odd = implausible_widths(cast(Survey, SimpleNamespace(readings=made.readings)))
    pointed = [made.readings[int(one.pointer.split("/")[2])].id for one in odd]
    pointed += [each.observation.id for each in shape.removed]
    if not pointed and shape.suspected:
        pointed = list(shape.suspected[0].readings)
    return bool(pointed) and set(pointed) <= set(made.wrong)


def one_more(opening: bathroom.Opening, shape: Shape, chance: random.Random) -> Reading:
    """Take the reading that is asked for, without a mistake, by a tape or level as before."""
    need = reading_advised(shape, HEIGHTS).need
    level = need.quantity in ("lean", "sill_level")
    height = length_parse(need.height).nm if need.height else None
    if need.quantity == "diagonal":
        height = bathroom.TOP_NM
    tool = bathroom.LEVEL if level else bathroom.TAPE
    wanted = bathroom.reading("more", need.quantity, need.side, height, tool)
    return bathroom.as_read(opening, [wanted], chance)[0]


def at_the_saw(
    opening: bathroom.Opening, shape: Shape, chance: random.Random
) -> tuple[str, bool, bool]:
    """Two people read as fixed, in every other survey the first of them wrongly; is it released?"""
    wanted = bathroom.reading("first", "width", height=bathroom.TOP_NM, tool=FINE)
    true_mm = opening.truth(bathroom.valued(wanted, 1500))
    first, second = as_fixed(true_mm, wanted, chance)
    misread = chance.random() < 0.5
    if misread:
        wrong = None
        while wrong is None:
            wrong = planted(
                (first,), chance.choice([k for k in KINDS if k != "left for right"]), chance
            )
        first = wrong.readings[0]
    width = shape.width_at(bathroom.TOP_NM) if shape.state != UNDECIDED else None
    asked = MarkAsked(
        part="head rail",
        predicted=Predicted(width.low_nm, round(width.u_mm * NM_PER_MM)) if width else None,
        fixed=(_by(first, "first"), _by(second, "second")),
        deduct_nm=DEDUCT,
        allowance_nm=HIDDEN,
        stock_nm=80 * NM_PER_INCH,
        least_nm=None,
        most_nm=None,
        end="right",
        kerf_nm=NM_PER_INCH // 8,
        metric=False,
        sawn_nm=None,
    )
    mark = saw_mark(asked, HOUSE)
    if mark.length_nm is None:
        return "held", True, misread
    distance = round(true_mm * NM_PER_MM)
    right = distance - DEDUCT - HIDDEN <= mark.length_nm <= distance
    return "released", right, misread


def as_fixed(true_mm: float, wanted: Reading, chance: random.Random) -> tuple[Reading, Reading]:
    """Two people read one distance with one tape, whose own error they share."""
    (seen,) = observations((bathroom.valued(wanted, true_mm),))
    tape = chance.gauss(0, seen.shared)
    step = wanted.tool.graduation.nm
    marks = [
        round((true_mm + tape + chance.gauss(0, READING_REPEATABILITY.value)) * NM_PER_MM / step)
        for _ in range(2)
    ]
    one, other = (written(wanted, mark * step) for mark in marks)
    return one, other


def _by(reading: Reading, who: str) -> Reading:
    return replace(reading, id=who, quantity="between_brackets", read_by=who)


def gross(outcome: Outcome) -> bool:
    """Is it a mistake of a quarter of an inch or more?"""
    return outcome.off_nm >= QUARTER
