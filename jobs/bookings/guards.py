"""May this crew come to this job at this time? What forbids it, and what somebody may answer for by name."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

from contractor.api.problems import Problem
from contractor.people.models import Crew, Qualification
from fitcheck.rules.quantity import kg_text
from jobs.bookings.crews import CrewFacts
from jobs.bookings.models import Booking
from jobs.bookings.standing import Standing
from jobs.bookings.travel import Travel, site_place
from jobs.bookings.way_in import TOO_TIGHT, UNKNOWN
from jobs.jobs.moments import told_at

OF_JOB = frozenset({"goods_not_received", TOO_TIGHT, UNKNOWN})
OF_CREW = frozenset(
    {"qualification_missing", "closed_day", "outside_hours", "travel_too_short", "not_cured"}
)
SKILLS = dict(Qualification.choices)


@dataclass(frozen=True, slots=True)
class Wanted:
    """One visit that somebody would like to have."""

    booking: Booking
    standing: Standing
    before: Booking | None = None
    after: Booking | None = None
    cured_at: datetime | None = None

    @property
    def starts_at(self) -> datetime:
        """When it would start."""
        return self.booking.starts_at

    @property
    def ends_at(self) -> datetime:
        """When it would end."""
        return self.booking.ends_at


@dataclass(frozen=True, slots=True)
class Refusal:
    """One reason why a crew may not come: nobody can answer for it."""

    code: str
    says: str
    hint: str
    facts: dict[str, Any] = field(default_factory=dict)

    def problem(self) -> Problem:
        """Make the refusal that is told over HTTP."""
        return Problem(
            self.code, self.says, status=409, hint=self.hint, pointer="/crew", **self.facts
        )


def refusals_of_crew(
    facts: CrewFacts, standing: Standing, hands: int | None = None
) -> list[Refusal]:
    """Tell what forbids a crew at any time: too few hands, or a rack too weak for the glass.

    Args:
        hands: who is there on the day [persons]; as a rule all its active members.
    """
    slug, found = facts.crew.slug, []
    hands = len(facts.members) if hands is None else hands
    if hands < standing.hands:
        says = f"Crew {slug} has {hands} {_people(hands)}; this visit needs {standing.hands}."
        hint = f"Book a crew of at least {standing.hands}."
        told = {"hands": hands, "hands_needed": standing.hands}
        found.append(Refusal("hands_short", says, hint, told))
    rack = facts.rack_ug
    if rack is not None and standing.mass_ug > rack:
        says = (
            f"The panels weigh {kg_text(standing.mass_ug)} together;"
            f" the rack of crew {slug} carries {facts.crew.rack_mass}."
        )
        found.append(Refusal("rack_too_weak", says, "Book a crew whose van carries them."))
    return found


def check_forbidden(facts: CrewFacts, wanted: Wanted) -> None:
    """Refuse what nobody can answer for.

    Raises:
        Problem: damaged goods, too few hands on that day, or a rack too weak.
    """
    if wanted.standing.blocked:
        raise Problem(
            "goods_damaged",
            f"Damaged, so there is nothing whole to hang: {'; '.join(wanted.standing.blocked)}.",
            status=409,
            hint="Book the install when the replacement has been received.",
            pointer="/job",
            damaged=list(wanted.standing.blocked),
        )
    days = facts.days_of(wanted.starts_at, wanted.ends_at)
    for one in refusals_of_crew(facts, wanted.standing, len(facts.present(days))):
        raise one.problem()


def objections(facts: CrewFacts, wanted: Wanted, travel: Travel) -> list[dict[str, str]]:
    """List what is against a crew at a time but can be answered for by name and reason."""
    days = facts.days_of(wanted.starts_at, wanted.ends_at)
    found = [
        *_unqualified(facts, wanted.standing, days),
        *_not_working(facts, wanted, days),
        *_on_the_road(wanted, travel),
    ]
    if wanted.cured_at is not None and wanted.starts_at < wanted.cured_at:
        until = told_at(wanted.cured_at, wanted.booking.job.site.time_zone)
        says = f"The bead of the earlier visit cures until {until}."
        found.append(_against("not_cured", says))
    return found


def _unqualified(facts: CrewFacts, standing: Standing, days: Any) -> list[dict[str, str]]:
    have = {skill for one in facts.present(days) for skill in one.qualifications}
    return [
        _against(
            "qualification_missing",
            f"Nobody of crew {facts.crew.slug} is qualified for {why} ({SKILLS[skill].lower()}).",
        )
        for skill, why in standing.qualifications.items()
        if skill not in have
    ]


def _not_working(facts: CrewFacts, wanted: Wanted, days: Any) -> list[dict[str, str]]:
    found = [
        _against("closed_day", f"{day:%a %d %b %Y} is closed for crew {facts.crew.slug}: {name}.")
        for day in days
        if (name := facts.closed.get(day))
    ]
    if facts.has_hours and not _within_hours(facts, wanted, days):
        says = (
            f"Crew {facts.crew.slug} works {_hours_text(facts, days[0])}"
            f" ({facts.crew.time_zone}); this visit is not within that."
        )
        found.append(_against("outside_hours", says))
    return found


def _within_hours(facts: CrewFacts, wanted: Wanted, days: Any) -> bool:
    """Ask whether a visit starts and ends while the crew works; on one day, within one span."""
    starts = [s for s in facts.spans(days[0]) if s[0] <= wanted.starts_at < s[1]]
    ends = [s for s in facts.spans(days[-1]) if s[0] < wanted.ends_at <= s[1]]
    return bool(starts and ends) and (len(days) > 1 or starts[0] == ends[0])


def _hours_text(facts: CrewFacts, day: Any) -> str:
    spans = facts.spans(day)
    told = [f"{s.astimezone(facts.zone):%H:%M}–{e.astimezone(facts.zone):%H:%M}" for s, e in spans]
    return f"{day:%A} {', '.join(told)}" if told else f"not on {day:%A}"


def _on_the_road(wanted: Wanted, travel: Travel) -> list[dict[str, str]]:
    here, found = site_place(wanted.booking.job.site), []
    before, after = wanted.before, wanted.after
    if before is not None:
        need = travel.minutes(site_place(before.job.site), here)
        if before.ends_at + timedelta(minutes=need) > wanted.starts_at:
            says = f"The drive from {before.number} ({before.local()}) takes {need} min."
            found.append(_against("travel_too_short", says))
    if after is not None:
        need = travel.minutes(here, site_place(after.job.site))
        if wanted.ends_at + timedelta(minutes=need) > after.starts_at:
            says = f"The drive on to {after.number} ({after.local()}) takes {need} min."
            found.append(_against("travel_too_short", says))
    return found


def _against(state: str, says: str) -> dict[str, str]:
    return {"opening": "", "state": state, "says": says}


def check_answered_for(
    verdicts: list[dict[str, str]], others: list[dict[str, str]], *, name: str, reason: str
) -> list[dict[str, str]]:
    """Let a visit pass when nothing is against it, or when somebody answers for it by name.

    Args:
        verdicts: what the job's verdicts, goods and way in have against it.
        others: what the crew and the time have against it.

    Returns:
        What was overridden, to be kept with the booking.

    Raises:
        Problem: something is against it and no name and reason are given.
    """
    against = [*verdicts, *others]
    if against and not (name and reason):
        raise Problem(
            _code(verdicts, others),
            _told(verdicts, others),
            status=409,
            hint="Settle it, or send override_name and override_reason of the person who answers for it.",
            pointer="/override_name",
            against=against,
        )
    if name and not reason:
        raise Problem(
            "reason_missing",
            "An override needs a reason.",
            hint="Send override_reason.",
            pointer="/override_reason",
        )
    return against


def _code(verdicts: list[dict[str, str]], others: list[dict[str, str]]) -> str:
    """Call it by the verdict that is against it, else by what stands first."""
    if any(one["state"] not in OF_JOB for one in verdicts):
        return "verdict_against"
    return [*verdicts, *others][0]["state"]


def _told(verdicts: list[dict[str, str]], others: list[dict[str, str]]) -> str:
    of_job = [one["says"] for one in verdicts if one["state"] in OF_JOB]
    text = " ".join([*of_job, *(one["says"] for one in others)])
    rows = [one for one in verdicts if one["state"] not in OF_JOB]
    if not rows:
        return text
    what = "; ".join(f"{one['opening']} {one['state']}: {one['says']}".strip() for one in rows)
    return f"This install is not covered by a verdict that fits. {what} {text}".strip()


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
