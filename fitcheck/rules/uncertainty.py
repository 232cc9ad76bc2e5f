"""How far can a reading be off, and how sure is it that a limit is kept?"""

import math
from functools import lru_cache

from fitcheck.rules import tables
from fitcheck.rules.finding import State
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.survey import Reading

_ROOT_OF_TWO = math.sqrt(2)
_SUREST = 999
_HUNDREDTH_NM = NM_PER_MM // 100


def rectangular(half_width: float) -> float:
    """Return the standard uncertainty of a value that lies anywhere within +- half_width.

    Source: JCGM 100:2008, 4.3.7.

    Args:
        half_width: half the width of the interval [mm].

    Returns:
        The standard uncertainty [mm].
    """
    return half_width / math.sqrt(3)


def resolution(step: float) -> float:
    """Return the standard uncertainty that comes of reading to the nearest step.

    Source: JCGM 100:2008, F.2.2.1.

    Args:
        step: one graduation of the tool [mm].

    Returns:
        The standard uncertainty [mm].
    """
    return step / math.sqrt(12)


def combined(*parts: float) -> float:
    """Return the combined standard uncertainty of independent parts.

    Source: JCGM 100:2008, 5.1.2.

    Args:
        parts: standard uncertainties, each already multiplied by its sensitivity [mm].

    Returns:
        The root of the sum of squares [mm].
    """
    return math.sqrt(sum(part * part for part in parts))


def tape_error_mi008(accuracy_class: str, length_nm: int, *, hook: bool) -> float:
    """Return the largest error that a tape of this class may have, a + bL (+ c).

    Source: 2014/32/EU annex X (MI-008) chapter I, paragraph 2; L is rounded up to a whole metre.

    Args:
        accuracy_class: "I", "II" or "III" [-].
        length_nm: the length read [nm].
        hook: whether an end of the reading is a hook or a butt [-].

    Returns:
        The maximum permissible error [mm].

    Raises:
        KeyError: the class is none of the three.
    """
    a, b, c = tables.TAPE_A_B_C.value[accuracy_class]
    metres = -(-abs(length_nm) // (1000 * NM_PER_MM))
    return a + b * metres + (c if hook else 0.0)


def tape_error_handbook_44(length_nm: int) -> float:
    """Return the tolerance of a metal tape by its length.

    Source: NIST Handbook 44, 5.52.

    Args:
        length_nm: the length read [nm].

    Returns:
        The tolerance, in excess or deficiency [mm].
    """
    for up_to, tolerance in tables.TAPE_HANDBOOK_44.value:
        if abs(length_nm) <= up_to:
            return tolerance / NM_PER_MM
    return tables.HANDBOOK_44_BEYOND.value / NM_PER_MM


def reading_uncertainty(reading: Reading) -> float:
    """Return the standard uncertainty of one reading from its tool.

    Source: the tool's class (MI-008 or Handbook 44) as a rectangular part, its graduation, and
    the firm's own figure for repeating a reading; lasers and levels by the firm's own table.

    Args:
        reading: the reading with its tool [-].

    Returns:
        The standard uncertainty [mm].
    """
    usual = tables.LEVEL_RUN_WHEN_NOT_SAID.value.get(reading.quantity, tables.LEVEL_RUN.value)
    over_nm = reading.over.nm if reading.over else usual
    tool = reading.tool
    made = (tool.kind, tool.accuracy_class, tool.hook, tool.graduation.nm)
    return _tool_uncertainty(*made, abs(reading.value.nm), over_nm)


@lru_cache(maxsize=4096)
def _tool_uncertainty(
    kind: str, accuracy_class: str, hook: bool, graduation_nm: int, length_nm: int, over_nm: int
) -> float:
    half_width = (
        _tape_half_width(accuracy_class, length_nm, hook=hook)
        if kind == "tape"
        else _other_half_width(kind, over_nm)
    )
    return combined(
        rectangular(half_width),
        resolution(graduation_nm / NM_PER_MM),
        tables.READING_REPEATABILITY.value,
    )


def _other_half_width(kind: str, over_nm: int) -> float:
    if kind == "level":
        per_metre = tables.LEVEL_HALF_WIDTH_PER_METRE.value
        return per_metre * over_nm / (1000 * NM_PER_MM)
    return tables.TOOL_HALF_WIDTH.value[kind]


def _tape_half_width(accuracy_class: str, length_nm: int, *, hook: bool) -> float:
    if accuracy_class == "h44":
        return tape_error_handbook_44(length_nm)
    if accuracy_class == "none":
        worst = tape_error_mi008("III", length_nm, hook=hook)
        return tables.UNMARKED_TAPE_TIMES_CLASS_III.value * worst
    return tape_error_mi008(accuracy_class, length_nm, hook=hook)


def normal_share(deviations: float) -> float:
    """Return the share of a standard normal distribution that lies below a number of deviations.

    Source: closed form by the error function.

    Args:
        deviations: distance from the middle in standard deviations [-].

    Returns:
        The share [-].
    """
    return 0.5 * (1.0 + math.erf(deviations / _ROOT_OF_TWO))


def conformance_probability(
    value: float, u: float, least: float | None = None, most: float | None = None
) -> float:
    """Return the probability that a measured value truly lies within its limits.

    Source: JCGM 106:2012, 7.2 to 7.4 (normal distribution).

    Args:
        value: the measured value [mm].
        u: its standard uncertainty, zero or more [mm].
        least: the lower limit, if there is one [mm].
        most: the upper limit, if there is one [mm].

    Returns:
        The probability [-].
    """
    if u == 0:
        return float((least is None or value >= least) and (most is None or value <= most))
    below_most = 1.0 if most is None else normal_share((most - value) / u)
    below_least = 0.0 if least is None else normal_share((least - value) / u)
    return max(0.0, below_most - below_least)


def guard_band_nm(u_mm: float, guard_factor: float) -> int:
    """Return the guard band, rounded up to a hundredth of a millimetre as it is printed.

    Source: JCGM 106:2012, 8.3 (guarded acceptance); the factor is a house setting.

    Args:
        u_mm: standard uncertainty of the margin [mm].
        guard_factor: multiple of it that is kept clear; 1.645 keeps 95 % on one side [-].

    Returns:
        The guard band [nm].
    """
    return math.ceil(guard_factor * u_mm * 100) * _HUNDREDTH_NM


def margin_state(margin_nm: int, guard_nm: int) -> State:
    """Return what a margin means: it fits only when it exceeds the guard band.

    Source: JCGM 106:2012, 8.3.2.

    Args:
        margin_nm: distance inside the limit, negative when outside [nm].
        guard_nm: the guard band [nm].

    Returns:
        "fits", "tight" or "fails" [-].
    """
    if margin_nm < 0:
        return "fails"
    return "tight" if margin_nm <= guard_nm else "fits"


def chance_text(probability: float) -> str:
    """Print a probability to three places, rounded down, never quite certain.

    Args:
        probability: from 0 to 1 [-].

    Returns:
        A text such as "0.919" [-].
    """
    thousandths = min(math.floor(probability * 1000 + 1e-9), _SUREST)
    return f"0.{thousandths:03d}"
