"""How is a length read, kept and printed without ever losing or gaining a hair?"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

Direction = Literal["down", "up"]

NM_PER_MM = 1_000_000
NM_PER_INCH = 25_400_000
NM_PER_FOOT = 12 * NM_PER_INCH
LARGEST_NM = 100 * 1000 * NM_PER_MM
LONGEST_TEXT = 64
DENOMINATORS = (2, 4, 8, 16, 32, 64)
HINT = 'write "59 3/8 in" or "1508 mm"'

_METRIC_NM = {"mm": NM_PER_MM, "cm": 10 * NM_PER_MM, "m": 1000 * NM_PER_MM}
_TIDY = str.maketrans(
    {
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
        "\N{FRACTION SLASH}": "/",
        "\N{MINUS SIGN}": "-",
        "\N{DOUBLE PRIME}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{PRIME}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    }
)
_METRIC = re.compile(r"(-?) ?([0-9]+)(?:\.([0-9]+))? ?(mm|cm|m)")
_INCH_UNIT = r"(?:inches|inch|in\.?|\")"
_FRACTION = r"(?P<num>[0-9]+)/(?P<den>[0-9]+)"
_IMPERIAL = re.compile(
    r"(?P<sign>-?) ?"
    r"(?:(?P<feet>[0-9]+) ?(?:ft|feet|foot|'))?"
    rf"(?: ?(?:(?P<whole>[0-9]+)(?:\.(?P<decimals>[0-9]+)| {_FRACTION})?|"
    rf"{_FRACTION.replace('num', 'num1').replace('den', 'den1')}) ?{_INCH_UNIT})?"
)
_NUMBER_ONLY = re.compile(r"-? ?[0-9]+(?:\.[0-9]+)?(?: ?[0-9]+/[0-9]+)?|-?[0-9]+/[0-9]+")
_COMMA = re.compile(r"[0-9],[0-9]")
_DASHED = re.compile(r"([0-9]+) ?- ?([0-9]+/[0-9]+)")


class LengthError(ValueError):
    """A text that is not a length, with a stable code and a hint that says what to write."""

    def __init__(self, code: str, detail: str, hint: str = HINT) -> None:
        super().__init__(detail)
        self.code = code
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Length:
    """A length in whole nanometres [nm], with the text it was entered as."""

    nm: int
    entered: str

    def __str__(self) -> str:
        return self.entered


def length_parse(value: object) -> Length:
    """Read a length that carries its unit; what was given out may be sent back unchanged.

    Source: 1 in = 25.4 mm exactly (NIST SP 811, appendix B).

    Args:
        value: a text such as "59 3/8 in", or a mapping given out by `computed` [-].

    Returns:
        The length with its text as entered [nm].

    Raises:
        LengthError: no unit, no sense, an improper fraction, a comma, too large or too fine.

    Valid for: magnitudes up to 100 m and down to 1 nm.
    """
    if isinstance(value, str):
        return _short_parse(value)
    if isinstance(value, Mapping) and isinstance(value.get("mm"), str):
        return _short_parse(value["mm"])
    if isinstance(value, int | float) and not isinstance(value, bool):
        raise LengthError("length_without_unit", "A bare number has no unit.")
    raise LengthError("length_not_understood", "A length is a text with its unit.")


def _short_parse(value: str) -> Length:
    if len(value) > LONGEST_TEXT:
        raise LengthError(
            "length_not_understood", f"A length is at most {LONGEST_TEXT} characters."
        )
    return _text_parse(value)


@lru_cache(maxsize=4096)
def _text_parse(entered: str) -> Length:
    text = " ".join(entered.translate(_TIDY).split()).replace("- ", "-", 1)
    metric = _METRIC.fullmatch(text)
    nm = _metric_nm(metric) if metric else _imperial_nm(text)
    if abs(nm) > LARGEST_NM:
        raise LengthError("length_too_large", f"{entered} is more than 100 m.")
    return Length(nm, entered)


def _metric_nm(match: re.Match[str]) -> int:
    sign, whole, decimals, unit = match.groups()
    return _signed(sign, _decimal_nm(whole, decimals or "", _METRIC_NM[unit]))


def _imperial_nm(text: str) -> int:
    match = _IMPERIAL.fullmatch(text)
    if match is None or not re.search(r"[a-z'\"]", text):
        raise _refusal(text)
    part = match.groupdict()
    inches = _inches_nm(part, text)
    feet = int(part["feet"]) * NM_PER_FOOT if part["feet"] else 0
    if part["feet"] and inches >= NM_PER_FOOT:
        raise LengthError(
            "length_not_understood",
            "After feet come fewer than 12 inches.",
            'write "4 ft 11 3/8 in"',
        )
    return _signed(part["sign"], feet + inches)


def _inches_nm(part: Mapping[str, str | None], text: str) -> int:
    whole, decimals = part["whole"] or "0", part["decimals"] or ""
    numerator, denominator = part["num"] or part["num1"], part["den"] or part["den1"]
    nm = _decimal_nm(whole, decimals, NM_PER_INCH)
    if numerator is None or denominator is None:
        return nm
    return nm + _fraction_nm(numerator, denominator, part["whole"], text)


def _fraction_nm(numerator: str, denominator: str, whole: str | None, text: str) -> int:
    if int(denominator) not in DENOMINATORS:
        raise LengthError(
            "fraction_denominator", f"{text}: a rule is marked in halves down to sixty-fourths."
        )
    if int(numerator) >= int(denominator):
        raise LengthError(
            "fraction_improper",
            f"{text}: {numerator}/{denominator} is not a proper fraction.",
            _split_hint(numerator, denominator, whole),
        )
    return int(numerator) * NM_PER_INCH // int(denominator)


def _split_hint(numerator: str, denominator: str, whole: str | None) -> str:
    for digits in (2, 1):
        head, tail = numerator[:-digits], numerator[-digits:]
        if whole is None and head and 0 < int(tail) < int(denominator):
            return f"did you mean {int(head)} {int(tail)}/{denominator} in?"
    return HINT


def _decimal_nm(whole: str, decimals: str, unit_nm: int) -> int:
    scale: int = 10 ** len(decimals)
    nm, finer = divmod(int(whole + decimals) * unit_nm, scale)
    if finer:
        raise LengthError("length_too_fine", "Finer than one nanometre.")
    return nm


def _signed(sign: str | None, nm: int) -> int:
    return -nm if sign == "-" else nm


def _refusal(text: str) -> LengthError:
    if _COMMA.search(text):
        return LengthError(
            "decimal_comma", f"{text} has a comma.", 'write a point: "1508.5 mm", not "1508,5 mm"'
        )
    if _NUMBER_ONLY.fullmatch(text):
        return LengthError("length_without_unit", f"{text} has no unit.")
    dashed = _DASHED.search(text)
    if dashed:
        hint = f'write "{dashed[1]} {dashed[2]} in": a dash could be a minus'
        return LengthError("length_not_understood", f"{text} is not understood.", hint)
    return LengthError("length_not_understood", f"{text!r} is not understood.")


@lru_cache(maxsize=4096)
def mm_text(nm: int) -> str:
    """Print a length in exact millimetres, without trailing zeros.

    Args:
        nm: the length [nm].

    Returns:
        A text such as "1508.125 mm" [mm].
    """
    whole, rest = divmod(abs(nm), NM_PER_MM)
    decimals = f".{rest:06d}".rstrip("0") if rest else ""
    return f"{'-' if nm < 0 else ''}{whole}{decimals} mm"


@lru_cache(maxsize=4096)
def inch_text(nm: int, mark: int = 16, direction: Direction = "down") -> str:
    """Print a length in inches to the firm's mark, rounded the way that is said.

    Args:
        nm: the length [nm].
        mark: parts of an inch that a rule is read to: 16, 32 or 64 [-].
        direction: "down" towards less, "up" towards more [-].

    Returns:
        A text such as "59 3/8 in" [in].
    """
    unit = NM_PER_INCH // mark
    marks = nm // unit if direction == "down" else -(-nm // unit)
    sign = "-" if marks < 0 else ""
    whole, part = divmod(abs(marks), mark)
    if not part:
        return f"{sign}{whole} in"
    bottom = mark
    while part % 2 == 0:
        part, bottom = part // 2, bottom // 2
    return f"{sign}{whole} {part}/{bottom} in" if whole else f"{sign}{part}/{bottom} in"


def computed(nm: int, direction: Direction, mark: int = 16) -> dict[str, str]:
    """Give out a computed length: exact millimetres, inches to the mark, and which way it went.

    Args:
        nm: the length, already rounded to a nanometre in the same direction [nm].
        direction: the way the inches are rounded [-].
        mark: parts of an inch [-].

    Returns:
        A mapping that `length_parse` reads back from its "mm" [-].
    """
    millimetres, inches, step = _printed(nm, direction, mark)
    return {"mm": millimetres, "inch": inches, "inch_mark": step, "rounded": direction}


@lru_cache(maxsize=4096)
def _printed(nm: int, direction: Direction, mark: int) -> tuple[str, str, str]:
    return mm_text(nm), inch_text(nm, mark, direction), f"1/{mark} in"
