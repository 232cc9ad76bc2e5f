"""What do the strings of a survey or a verdict measure, and how are they written beside a line."""

from collections.abc import Mapping
from typing import Any

from fitcheck.rules.length import NM_PER_INCH, LengthError, inch_text, length_parse, mm_text

NM_PER_MM = 1_000_000
HUNDREDTH, FOUR_DECIMALS = 10_000, 100  # of a millimetre [nm]


def length_nm(value: Any) -> int | None:
    """Return a length in nanometres, or None when it is missing or is not a length at all [nm]."""
    if isinstance(value, Mapping):
        value = value.get("mm")
    if not isinstance(value, str):
        return None
    try:
        return length_parse(value).nm
    except LengthError:
        return None


def length_mm(value: Any) -> float | None:
    """Return a length as a coordinate; never printed, never stored [mm]."""
    nm = length_nm(value)
    return None if nm is None else nm / NM_PER_MM


def both_units(entered: Any) -> str:
    """Return a reading as it was entered, with the other unit beside it."""
    nm = length_nm(entered)
    if nm is None:
        return words(entered)
    if str(entered).rstrip().endswith("m"):
        return f"{entered} · about {inch_text(nm, 32)}"
    return f"{entered} · {mm_text(nm)}"


def words(value: Any) -> str:
    """Return what the service said about a value, verbatim: inches, then millimetres."""
    if isinstance(value, Mapping):
        known = [str(value[key]) for key in ("text", "inch", "mm") if value.get(key)]
        return " · ".join(known) or "not known"
    return "not known" if value is None or value == "" else str(value)


def word(code: Any) -> str:
    """Return a code as words: `left_wall` reads "left wall"."""
    return str(code).replace("_", " ")


def pair(value: Any, mark: int = 32) -> tuple[str, ...]:
    """Return a length as a label of two lines: as it was told, then the other unit."""
    if isinstance(value, Mapping):
        return tuple(str(value[key]) for key in ("inch", "mm") if value.get(key)) or ("not known",)
    nm = length_nm(value)
    if nm is None:
        return (words(value),)
    return str(value), other_unit(str(value), nm, mark)


def other_unit(entered: str, nm: int, mark: int = 32) -> str:
    """Return a length in the unit that it was not entered in."""
    return f"about {inch_text(nm, mark)}" if entered.rstrip().endswith("m") else mm_text(nm)


def nearest_text(nm: int, unit: str, mark: int = 16, *, up: bool = False) -> tuple[str, str]:
    """Return a length that the drawing worked out: the firm's unit first, both rounded one way.

    Millimetres of more than four decimals are told to a hundredth; inches that are not exact to
    the mark say "about".
    """
    hundredths = -(-nm // HUNDREDTH) if up else nm // HUNDREDTH
    mm = mm_text(nm if nm % FOUR_DECIMALS == 0 else hundredths * HUNDREDTH)
    inch = inch_text(nm, mark, "up" if up else "down")
    inch = inch if nm % (NM_PER_INCH // mark) == 0 else f"about {inch}"
    return (inch, mm) if unit == "inch" else (mm, inch)
