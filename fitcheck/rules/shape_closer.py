"""Which reading do the others contradict, and which one more would tell?"""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from fitcheck.rules import tables_shape
from fitcheck.rules.compare import Asked
from fitcheck.rules.finding import Finding, Need
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.length import Length
from fitcheck.rules.readings import need_text
from fitcheck.rules.shape_state import SHAPING, ShapeTold
from fitcheck.rules.survey import House, Reading, Survey

if TYPE_CHECKING:
    from fitcheck.rules.adjustment import Shape

AGAIN = "Read {what} again before anything else: the other readings contradict it."


def shape_closer(survey: Survey, heights: tuple[Length, ...], house: House) -> ShapeTold:
    """Adjust with everything that finds a mistake; it needs numbers by the array, so it comes late.

    Source: Baarda 1968 as restated, as in `adjustment`.

    Args:
        survey: the readings [-].
        heights: the heights at which the sheet cares for a width [nm].
        house: the firm's settings [-].

    Returns:
        The shape, with what to do about each reading in doubt [-].
    """
    from fitcheck.rules.adjustment import shape_adjust
    from fitcheck.rules.one_more_reading import reading_advised_at
    from fitcheck.rules.shape_report import shape_json

    shape = shape_adjust(survey.readings, rules=house.rules)
    contradicts = shape.state in ("corrected", "undecided")
    advice = reading_advised_at(shape, heights) if contradicts else None
    said = shape_json(shape, heights, advice, house)
    kept = ("state", "summary", "consistency", "over", "widths", "suspected", "one_more_reading")
    members = {name: said[name] for name in kept} | {
        "shape": [_short(row) for row in _rows(said["shape"])],
        "taken_out": [row for row in _rows(said["readings"]) if row["state"] == "taken out"],
        "source": said["source"],
    }
    if not contradicts:
        return ShapeTold(members, None, {}, None)
    guesses = _guesses(shape)
    doubted = [each for each in survey.readings if each.id in guesses] or [
        each for each in survey.readings if each.quantity in SHAPING
    ]
    perhaps = dict.fromkeys(f" Perhaps {words}." for words in guesses.values() if words)
    said_already = shape.rules >= 5 and shape.state == "corrected"
    next_one = f" {advice.as_json()['do']}" if advice and not said_already else ""
    do = f"{said['summary']}{''.join(perhaps)}{next_one}"
    return ShapeTold(members, None, _again(doubted, guesses), _contradiction(do))


def _guesses(shape: "Shape") -> dict[str, str]:
    """Return each reading in doubt with the slip that would explain it, empty where none does."""
    found = {one.observation.id: one.mistake for one in shape.removed}
    for each in shape.suspected:
        for one in each.readings:
            found[one] = found.get(one) or each.mistake
    return {one: slip.words if slip else "" for one, slip in found.items()}


def _rows(value: object) -> list[dict[str, object]]:
    return value if isinstance(value, list) else []


def _short(row: Mapping[str, object]) -> dict[str, object]:
    return {name: row.get(name) for name in ("name", "value", "uncertainty")}


def _again(doubted: Iterable[Reading], guesses: Mapping[str, str]) -> dict[str, str]:
    said = {}
    for each in doubted:
        height = each.height.entered if each.height else None
        guess = f" Perhaps {guesses[each.id]}." if guesses.get(each.id) else ""
        what = need_text(Need(each.quantity, each.side, height))
        said[each.id] = AGAIN.format(what=what) + guess
    return said


def _contradiction(do: str) -> Finding:
    asked = Asked(
        "shape.agreement",
        "Do the readings of the opening agree with each other?",
        "opening",
        tables_shape.SNOOPING_ALPHA.source,
        "",
    )
    limit = "agreement within what the tools can do"
    return spoken_finding(asked, "they contradict each other", limit, "unknown", do)
