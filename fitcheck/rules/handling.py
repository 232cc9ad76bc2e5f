"""How many hands does a panel take, and how much may one person lift?"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from fitcheck.rules import tables
from fitcheck.rules.quantity import UG_PER_KG

Units = Literal["metric", "us"]
Coupling = Literal["good", "fair", "poor"]


@dataclass(frozen=True, slots=True)
class Lift:
    """One lifting task: distances in cm or in, by the units that are named with it."""

    horizontal: float
    vertical: float
    travel: float
    asymmetry_deg: float
    per_minute: float
    hours: float
    coupling: Coupling


def recommended_weight_limit(
    lift: Lift, units: Units = "metric", *, began_at: float | None = None
) -> float:
    """Return the load that nearly all healthy workers can lift in this task.

    A lift-only screen: carrying, stairs, one hand, kneeling and slippery floors lie outside it.

    Source: DHHS (NIOSH) 94-110, rev. 9/2021, p. 7: LC x HM x VM x DM x AM x FM x CM.

    Args:
        lift: the task [cm, in, deg, 1/min, h].
        units: "metric" or "us" [-].
        began_at: height of the hands where the lift began, for the end of a lift: the frequency
            multiplier goes by the beginning, the coupling multiplier by the end [cm or in].

    Returns:
        The recommended weight limit [kg or lb].

    Raises:
        ValueError: the task lasts more than 8 hours.

    Valid for: two-handed lifting for up to 8 hours.
    """
    _, low, _ = tables.NIOSH_VERTICAL.value[units]
    began_high = (lift.vertical if began_at is None else began_at) >= low
    return (
        tables.NIOSH_LOAD_CONSTANT.value[units]
        * _horizontal_multiplier(lift.horizontal, units)
        * _vertical_multiplier(lift.vertical, units)
        * _distance_multiplier(lift.travel, units)
        * _asymmetry_multiplier(lift.asymmetry_deg)
        * frequency_multiplier(lift.per_minute, lift.hours, high=began_high)
        * tables.NIOSH_COUPLING.value[lift.coupling][lift.vertical >= low]
    )


def _horizontal_multiplier(horizontal: float, units: Units) -> float:
    nearest, farthest = tables.NIOSH_HORIZONTAL.value[units]
    return 0.0 if horizontal > farthest else nearest / max(horizontal, nearest)


def _vertical_multiplier(vertical: float, units: Units) -> float:
    slope, knuckle, highest = tables.NIOSH_VERTICAL.value[units]
    return 0.0 if vertical > highest else 1 - slope * abs(vertical - knuckle)


def _distance_multiplier(travel: float, units: Units) -> float:
    constant, shortest, longest = tables.NIOSH_DISTANCE.value[units]
    if travel > longest:
        return 0.0
    return tables.NIOSH_DISTANCE_BASE.value + constant / max(travel, shortest)


def _asymmetry_multiplier(asymmetry_deg: float) -> float:
    slope, widest = tables.NIOSH_ASYMMETRY.value
    return 0.0 if asymmetry_deg > widest else 1 - slope * asymmetry_deg


def frequency_multiplier(per_minute: float, hours: float, *, high: bool) -> float:
    """Return the frequency multiplier, linear between the rows of the table.

    Source: DHHS (NIOSH) 94-110, rev. 9/2021, table 5.

    Args:
        per_minute: lifts per minute; fewer than 0.2 count as 0.2 [1/min].
        hours: how long the work lasts [h].
        high: whether the lift starts at 75 cm (30 in) or above [-].

    Returns:
        The multiplier [-].

    Raises:
        ValueError: the task lasts more than 8 hours.
    """
    if hours > 8:
        raise ValueError(f"hours is {hours}; the table ends at 8 h")
    column = 2 * ((hours > 1) + (hours > 2)) + high
    rows = [(row[0], row[1][column]) for row in tables.NIOSH_FREQUENCY.value]
    rate = max(per_minute, rows[0][0])
    if rate > rows[-1][0]:
        return 0.0
    (f0, m0), (f1, m1) = next(pair for pair in pairwise(rows) if rate <= pair[1][0])
    return m0 + (m1 - m0) * (rate - f0) / (f1 - f0)


def team_capability_kg(
    people: int, each_kg: float, convention: str, *, stretched: bool = False
) -> float:
    """Return what a team may lift together; two conventions exist and must not be mixed.

    Source: "iso_11228_1": 0.85 of the sum of two (from memory); it speaks of two people, so of a
    larger team two lift and the others guide. "hse_l23": HSE L23 paragraph 120, two thirds of the
    sum for two, half for three; more than three only with a lifting aid.

    Args:
        people: how many lift [-].
        each_kg: what each may lift alone [kg].
        convention: "iso_11228_1" or "hse_l23" [-].
        stretched: take the factor of two for any team, as the rules up to version 4 did [-].

    Returns:
        The capability, 0 where the convention does not speak [kg].
    """
    if people < 2:
        return each_kg * people
    if convention == "hse_l23":
        share = tables.LIFT_SHARE_HSE.value.get(people)
        return people * each_kg * share[0] / share[1] if share else 0.0
    lifting = people if stretched else min(people, tables.LIFT_TEAM_OF_ISO.value)
    return lifting * each_kg * tables.LIFT_TEAM_FACTOR.value


def hands_for(
    mass_ug: int, sheet_hands: int, convention: str, *, stretched: bool = False
) -> tuple[int, bool]:
    """Return how many people a panel takes, and whether that is enough without a lifting aid.

    Two people always; more when the kit's sheet or the mass says so.

    Source: common practice for the two; `team_capability_kg` for the mass.

    Args:
        mass_ug: mass of the panel with its hardware [ug].
        sheet_hands: the least that the kit's sheet names [-].
        convention: how a team's capability is reckoned [-].
        stretched: as `team_capability_kg` takes it [-].

    Returns:
        People, and True when they may lift it by hand [-].
    """
    mass_kg = mass_ug / UG_PER_KG
    least = max(tables.LEAST_HANDS.value, sheet_hands)
    each = tables.LIFT_REFERENCE_MASS_KG.value
    for people in range(tables.LEAST_HANDS.value, tables.LIFT_LARGEST_TEAM.value + 1):
        if team_capability_kg(people, each, convention, stretched=stretched) >= mass_kg:
            return max(people, least), True
    return max(tables.LIFT_LARGEST_TEAM.value, least), False
