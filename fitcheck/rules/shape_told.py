"""What shape is the opening, and which findings may not be relied on because a reading is in doubt?

At a glance where the readings agree; only where something is suspected the whole adjustment, its
snooping and the search for the one more reading are asked. The widths that findings compare stay those
read, interpolated between the nearest two: an adjusted width is surer than its readings, and what is
surer must never turn a tight finding into one that fits. The adjusted ones stand beside them.
"""

from dataclasses import replace

from fitcheck.rules import tables_shape
from fitcheck.rules.chi_square import chi_square_limit, chi_square_tail
from fitcheck.rules.finding import uncertainty_text
from fitcheck.rules.glance_fit import Told
from fitcheck.rules.impossible import doubts_of, impossible_finding, impossible_readings
from fitcheck.rules.length import NM_PER_MM, Length, computed, inch_text, mm_text
from fitcheck.rules.shape_closer import shape_closer
from fitcheck.rules.shape_glance import Glance, shape_glance
from fitcheck.rules.shape_state import NOTHING_SHAPES, SHAPING, ShapeTold
from fitcheck.rules.survey import House, Survey
from fitcheck.rules.uncertainty import chance_text

AGREES = "The readings agree with each other within what their tools can do."
UNCHECKED = "No reading checks another: a mistake in any of them would not show."


_MICROMETRE_NM = 1000


def shape_told(survey: Survey, heights: tuple[Length, ...], house: House) -> ShapeTold:
    """Tell the shape of an opening, and put in doubt what its readings contradict.

    Readings that cannot be true are adjusted to nothing; they are to be read again first.

    Source: Baarda 1968 as restated, as in `adjustment`; nothing is corrected in silence.

    Args:
        survey: the readings [-].
        heights: the heights at which the sheet cares for a width [nm].
        house: the firm's settings [-].

    Returns:
        The shape [-].
    """
    cannot_be = impossible_readings(survey.readings) if house.rules >= 5 else []
    if not cannot_be:
        return _adjusted(survey, heights, house)
    doubts, finding = doubts_of(cannot_be), impossible_finding(cannot_be)
    if any(one.quantity in SHAPING for each in cannot_be for one in each.readings):
        return ShapeTold(None, finding.do, doubts, finding)
    told = _adjusted(survey, heights, house)
    return replace(told, doubted={**told.doubted, **doubts}, finding=told.finding or finding)


def _adjusted(survey: Survey, heights: tuple[Length, ...], house: House) -> ShapeTold:
    if not any(each.quantity in SHAPING for each in survey.readings):
        return ShapeTold(None, NOTHING_SHAPES, {}, None)
    found = shape_glance(survey.readings, [height.nm for height in heights], house.rules)
    if found is None:
        return shape_closer(survey, heights, house)
    return ShapeTold(_members(found, heights, house), None, {}, None)


def _members(found: Glance, heights: tuple[Length, ...], house: House) -> dict[str, object]:
    freedom = found.freedom
    limit = chi_square_limit(tables_shape.CONSISTENCY_ALPHA.value, freedom) if freedom else None
    chance = chance_text(chi_square_tail(found.chi_square, freedom)) if freedom else None
    return {
        "state": "agree" if freedom else "unchecked",
        "summary": AGREES if freedom else UNCHECKED,
        "consistency": {
            "sum_of_squares": f"{found.chi_square:.3f}",
            "freedom": freedom,
            "limit": f"{limit:.3f}" if limit else None,
            "chance": chance,
            "bow_fitted": False,
        },
        "over": mm_text(round(found.top * 1000) * _MICROMETRE_NM),
        "widths": [
            _width(height, told, house) for height, told in zip(heights, found.widths, strict=True)
        ],
        "shape": [_property(name, told, house) for name, told in found.properties.items()],
        "taken_out": [],
        "suspected": [],
        "one_more_reading": None,
        "source": tables_shape.SNOOPING_ALPHA.source.as_json(),
    }


def _width(height: Length, told: Told | None, house: House) -> dict[str, object]:
    return {
        "height": height.entered or inch_text(height.nm, 64),
        "width": computed(_down_nm(told), "down", house.mark) if told else None,
        "uncertainty": uncertainty_text(told.u) if told else None,
        "trusted": True,
    }


def _property(name: str, told: Told | None, house: House) -> dict[str, object]:
    return {
        "name": name,
        "value": computed(_down_nm(told), "down", house.mark) if told else None,
        "uncertainty": uncertainty_text(told.u) if told else None,
    }


def _down_nm(told: Told) -> int:
    """Return a value rounded down to a whole micrometre, after the noise of its last digits [nm]."""
    return round(told.value * NM_PER_MM) // _MICROMETRE_NM * _MICROMETRE_NM
