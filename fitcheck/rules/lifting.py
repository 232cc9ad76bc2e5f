"""May these people lift this load, from where it stands to where it goes?

A screen of the lift only: carrying, stairs and pushing lie outside the method, and it says so.
"""

import math
from dataclasses import dataclass

from fitcheck.rules import tables
from fitcheck.rules.handling import (
    Coupling,
    Lift,
    Units,
    recommended_weight_limit,
    team_capability_kg,
)
from fitcheck.rules.quantity import UG_PER_KG, UG_PER_LB
from fitcheck.rules.tables_carrying import (
    HORIZONTAL_FROM_BOX,
    INDEX_FOR_NEARLY_ALL,
    LONGEST_WORK,
    MODERATE_WORK,
    SHORT_WORK,
)


@dataclass(frozen=True, slots=True)
class Hold:
    """Where the hands are: out from the ankles, up from the floor, turned from straight ahead."""

    horizontal: float
    vertical: float
    asymmetry_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class LiftTask:
    """A lift from one hold to another; `control` when the load must be set down with care."""

    origin: Hold
    destination: Hold
    per_minute: float
    hours: float
    coupling: Coupling
    control: bool


@dataclass(frozen=True, slots=True)
class LiftLimits:
    """The recommended weight limit at both ends, and the one that counts [kg or lb]."""

    origin: float
    destination: float
    governing: float
    governed_by: str

    def as_json(self) -> dict[str, object]:
        """Return the limits, rounded down to a tenth."""
        return {
            "origin": tenth_text(self.origin),
            "destination": tenth_text(self.destination),
            "governing": tenth_text(self.governing),
            "governed_by": self.governed_by,
        }


def lift_limits(task: LiftTask, units: Units = "metric") -> LiftLimits:
    """Return the limits at both ends of a lift; the end counts only where it needs control.

    Source: DHHS (NIOSH) 94-110, rev. 9/2021: with significant control at the destination the
    lower limit governs; the frequency multiplier goes by the height at the origin.

    Args:
        task: both holds, how often, how long, how well it is gripped [cm, in, deg, 1/min, h].
        units: "metric" or "us" [-].

    Returns:
        Limits at the origin, at the destination, and the governing one [kg or lb].

    Raises:
        ValueError: a distance, angle, rate or time below zero or not finite; more than 8 hours.

    Valid for: two-handed lifting for up to 8 hours.
    """
    _refuse_nonsense(task)
    travel = abs(task.destination.vertical - task.origin.vertical)
    origin, destination = (
        recommended_weight_limit(
            Lift(
                hold.horizontal,
                hold.vertical,
                travel,
                hold.asymmetry_deg,
                task.per_minute,
                task.hours,
                task.coupling,
            ),
            units,
            began_at=task.origin.vertical,
        )
        for hold in (task.origin, task.destination)
    )
    if task.control and destination < origin:
        return LiftLimits(origin, destination, destination, "destination")
    return LiftLimits(origin, destination, origin, "origin")


def _refuse_nonsense(task: LiftTask) -> None:
    numbers = [task.per_minute, task.hours]
    for hold in (task.origin, task.destination):
        numbers += [hold.horizontal, hold.vertical, hold.asymmetry_deg]
    if not all(math.isfinite(number) and number >= 0 for number in numbers):
        raise ValueError("distances, angles, rate and hours are zero or more")


def horizontal_estimated(depth: float, vertical: float, units: Units = "metric") -> float:
    """Return how far out the hands are when nobody measured it.

    Source: DHHS (NIOSH) 94-110, rev. 9/2021, estimating H: 20 cm + W/2 from 25 cm up, else
    25 cm + W/2 (8 in and 10 in from 10 in up).

    Args:
        depth: W, the depth of the load away from the body [cm or in].
        vertical: height of the hands [cm or in].
        units: "metric" or "us" [-].

    Returns:
        The horizontal distance [cm or in].
    """
    high, low, high_from = HORIZONTAL_FROM_BOX.value[units]
    return (high if vertical >= high_from else low) + depth / 2


def duration_hours(work_minutes: float, rest_minutes: float) -> int:
    """Return the duration class of the work: 1, 2 or 8 hours.

    Source: DHHS (NIOSH) 94-110, rev. 9/2021: short needs rest of at least 1.0 times the work
    (1994 said 1.2); moderate needs 0.3 times (from memory).

    Args:
        work_minutes: how long the lifting goes on [min].
        rest_minutes: light work that follows [min].

    Returns:
        The class, as the hours of its column [h].

    Raises:
        ValueError: a time below zero, or more than 8 hours.
    """
    if not 0 <= work_minutes <= LONGEST_WORK.value or rest_minutes < 0:
        raise ValueError("work is 0 to 480 min, rest zero or more")
    for hours, (longest, rest_share) in ((1, SHORT_WORK.value), (2, MODERATE_WORK.value)):
        if work_minutes <= longest and rest_minutes >= rest_share * work_minutes:
            return hours
    return 8


def lifting_index(load: float, limit: float) -> float:
    """Return the load over its limit; infinite where nothing may be lifted.

    Source: DHHS (NIOSH) 94-110, rev. 9/2021, lifting index L / RWL.

    Args:
        load: what is lifted [kg or lb].
        limit: what may be lifted, in the same unit [kg or lb].

    Returns:
        The index; up to 1 is fit for nearly all healthy workers [-].
    """
    return load / limit if limit > 0 else math.inf


def team_for(
    load_kg: float, each_kg: float, convention: str, *, stretched: bool = False
) -> int | None:
    """Return the smallest team whose index is at most 1.

    Source: `team_capability_kg`, by the convention named.

    Args:
        load_kg: what is lifted [kg].
        each_kg: what each may lift alone in this posture [kg].
        convention: "iso_11228_1" or "hse_l23" [-].
        stretched: as `team_capability_kg` takes it [-].

    Returns:
        How many people; None where no team may, so that it takes a lifting aid [-].
    """
    for people in range(tables.LEAST_HANDS.value, tables.LIFT_LARGEST_TEAM.value + 1):
        capability = team_capability_kg(people, each_kg, convention, stretched=stretched)
        if lifting_index(load_kg, capability) <= INDEX_FOR_NEARLY_ALL.value:
            return people
    return None


def tenth_text(kilograms: float) -> str:
    """Print a limit in kilograms, rounded down to a tenth.

    Args:
        kilograms: the limit [kg].

    Returns:
        A text such as "12.9 kg" [kg].
    """
    return f"{math.floor(kilograms * 10 + 1e-9) / 10:.1f} kg"


def tenth_pounds(kilograms: float) -> str:
    """Print a limit in pounds, rounded down to a tenth.

    Source: NIST SP 811, 1 lb = 0.45359237 kg exactly.

    Args:
        kilograms: the limit [kg].

    Returns:
        A text such as "28.5 lb" [lb].
    """
    return f"{math.floor(kilograms * UG_PER_KG / UG_PER_LB * 10 + 1e-9) / 10:.1f} lb"
