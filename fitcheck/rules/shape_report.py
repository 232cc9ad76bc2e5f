"""What is said of an adjusted opening: widths, leans, taper, racking, level, and each reading?"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.adjustment import CORRECTED, UNDECIDED, Removed, Shape, measured, shape_adjust
from fitcheck.rules.chi_square import chi_square_limit
from fitcheck.rules.corners import angle_degrees, slope_per_metre
from fitcheck.rules.finding import Measured, uncertainty_text
from fitcheck.rules.impossible import impossible_readings
from fitcheck.rules.least_squares import (
    checkable,
    detectable,
    redundancies,
    standardised,
)
from fitcheck.rules.length import NM_PER_MM, Length, computed, inch_text, mm_text
from fitcheck.rules.one_more_reading import Advice, reading_advised_at
from fitcheck.rules.plausible import impossible_error
from fitcheck.rules.quadrilateral import (
    ADJUSTED,
    BOW,
    LEAN_LEFT,
    LEAN_RIGHT,
    LEVEL,
    TOP_LEFT,
    TOP_RIGHT,
    UNKNOWNS,
    Observation,
    height_said,
)
from fitcheck.rules.strict import MOST_ITEMS, Strict
from fitcheck.rules.survey import House, Reading, Survey, house_read, survey_read
from fitcheck.rules.suspicion import Suspicion
from fitcheck.rules.uncertainty import chance_text

_ANSWER = ("readings", "heights", "diagonals_to", "house")
_ENDS = ("station", "ceiling")
_ROWS: dict[str, dict[int, float]] = {
    "lean_left": {LEAN_LEFT: 1.0},
    "lean_right": {LEAN_RIGHT: 1.0},
    "taper": {LEAN_LEFT: -1.0, LEAN_RIGHT: -1.0},
    "racking": {LEAN_LEFT: 0.5, LEAN_RIGHT: -0.5},
    "out_of_level": {LEVEL: 1.0},
    "height_left": {TOP_LEFT: 1.0},
    "height_right": {TOP_RIGHT: 1.0},
}
_LEANING = ("lean_left", "lean_right", "racking")
_SENSE = {
    "lean_left": "positive into the opening, from sill to top",
    "lean_right": "positive into the opening, from sill to top",
    "taper": "positive when the top is wider than the sill",
    "racking": "positive when the top is shifted to the right",
    "out_of_level": "positive when the right end is higher",
    "bow": "positive when the walls bulge into the opening midway, both together",
    "height_left": "sill to ceiling",
    "height_right": "sill to ceiling",
}


@dataclass(frozen=True, slots=True)
class Described:
    """One property of the opening with its uncertainty; nothing when no reading tells it."""

    name: str
    value: Measured | None

    def as_json(self, mark: int, over_mm: float) -> dict[str, object]:
        """Return the property as plain JSON; what leans is told as a slope and an angle too."""
        if self.value is None:
            return {"name": self.name, "sense": _SENSE[self.name], "value": None}
        return {
            "name": self.name,
            "sense": _SENSE[self.name],
            "value": self.value.as_json("down", mark),
            "uncertainty": uncertainty_text(self.value.u_mm),
            **(_slope(self.value.low_nm / NM_PER_MM, over_mm) if self.name in _LEANING else {}),
        }


def _slope(out_mm: float, over_mm: float) -> dict[str, object]:
    slope, angle = slope_per_metre(out_mm, over_mm), angle_degrees(out_mm, over_mm)
    return {"slope": f"{slope:.2f} mm/m", "angle": f"{angle:.4f} deg"}


def described(shape: Shape) -> tuple[Described, ...]:
    """Describe an adjusted opening: lean of each wall, taper, racking, level, bow, heights.

    Source: plane geometry over the adjusted unknowns; leans are over the frame's height.

    Args:
        shape: the adjusted opening [mm].

    Returns:
        The properties [nm, mm].
    """
    found = [Described(name, _along(shape, parts)) for name, parts in _ROWS.items()]
    if shape.solved.bowed:
        found.append(Described("bow", _along(shape, {BOW: 1.0})))
    return tuple(found)


def _along(shape: Shape, parts: Mapping[int, float]) -> Measured | None:
    row = np.zeros(len(UNKNOWNS))
    row[list(parts)] = list(parts.values())
    known = shape.solved.along(row)
    return None if known is None else measured(*known, shape.solved.read)


def readings_judged(shape: Shape) -> list[dict[str, object]]:
    """Say of every reading how well it agrees, how well it is checked, and what could hide in it.

    Source: Baarda 1968 as restated.

    Args:
        shape: the adjusted opening [mm].

    Returns:
        One row per reading, those taken out last, as plain JSON [-].
    """
    rows = [
        {
            **_named(each, shape.rules),
            "state": "kept" if seen else "not checkable",
            "adjusted": mm_text(_micrometres(each.value + residual)),
            "residual": _signed(residual),
            "uncertainty": uncertainty_text(each.sigma),
            "redundancy": f"{share:.2f}",
            "standardised": f"{size:.2f}" if seen else None,
            "least_detectable": uncertainty_text(least) if seen else None,
        }
        for each, residual, share, size, least, seen in _columns(shape)
        if each.quantity in ADJUSTED
    ]
    return rows + [_removed_json(one, shape.rules) for one in shape.removed]


def _columns(shape: Shape) -> Iterator[tuple[Observation, float, float, float, float, bool]]:
    solved = shape.solved
    columns = (
        solved.fit.residuals,
        redundancies(solved.fit),
        standardised(solved.fit),
        detectable(solved.fit),
        checkable(solved.fit),
    )
    for row in zip(solved.seen, *columns, strict=True):
        each, residual, share, size, least, seen = row
        yield each, float(residual), float(share), float(size), float(least), bool(seen)


def _named(each: Observation, rules: int) -> dict[str, object]:
    height = height_said(each, rules)
    return {"id": each.id, "quantity": each.quantity, "side": each.side, "height": height}


def _removed_json(one: Removed, rules: int) -> dict[str, object]:
    return {
        **_named(one.observation, rules),
        "state": "taken out",
        "off": _signed(one.off_mm),
        "standardised": f"{one.standardised:.2f}",
        "mistake": one.mistake.as_json() if one.mistake else None,
        "do": f"Read it again. It is off by about {_signed(one.off_mm)}"
        + (f": perhaps {one.mistake.words}." if one.mistake else "."),
    }


def _suspected_json(one: Suspicion) -> dict[str, object]:
    return {
        "readings": list(one.readings),
        "share": chance_text(one.share),
        "mistake": one.mistake.as_json() if one.mistake else None,
    }


def _signed(mm: float) -> str:
    return f"{mm + 0.0:+.2f} mm".replace("-0.00", "+0.00")


def _micrometres(mm: float) -> int:
    return round(mm * 1000) * 1000


def shape_json(
    shape: Shape, heights: Sequence[Length], advice: Advice | None, house: House
) -> dict[str, object]:
    """Return everything that is known of an adjusted opening as plain JSON.

    Args:
        shape: the adjusted opening [mm].
        heights: the heights whose widths are asked for [nm].
        advice: the reading to take next, if one was looked for [-].
        house: the firm's settings [-].

    Returns:
        State, summary, consistency, widths, properties, readings, suspects, advice [-].
    """
    return {
        "state": shape.state,
        "summary": _summary(shape),
        "consistency": _consistency(shape),
        "over": mm_text(_micrometres(shape.solved.frame.top)),
        "widths": [_width(shape, height, house) for height in heights],
        "shape": [each.as_json(house.mark, shape.solved.frame.top) for each in described(shape)],
        "readings": readings_judged(shape),
        "suspected": [_suspected_json(one) for one in shape.suspected],
        "one_more_reading": advice.as_json() if advice else None,
        "source": tables_shape.SNOOPING_ALPHA.source.as_json(),
    }


def _summary(shape: Shape) -> str:
    if shape.state == CORRECTED:
        names = ", ".join(_spoken(one.observation, shape.rules) for one in shape.removed)
        return f"Taken out, because the other readings contradict it: {names}. Read it again."
    if shape.state == UNDECIDED and not shape.solved.settled:
        return "No shape comes near these readings: at least one of them is far from right."
    if shape.state == UNDECIDED:
        return "The readings contradict each other, and they cannot say which of them is wrong."
    if shape.state == "unchecked":
        return "No reading checks another: a mistake in any of them would not show."
    agree = "The readings agree with each other within what their tools can do"
    if shape.strayed is None:
        return f"{agree}."
    which = _spoken(shape.strayed, shape.rules)
    return (
        f"{agree}. One strays as fewer than one in a thousand do ({which}), but by less"
        " than a mistake that matters would make it: reading it once more would settle it."
    )


def _spoken(each: Observation, rules: int) -> str:
    side = "" if each.side == "none" else f" {each.side}"
    height = height_said(each, rules)
    at = "" if height is None else f" at {height}"
    return f"{each.quantity.replace('_', ' ')}{side}{at}"


def _consistency(shape: Shape) -> dict[str, object]:
    freedom = shape.freedom
    limit = chi_square_limit(tables_shape.CONSISTENCY_ALPHA.value, freedom) if freedom else None
    return {
        "sum_of_squares": f"{shape.chi_square:.3f}",
        "freedom": freedom,
        "limit": f"{limit:.3f}" if limit else None,
        "chance": chance_text(shape.chance) if freedom else None,
        "bow_fitted": shape.solved.bowed,
    }


def _width(shape: Shape, height: Length, house: House) -> dict[str, object]:
    width = shape.width_at(height.nm)
    value = computed(width.low_nm, "down", house.mark) if width else None
    return {
        "height": height.entered or inch_text(height.nm, 64),
        "width": value,
        "uncertainty": uncertainty_text(width.u_mm) if width else None,
        "trusted": shape.state in ("agree", "corrected"),
    }


def answer(inputs: Mapping[str, object]) -> dict[str, object]:
    """Answer for one opening from its readings alone; nothing is stored.

    Args:
        inputs: `readings` as in a survey; `heights` whose widths matter (else those read);
            `diagonals_to` "station" or "ceiling"; `house` settings [-].

    Returns:
        The adjusted opening as plain JSON [-].

    Raises:
        InputErrors: the inputs are malformed, no reading tells of the shape, or one cannot be true.
    """
    own = Strict.open(inputs, _ANSWER, "", [])
    house, survey = house_read(own), _survey(own)
    ends = own.choice("diagonals_to", _ENDS, "station")
    asked = [
        Strict({"height": text}, f"{own.pointer}/heights/{n}", own.errors).length(
            "height", zero=True
        )
        for n, text in enumerate(own.items("heights", most=MOST_ITEMS))
    ]
    if not any(each.quantity in ADJUSTED for each in survey.readings):
        detail = f"A shape needs at least one of {', '.join(ADJUSTED)}."
        own.refuse("readings", "nothing_to_adjust", detail)
    cannot_be = (
        [] if own.errors else impossible_readings(survey.readings, to_ceiling=ends == "ceiling")
    )
    places = {one.id: n for n, one in enumerate(survey.readings)}
    own.errors += [impossible_error(one, places[one.reading.id]) for one in cannot_be]
    own.finish()
    shape = shape_adjust(survey.readings, to_ceiling=ends == "ceiling")
    heights = asked or _heights_read(survey.readings)
    advice = reading_advised_at(shape, heights)
    return shape_json(shape, heights, advice, house)


def _survey(own: Strict) -> Survey:
    opening = {"enclosure": "alcove", "stands_on": "curb"}
    return survey_read(Strict({**own.members, "opening": opening}, own.pointer, own.errors))


def _heights_read(readings: tuple[Reading, ...]) -> list[Length]:
    heights = {r.height.nm: r.height for r in readings if r.quantity == "width" and r.height}
    return [heights[nm] for nm in sorted(heights)]
