"""Is a value within its limits, by how much, and how surely?"""

from dataclasses import dataclass
from functools import lru_cache

from fitcheck.rules.finding import Finding, Measured, Sense, State, hundredths_text
from fitcheck.rules.length import NM_PER_MM, inch_text
from fitcheck.rules.readings import Absent, need_text
from fitcheck.rules.sources import Source
from fitcheck.rules.survey import House
from fitcheck.rules.uncertainty import (
    chance_text,
    conformance_probability,
    guard_band_nm,
    margin_state,
)


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked, where, by whom; and what to do when the answer is no."""

    rule: str
    question: str
    place: str
    source: Source
    remedy: str


@lru_cache(maxsize=4096)
def spoken(nm: int, mark: int, *, up: bool = False) -> str:
    """Print a length for a sentence: inches to the mark and millimetres to a tenth.

    What is less than a mark is said in millimetres only.

    Args:
        nm: the length [nm].
        mark: parts of an inch [-].
        up: round up, not down [-].

    Returns:
        A text such as "1 1/16 in (27.0 mm)" [-].
    """
    unit = NM_PER_MM // 10
    tenths = -(-nm // unit) if up else nm // unit
    sign = "-" if tenths < 0 else ""
    whole, tenth = divmod(abs(tenths), 10)
    millimetres = f"{sign}{whole}.{tenth} mm"
    inches = inch_text(nm, mark, "up" if up else "down")
    return millimetres if inches == "0 in" else f"{inches} ({millimetres})"


@lru_cache(maxsize=4096)
def guard_of(u_mm: float, house: House) -> int:
    """Return the guard band of a value by the firm's own guard factor.

    Source: JCGM 106:2012, 8.3.

    Args:
        u_mm: standard uncertainty of the value [mm].
        house: the firm's settings [-].

    Returns:
        The guard band [nm].
    """
    return guard_band_nm(u_mm, float(house.guard_factor))


def compared(
    asked: Asked,
    value: Measured | Absent,
    house: House,
    *,
    least_nm: int | None = None,
    most_nm: int | None = None,
) -> Finding:
    """Compare a value with a least, a most or both; what was never read stays unknown.

    Source: JCGM 106:2012, 8.3, with the firm's guard factor.

    Args:
        asked: question, place, source and remedy [-].
        value: the value read, or why there is none [nm].
        house: the firm's settings [-].
        least_nm: the lower limit, if there is one [nm].
        most_nm: the upper limit, if there is one [nm].

    Returns:
        The finding, with the margin to the nearer limit [-].

    Raises:
        ValueError: there is neither a least nor a most.
    """
    if isinstance(value, Absent):
        return not_known(asked, value, house, least_nm=least_nm, most_nm=most_nm)
    margin_nm, _ = _nearer_limit(value, least_nm, most_nm)
    guard_nm = guard_of(value.u_mm, house)
    state = margin_state(margin_nm, guard_nm)
    do = _do(asked, state, margin_nm, guard_nm, house.mark)
    return _found(asked, value, house, (least_nm, most_nm), state, do)


def advised(
    asked: Asked,
    value_nm: int,
    house: House,
    *,
    least_nm: int | None = None,
    most_nm: int | None = None,
    readings: tuple[str, ...] = (),
) -> Finding:
    """Compare an exact value with a limit that asks for care, not for refusal.

    Args:
        asked: question, place, source and what care to take [-].
        value_nm: the value [nm].
        house: the firm's settings [-].
        least_nm: the least that needs no care, if there is one [nm].
        most_nm: the most that needs no care, if there is one [nm].
        readings: ids of the readings behind the value [-].

    Returns:
        The finding; where it would fail it is "tight" [-].
    """
    value = Measured(value_nm, value_nm, 0.0, readings)
    margin_nm, _ = _nearer_limit(value, least_nm, most_nm)
    state: State = "fits" if margin_nm >= 0 else "tight"
    do = _do(asked, "fits", margin_nm, 0, house.mark) if state == "fits" else asked.remedy
    return _found(asked, value, house, (least_nm, most_nm), state, do)


def _found(
    asked: Asked,
    value: Measured,
    house: House,
    limits: tuple[int | None, int | None],
    state: State,
    do: str,
) -> Finding:
    """Return the finding of a value that was read, with the margin to its nearer limit."""
    least_nm, most_nm = limits
    margin_nm, sense = _nearer_limit(value, least_nm, most_nm)
    exact = value.low_nm == value.high_nm
    return Finding(
        rule=asked.rule,
        question=asked.question,
        place=asked.place,
        reading=value,
        limit_nm=most_nm if sense == "most" else least_nm,
        limit_text=None,
        sense=sense,
        margin=Measured(margin_nm, margin_nm if exact else margin_nm + 1, value.u_mm),
        guard_nm=guard_of(value.u_mm, house) if value.u_mm else None,
        chance=_chance(value, least_nm, most_nm, sense) if value.u_mm else None,
        state=state,
        source=asked.source,
        do=do,
        readings=value.readings,
        mark=house.mark,
        far_nm=_farther_limit(value, least_nm, most_nm, sense),
    )


def not_known(
    asked: Asked,
    absent: Absent,
    house: House,
    *,
    least_nm: int | None = None,
    most_nm: int | None = None,
) -> Finding:
    """Return the finding for a reading that is missing or disputed: unknown, never passed.

    Args:
        asked: question, place, source and remedy [-].
        absent: what is missing and why [-].
        house: the firm's settings [-].
        least_nm: the lower limit, if there is one [nm].
        most_nm: the upper limit, if there is one [nm].

    Returns:
        The finding with what to read [-].
    """
    what = ", ".join(need_text(need) for need in absent.needs) or asked.place
    do = f"{absent.why} Read {what}." if absent.why else f"Read {what}."
    if absent.apart_nm is not None:
        count = "two" if len(absent.readings) == 2 else str(len(absent.readings))
        apart = spoken(absent.apart_nm, house.mark, up=True)
        do = f"Read {what} again: {count} readings differ by {apart}."
    return Finding(
        rule=asked.rule,
        question=asked.question,
        place=asked.place,
        reading=None,
        limit_nm=least_nm if most_nm is None else most_nm,
        limit_text=None,
        sense="least" if most_nm is None else "most",
        margin=None,
        guard_nm=None,
        chance=None,
        state="unknown",
        source=asked.source,
        do=do,
        readings=absent.readings,
        needs=absent.needs,
        mark=house.mark,
    )


def one_of(asked: Asked, value: str, allowed: tuple[str, ...]) -> Finding:
    """Compare a word with the words allowed; "unknown" is a question, never a pass.

    Args:
        asked: question, place, source and remedy [-].
        value: the word [-].
        allowed: the words allowed [-].

    Returns:
        The finding [-].
    """
    state: State = "fits" if value in allowed else "fails"
    do = "Nothing to do." if state == "fits" else asked.remedy
    if value == "unknown":
        state, do = "unknown", f"Find out on site: {asked.question}"
    return Finding(
        rule=asked.rule,
        question=asked.question,
        place=asked.place,
        reading=words(value),
        limit_nm=None,
        limit_text=", ".join(words(each) for each in allowed),
        sense="one_of",
        margin=None,
        guard_nm=None,
        chance=None,
        state=state,
        source=asked.source,
        do=do,
    )


def words(code: str) -> str:
    """Return a word of the inputs as it is said.

    Args:
        code: a word such as "wood_stud" [-].

    Returns:
        The words, "wood stud" [-].
    """
    return code.replace("_", " ")


def _nearer_limit(value: Measured, least_nm: int | None, most_nm: int | None) -> tuple[int, Sense]:
    above = None if least_nm is None else value.low_nm - least_nm
    below = None if most_nm is None else most_nm - value.high_nm
    if above is not None and (below is None or above <= below):
        return above, "least"
    if below is None:
        raise ValueError("a comparison needs a limit")
    return below, "most"


def _farther_limit(
    value: Measured, least_nm: int | None, most_nm: int | None, sense: Sense
) -> int | None:
    """Return how far the limit lies that is not the nearer one, from the same end of the value [nm]."""
    if least_nm is None or most_nm is None:
        return None
    return value.high_nm - least_nm if sense == "most" else most_nm - value.low_nm


def _chance(value: Measured, least_nm: int | None, most_nm: int | None, sense: Sense) -> str:
    """Return the chance of truly conforming, taken at the end of the value nearer its limit."""
    at = value.high_nm if sense == "most" else value.low_nm
    least = None if least_nm is None else least_nm / NM_PER_MM
    most = None if most_nm is None else most_nm / NM_PER_MM
    return chance_text(conformance_probability(at / NM_PER_MM, value.u_mm, least, most))


def _do(asked: Asked, state: State, margin_nm: int, guard_nm: int, mark: int) -> str:
    if state == "fits":
        return f"Nothing to do: {spoken(margin_nm, mark)} to spare."
    if state == "tight":
        return (
            f"Read it again with the best tool before anything is ordered or cut: "
            f"{spoken(margin_nm, mark)} to spare, and the readings are only sure to "
            f"{hundredths_text(guard_nm)}."
        )
    return f"{asked.remedy} Out by {spoken(-margin_nm, mark, up=True)}."
