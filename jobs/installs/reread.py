"""Does what is read on site agree with the survey, within the doubt of both?"""

import math
from dataclasses import dataclass, replace
from typing import Any

from django.conf import settings

from fitcheck.rules.finding import Measured
from fitcheck.rules.length import NM_PER_MM, Length, computed
from fitcheck.rules.readings import Absent, Readings
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.strict import InputError, Strict
from fitcheck.rules.survey import (
    OF_MASONRY,
    SIDED,
    House,
    Reading,
    Survey,
    Zone,
    house_read,
    survey_read,
)
from fitcheck.rules.survey import Opening as OpeningRead
from fitcheck.rules.tables import SAME_HEIGHT
from fitcheck.rules.uncertainty import reading_uncertainty
from jobs.openings.models import Opening
from jobs.verdicts.services import heads_of

PLAIN_OPENING = {"enclosure": "alcove", "stands_on": "curb"}
PLAIN = OpeningRead("alcove", "curb", "unknown", None)  # no comparison here looks at it
AT_A_HEIGHT = frozenset({"backing_centre", "between_brackets", *OF_MASONRY})
READ_AS = {"between_brackets": "width"}


@dataclass(frozen=True, slots=True)
class Known:
    """What the survey says of an opening, the firm's settings, and what a kit's brackets take."""

    readings: Readings
    house: House
    sheet: Sheet | None = None

    def taken_nm(self, height: Length) -> int:
        """Return what the brackets at a height take off the width from wall to wall, by the sheet."""
        cuts = self.sheet.cuts if self.sheet else ()
        near = [
            cut.brackets_take.nm
            for cut in cuts
            if cut.brackets_take and abs(cut.height.nm - height.nm) <= SAME_HEIGHT.value
        ]
        return max(near, default=0)


def readings_read(
    rows: list[dict[str, Any]], errors: list[InputError] | None = None
) -> tuple[Reading, ...]:
    """Read rows as the rules read them.

    Raises:
        InputErrors: when no list is given for the mistakes and there is one.
    """
    found: list[InputError] = [] if errors is None else errors
    own = Strict.open(
        {"opening": PLAIN_OPENING, "readings": rows}, ("opening", "readings"), "", found
    )
    survey = survey_read(own)
    if errors is None:
        own.finish()
    return survey.readings


def zones_read(rows: list[dict[str, Any]]) -> tuple[Zone, ...]:
    """Read the zones of a verdict's inputs as the rules read them."""
    own = Strict.open({"opening": PLAIN_OPENING, "zones": rows}, ("opening", "zones"), "", [])
    return survey_read(own).zones


def known_of(opening: Opening, sheet: Sheet | None = None) -> Known:
    """Gather what stands of the opening's surveys, without what was read between brackets."""
    heads = heads_of(opening)
    rows = [
        one.as_input()
        for one in (heads.readings if heads else [])
        if one.quantity != "between_brackets"
    ]
    house = house_read(Strict({"house": {"mark": settings.INCH_MARK}}))
    return Known(Readings(Survey(PLAIN, readings_read(rows), ()), house), house, sheet)


def comparison(reading: Reading, known: Known) -> dict[str, Any]:
    """Compare one reading with the survey's answer at its place.

    Source: JCGM 100:2008, 5.1.2 for the combined doubt; the factor is a house setting.

    Args:
        reading: what was read on site [-].
        known: what the survey says [-].

    Returns:
        Both values, how far apart, within what they agree, the state and what to do [-].
    """
    surveyed = _surveyed(reading, known)
    told: dict[str, Any] = {
        "quantity": reading.quantity,
        "side": reading.side,
        "height": reading.height.entered if reading.height else None,
        "read": reading.value.entered,
        "read_by": reading.read_by,
    }
    if isinstance(surveyed, Absent):
        why = "disputed" if surveyed.apart_nm is not None else "not surveyed"
        do = f"The survey has no answer here ({why}): survey it and ask for a verdict first."
        return {**told, "surveyed": None, "apart": None, "within": None, "state": why, "do": do}
    apart, within = _apart(reading, surveyed), _within(reading, surveyed, known.house)
    agrees = abs(apart) <= within
    mark = known.house.mark
    return {
        **told,
        "surveyed": computed(surveyed.low_nm, "down", mark),
        "apart": computed(abs(apart), "up", mark),
        "within": computed(within, "down", mark),
        "state": "agrees" if agrees else "apart",
        "do": "Nothing to do." if agrees else _do(reading, apart, within),
    }


def _surveyed(reading: Reading, told: Known) -> Measured | Absent:
    known = told.readings
    quantity = READ_AS.get(reading.quantity, reading.quantity)
    side = reading.side if quantity in SIDED else "none"
    if quantity == "width" and reading.height is not None:
        width = known.at(quantity, reading.height)
        if isinstance(width, Absent) or reading.quantity != "between_brackets":
            return width
        taken = told.taken_nm(reading.height)
        return replace(width, low_nm=width.low_nm - taken, high_nm=width.high_nm - taken)
    if reading.quantity in AT_A_HEIGHT and reading.height is not None:
        return known.near(quantity, side, reading.height)
    return known.single(quantity, side)


def _apart(reading: Reading, surveyed: Measured) -> int:
    """The signed distance from the nearer end of the survey's answer [nm]."""
    low, high = reading.value.nm - surveyed.low_nm, reading.value.nm - surveyed.high_nm
    return low if abs(low) >= abs(high) else high


def _within(reading: Reading, surveyed: Measured, house: House) -> int:
    doubt = math.hypot(surveyed.u_mm, reading_uncertainty(reading))
    return math.floor(float(house.agreement_factor) * doubt * NM_PER_MM)


def _do(reading: Reading, apart: int, within: int) -> str:
    """Name the slip that would explain it, if one does; else ask for both again."""
    from fitcheck.rules.mistakes import slips_of  # brings numpy along: only when it is needed

    text = "Do not drill: read it again, by another person, and hold it against the survey."
    for slip in slips_of(reading):
        if any(abs(apart - error) <= within for error in slip.errors_nm.values()):
            return f"{text} Perhaps {slip.words}: {slip.meant} was meant."
    return text


def swapped_sides(readings: tuple[Reading, ...], known: Known) -> str:
    """Say so when readings contradict the survey as they are, and agree with it left for right."""
    sided = [one for one in readings if one.quantity in SIDED]
    wrong = [one for one in sided if comparison(one, known)["state"] == "apart"]
    if not wrong:
        return ""
    other = {"left": "right", "right": "left"}
    turned = [replace(one, side=other[one.side]) for one in sided]
    if all(comparison(one, known)["state"] == "agrees" for one in turned):
        return "Left and right are swapped: turned round, they agree with the survey."
    return ""
