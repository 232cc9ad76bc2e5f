"""Which slip of hand, eye or pen would explain a reading that the others contradict?"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.least_squares import (
    Fit,
    checkable,
    left_over,
    redundancies,
    standardised,
)
from fitcheck.rules.length import (
    NM_PER_FOOT,
    NM_PER_INCH,
    NM_PER_MM,
    LengthError,
    inch_text,
    length_parse,
    mm_text,
)
from fitcheck.rules.survey import SIDED, SIGNED, Reading

BURNED_INCH = "burned inch"
LEFT_FOR_RIGHT = "left for right"
_WORDS = {
    BURNED_INCH: "the tape was started at its 1 and the inch was never taken off",
    "an inch miscounted": "an inch was miscounted",
    "a foot miscounted": "a foot was miscounted",
    "a centimetre miscounted": "a centimetre was miscounted",
    "an eighth for a sixteenth": "sixteenths were read as eighths",
    "a sixteenth for an eighth": "eighths were read as sixteenths",
    "one mark off": "the mark beside the right one was read",
    "swapped digits": "two digits were swapped",
    LEFT_FOR_RIGHT: "left and right were swapped",
    "wrong way": "it was written the wrong way round (the sign)",
    "centimetres for inches": "it was read in inches and written in centimetres",
    "inches for centimetres": "it was read in centimetres and written in inches",
    "hook pushed": "the hook was pushed where it should have been pulled",
    "hook pulled": "the hook was pulled where it should have been pushed",
}


@dataclass(frozen=True, slots=True)
class Mistake:
    """A slip that would explain readings: what it is, and by how much it puts each of them off."""

    kind: str
    errors_nm: Mapping[str, int]
    meant: str

    @property
    def words(self) -> str:
        """Return the slip in words, as they stand after "perhaps"."""
        return _WORDS[self.kind]

    def as_json(self) -> dict[str, object]:
        """Return the slip as plain JSON."""
        off = {one: mm_text(nm) for one, nm in self.errors_nm.items()}
        return {"kind": self.kind, "off": off, "meant": self.meant, "words": self.words}


@dataclass(frozen=True, slots=True)
class Suspicion:
    """What may be wrong, and how much it weighs among everything that may be wrong."""

    readings: tuple[str, ...]
    share: float
    mistake: Mistake | None


def slips_of(reading: Reading) -> list[Mistake]:
    """List the slips that could have made this reading out of another one.

    Source: common practice, no source: burned inch, an eighth for a sixteenth, swapped digits,
    centimetres for inches, a hooked tape read as pushed, the wrong way round.

    Args:
        reading: the reading as it was entered [-].

    Returns:
        Each slip with how far it puts the reading off: reading less truth [nm].
    """
    off: list[tuple[str, int]] = [*_written(reading), *_swapped_digits(reading)]
    if reading.tool.kind == "tape":
        off += _counted(reading)
    if reading.quantity in SIGNED and reading.value.nm:
        off.append(("wrong way", 2 * reading.value.nm))
    return [
        Mistake(kind, {reading.id: error}, _like(reading, reading.value.nm - error))
        for kind, error in off
        if error and (reading.quantity in SIGNED or error < reading.value.nm)
    ]


def swaps_of(readings: tuple[Reading, ...]) -> list[Mistake]:
    """List the pairs of readings whose sides may have been swapped.

    Source: common practice, no source: left for right.

    Args:
        readings: the readings of one survey [-].

    Returns:
        One slip for each pair of one quantity, left and right, at one height [nm].
    """
    found = []
    for left in readings:
        for right in readings:
            pair = left.quantity in SIDED and (left.side, right.side) == ("left", "right")
            if pair and _place(left) == _place(right) and left.value.nm != right.value.nm:
                apart = left.value.nm - right.value.nm
                meant = f"left {right.value.entered}, right {left.value.entered}"
                found.append(Mistake(LEFT_FOR_RIGHT, {left.id: apart, right.id: -apart}, meant))
    return found


def _place(reading: Reading) -> tuple[str, int | None, int | None]:
    height, over = reading.height, reading.over
    return reading.quantity, height.nm if height else None, over.nm if over else None


def _counted(reading: Reading) -> list[tuple[str, int]]:
    metric = _metric(reading)
    off = [(BURNED_INCH, NM_PER_INCH)]
    if not metric:
        off += [("an inch miscounted", -NM_PER_INCH)]
        off += [("a foot miscounted", sign * NM_PER_FOOT) for sign in (1, -1)]
    if reading.tool.hook:
        travel = tables_shape.HOOK_TRAVEL.value
        off += [("hook pushed", -travel), ("hook pulled", travel)]
    return off


def _written(reading: Reading) -> list[tuple[str, int]]:
    nm, graduation = reading.value.nm, reading.tool.graduation.nm
    off = [("one mark off", graduation), ("one mark off", -graduation)]
    if _metric(reading):
        centimetre = 10 * NM_PER_MM
        off += [("a centimetre miscounted", sign * centimetre) for sign in (1, -1)]
        if reading.value.entered.strip().endswith("cm"):
            off.append(("centimetres for inches", nm - nm * 254 // 100))
        return off
    part = abs(nm) % NM_PER_INCH
    sign = -1 if nm < 0 else 1
    if part and part % (NM_PER_INCH // 8) == 0:
        off.append(("an eighth for a sixteenth", sign * part // 2))
    if part and 2 * part < NM_PER_INCH and part % (NM_PER_INCH // 16) == 0:
        off.append(("a sixteenth for an eighth", -sign * part))
    if not part or "." in reading.value.entered:
        off.append(("inches for centimetres", nm - nm * 100 // 254))
    return off


def _swapped_digits(reading: Reading) -> list[tuple[str, int]]:
    """Swap each two neighbouring digits of the number, over its point but not into its fraction."""
    text = reading.value.entered
    number = re.search(r"\d+(?:\.\d+)?(?![\d/])", text)
    if number is None:
        return []
    places = [n for n in range(*number.span()) if text[n].isdigit()]
    off = []
    for one, other in pairwise(places):
        turned = list(text)
        turned[one], turned[other] = turned[other], turned[one]
        try:
            off.append(("swapped digits", reading.value.nm - length_parse("".join(turned)).nm))
        except LengthError:
            continue
    return off


def _metric(reading: Reading) -> bool:
    return reading.value.entered.strip().endswith("m")


def _like(reading: Reading, nm: int) -> str:
    return mm_text(nm) if _metric(reading) else inch_text(nm, 32)


def suspicions(adjusted: Fit, ids: tuple[str, ...], slips: list[Mistake]) -> list[Suspicion]:
    """Weigh everything that may be wrong by how well it explains the residuals.

    A slip of a known size competes with a mistake of any size in each reading. The weights say
    which to look at first; they never take a reading out.

    Source: Bayes' rule over the left-over sum of squares; the prior weights are a house setting.

    Args:
        adjusted: the adjustment with every reading in it [-].
        ids: the readings, in the order of the adjustment [-].
        slips: the slips to be weighed [nm].

    Returns:
        The suspicions, the heaviest first; their shares add up to 1 [-].
    """
    weighed = [
        (_log_weight_of_slip(adjusted, ids, slip), tuple(slip.errors_nm), slip)
        for slip in slips
        if set(slip.errors_nm) <= set(ids)
    ] + [(weight, (one,), None) for one, weight in _of_any_size(adjusted, ids)]
    if not weighed:
        return []
    heaviest = max(weight for weight, _, _ in weighed)
    total = sum(math.exp(weight - heaviest) for weight, _, _ in weighed)
    found = [
        Suspicion(readings, math.exp(weight - heaviest) / total, slip)
        for weight, readings, slip in weighed
    ]
    return sorted(found, key=lambda one: -one.share)


def _log_weight_of_slip(adjusted: Fit, ids: tuple[str, ...], slip: Mistake) -> float:
    prior = math.log(tables_shape.MISTAKE_WEIGHTS.value[slip.kind])
    return prior - left_over(adjusted, error_vector(ids, slip)) / 2


def error_vector(
    ids: tuple[str, ...], slip: Mistake
) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return a slip as what it adds to each reading.

    Args:
        ids: the readings, in the order of the adjustment [-].
        slip: the slip [nm].

    Returns:
        One error per reading [mm].
    """
    return np.array([slip.errors_nm.get(one, 0) / NM_PER_MM for one in ids])


def _of_any_size(adjusted: Fit, ids: tuple[str, ...]) -> list[tuple[str, float]]:
    total, shares = left_over(adjusted), redundancies(adjusted)
    sizes, seen = standardised(adjusted), checkable(adjusted)
    reach = 2 * tables_shape.UNKNOWN_MISTAKE_REACH.value
    prior = math.log(tables_shape.UNKNOWN_MISTAKE_WEIGHT.value)
    found = []
    for n in np.flatnonzero(seen):
        spread = math.sqrt(2 * math.pi / shares[n]) * adjusted.sigmas[n]
        weight = prior + math.log(spread / reach) - (total - sizes[n] ** 2) / 2
        found.append((ids[n], float(weight)))
    return found


def explanation(slips: list[Mistake], one: str, off_mm: float, u_mm: float) -> Mistake | None:
    """Name the slip that explains by how much one reading is off, if a slip does.

    Source: the slip lies within the firm's number of standard uncertainties of what is off; of
    several the likeliest, by the prior weights of the house.

    Args:
        slips: the slips known [nm].
        one: the reading [-].
        off_mm: the reading less what the others make of it [mm].
        u_mm: standard uncertainty of that difference, more than zero [mm].

    Returns:
        The likeliest slip, or None when no slip is near enough [-].
    """

    def apart(slip: Mistake) -> float:
        return (slip.errors_nm[one] / NM_PER_MM - off_mm) / u_mm

    def weight(slip: Mistake) -> float:
        return math.log(tables_shape.MISTAKE_WEIGHTS.value[slip.kind]) - apart(slip) ** 2 / 2

    own = [slip for slip in slips if tuple(slip.errors_nm) == (one,)]
    close = [slip for slip in own if abs(apart(slip)) <= tables_shape.MISTAKE_EXPLAINS.value]
    return max(close, key=weight, default=None)
