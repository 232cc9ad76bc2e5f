"""May this job be installed by this crew? Every opening's verdict and the crew's hands are asked."""

from dataclasses import dataclass
from typing import Any

from contractor.api.problems import Problem
from contractor.people.models import Crew
from jobs.bookings.models import Visit
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.verdicts.models import State, Verdict
from jobs.verdicts.services import verdict_outdated, verdict_standing

ALWAYS_TWO = 2


@dataclass(frozen=True, slots=True)
class Standing:
    """What the verdicts of a job say together."""

    hands: int
    against: list[dict[str, str]]


def standing_of(job: Job, visit: str) -> Standing:
    """Ask every opening of the job; only an install needs verdicts."""
    if visit != Visit.INSTALL:
        return Standing(1, [])
    found = [(one, verdict_standing(opening=one)) for one in job.openings.select_related("kit")]
    hands = [verdict.result["hands_needed"] for _, verdict in found if verdict]
    against = [why for opening, verdict in found if (why := _against(opening, verdict))]
    if not found:
        text = "The job has no opening yet."
        against.append({"opening": "", "state": State.UNKNOWN.value, "says": text})
    return Standing(max([ALWAYS_TWO, *hands]), against)


def _against(opening: Opening, verdict: Verdict | None) -> dict[str, str] | None:
    if verdict is None:
        text = "No verdict yet: survey it, or ask for a verdict with its kit."
        return {"opening": opening.number, "state": State.UNKNOWN.value, "says": text}
    if verdict_outdated(verdict=verdict):
        text = "Surveyed again, or described otherwise, since the verdict: ask for it anew."
        return {"opening": opening.number, "state": State.UNKNOWN.value, "says": text}
    if verdict.state != State.FITS:
        return {
            "opening": opening.number,
            "state": verdict.state,
            "says": verdict.result["summary"],
        }
    return None


def check_verdicts(standing: Standing, *, name: str, reason: str) -> list[dict[str, str]]:
    """Let the job pass when every verdict fits, or when somebody answers for it by name.

    Returns:
        What was overridden, to be kept with the booking.

    Raises:
        Problem: a verdict is against it and no name and reason are given.
    """
    if standing.against and not (name and reason):
        what = "; ".join(
            f"{one['opening']} {one['state']}: {one['says']}" for one in standing.against
        )
        raise Problem(
            "verdict_against",
            f"This install is not covered by a verdict that fits. {what}",
            status=409,
            hint="Settle it, or send override_name and override_reason of the person who answers for it.",
            pointer="/override_name",
            against=standing.against,
        )
    if name and not reason:
        raise Problem(
            "reason_missing",
            "An override needs a reason.",
            hint="Send override_reason.",
            pointer="/override_reason",
        )
    return standing.against


def check_hands(crew: Crew, needed: int) -> None:
    """Refuse a crew that cannot lift the heaviest panel.

    Raises:
        Problem: too few active members.
    """
    hands = crew.hands()
    if hands < needed:
        raise Problem(
            "hands_short",
            f"Crew {crew.slug} has {hands} {_people(hands)}; this visit needs {needed}.",
            status=409,
            hint=f"Book a crew of at least {needed}.",
            pointer="/crew",
            hands=hands,
            hands_needed=needed,
        )


def _people(count: int) -> str:
    return "person" if count == 1 else "people"


def clash(booking: Any, crew: Crew) -> Problem:
    """Name the booking that holds the time."""
    which = f"{booking.number} ({booking.local()})" if booking else "another booking"
    return Problem(
        "crew_taken",
        f"Crew {crew.slug} is taken by {which}.",
        status=409,
        hint="Choose another time or crew.",
        pointer="/starts_at",
        taken_by=booking.number if booking else "",
    )
