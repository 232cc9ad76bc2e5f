"""How far does a sill rise or fall over its whole run, when it was read over a part of it?"""

from fitcheck.rules.compare import spoken
from fitcheck.rules.finding import Measured, Need
from fitcheck.rules.length import NM_PER_MM
from fitcheck.rules.readings import Absent, Readings, worst_of
from fitcheck.rules.sheet import AT_THE_SILL
from fitcheck.rules.survey import House

_WORDS = {"sill_level": "long", "sill_fall": "deep"}
_WIDTH = Need("width", "none", AT_THE_SILL.entered, AT_THE_SILL.nm)


def level_over_all(readings: Readings, house: House) -> Measured | Absent:
    """Return how much higher the sill's right end is than its left, over the widest width read.

    Source: plane geometry: a straight sill rises by as much again over as much more of its run.

    Args:
        readings: the readings; positive when the right end is higher [nm].
        house: the firm's settings [-].

    Returns:
        The rise, or why it is not known: no width to go by, or a span longer than the sill [nm].
    """
    run = readings.widest() or Absent((_WIDTH,))
    return _over_all(readings, "sill_level", run, house)


def fall_over_all(readings: Readings, house: House) -> Measured | Absent:
    """Return the sill's fall over its whole depth, however much of it was read.

    Source: plane geometry, as in `level_over_all`.

    Args:
        readings: the readings; positive when the sill drains inward [nm].
        house: the firm's settings [-].

    Returns:
        The fall, or why it is not known: no depth to go by, or a span longer than it [nm].
    """
    return _over_all(readings, "sill_fall", readings.single("curb_depth"), house)


def _over_all(
    readings: Readings, quantity: str, run: Measured | Absent, house: House
) -> Measured | Absent:
    groups = readings.groups(quantity)
    if house.rules < 5 or not any(group.over_nm for group in groups):
        return readings.single(quantity)
    values = []
    for group in groups:
        value = group.value
        if group.over_nm and isinstance(value, Measured):
            value = _scaled(quantity, group.over_nm, value, run, house)
        values.append(value)
    return worst_of(values, Need(quantity))


def _scaled(
    quantity: str, over_nm: int, value: Measured, run: Measured | Absent, house: House
) -> Measured | Absent:
    if isinstance(run, Absent):
        return run
    spare_nm = round(float(house.agreement_factor) * run.u_mm * NM_PER_MM)
    if over_nm > run.high_nm + spare_nm:
        span, sill = spoken(over_nm, house.mark), spoken(run.high_nm, house.mark, up=True)
        why = f"It was read over {span}, but the sill is only {sill} {_WORDS[quantity]}."
        return Absent((Need(quantity),), value.readings, why=why)
    whole_nm = max(over_nm, run.high_nm)
    return Measured(
        value.low_nm * whole_nm // over_nm,
        -(-value.high_nm * whole_nm // over_nm),
        value.u_mm * whole_nm / over_nm,
        (*value.readings, *run.readings),
    )
