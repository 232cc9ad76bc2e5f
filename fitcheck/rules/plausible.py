"""Can this width be right at all, or was it written in the wrong unit?"""

from statistics import median_low

from fitcheck.rules import tables
from fitcheck.rules.impossible import Impossible, impossible_readings
from fitcheck.rules.length import inch_text, mm_text
from fitcheck.rules.strict import InputError
from fitcheck.rules.survey import Reading, Survey

_CONFIRM = 'If it is so, send "confirmed": true with this reading.'
# (written as, meant, how many times too small the written value is): exact, over a common denominator
SLIPS = (
    ("cm", "in", 254, 100),
    ("mm", "in", 254, 10),
    ("mm", "cm", 10, 1),
    ("in", "cm", 100, 254),
    ("cm", "mm", 1, 10),
    ("in", "mm", 10, 254),
)


def implausible_readings(
    survey: Survey, confirmed: frozenset[str] = frozenset()
) -> list[InputError]:
    """List what is asked about before it is believed: odd widths, and what cannot be true at all.

    Source: house setting, and plane geometry as in `impossible`.

    Args:
        survey: the readings [-].
        confirmed: ids of readings that somebody has looked at again and stands by [-].

    Returns:
        One mistake for each, at its member [-].
    """
    places = {one.id: n for n, one in enumerate(survey.readings)}
    found = [one for one in impossible_readings(survey.readings) if one.reading.id not in confirmed]
    return [
        *implausible_widths(survey, confirmed),
        *(impossible_error(one, places[one.reading.id], _CONFIRM) for one in found),
    ]


def impossible_error(one: Impossible, index: int, also: str = "") -> InputError:
    """Return a reading that cannot be true as a mistake of the inputs.

    Args:
        one: the reading and why it cannot be [-].
        index: where it stands among the readings [-].
        also: what else may be sent [-].

    Returns:
        The mistake, at the member that says so [-].
    """
    hint = f"{one.do or 'Read it again.'} {also}".strip()
    return InputError(f"/readings/{index}/{one.member}", "reading_impossible", one.says, hint)


def implausible_widths(survey: Survey, confirmed: frozenset[str] = frozenset()) -> list[InputError]:
    """List widths that lie far from the others of the same survey, with the slip that explains each.

    No opening tapers by so much; a bathroom's opening with one such width is a slip of the pen, and
    asking at once is kinder than a verdict about it.

    Source: house setting.

    Args:
        survey: the readings [-].
        confirmed: ids of readings that somebody has looked at again and stands by [-].

    Returns:
        One mistake for each odd width, at its value; nothing for fewer than two widths [-].
    """
    widths = [(n, one) for n, one in enumerate(survey.readings) if one.quantity == "width"]
    mistakes = []
    for index, reading in widths:
        others = [one.value.nm for n, one in widths if n != index]
        if not others or reading.id in confirmed:
            continue
        usual = median_low(others)
        if abs(reading.value.nm - usual) > tables.WIDTH_FAR_FROM_OTHERS.value:
            mistakes.append((index, reading, usual, slip_of(reading, usual)))
    explained = [one for one in mistakes if one[3]]
    return [_mistake(*one) for one in explained or mistakes]


def slip_of(reading: Reading, usual_nm: int) -> str | None:
    """Name the unit that would bring a reading to where the others are.

    Args:
        reading: the odd one [-].
        usual_nm: where the others are [nm].

    Returns:
        The reading in the unit that was meant, or None when no slip of units explains it [-].
    """
    written = reading.value.entered.strip()
    for unit, meant, times, over in SLIPS:
        near = abs(reading.value.nm * times // over - usual_nm)
        can_be = meant == "in" or "/" not in written  # nobody writes 3/8 cm
        if can_be and written.endswith(unit) and near <= tables.WIDTH_FAR_FROM_OTHERS.value:
            return written[: -len(unit)].rstrip() + f" {meant}"
    return None


def _mistake(index: int, reading: Reading, usual_nm: int, meant: str | None) -> InputError:
    said = f"The width at {reading.height} is {reading.value.entered} ({mm_text(reading.value.nm)})"
    others = f"the others are about {inch_text(usual_nm)} ({mm_text(usual_nm)})."
    guess = f'Did you mean "{meant}"? ' if meant else ""
    hint = f"{guess}{_CONFIRM}"
    return InputError(f"/readings/{index}/value", "reading_implausible", f"{said}; {others}", hint)
