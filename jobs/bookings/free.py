"""When could a crew come? Every gap in the crews' days that takes the visit and the drive, best first.

An offer is ranked by minutes: what the visit adds to the day's driving, WAIT for each day that the
customer waits, SPARE for each hand more than the visit needs, BLIND when a place and so the drive is
not known. These are house settings. The
first and the last start of each gap are offered, on quarter hours.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from math import ceil
from zoneinfo import ZoneInfo

from django.utils import timezone

from contractor.people.models import Crew
from jobs.bookings.asking import standing_bookings
from jobs.bookings.crews import CrewFacts, facts_of
from jobs.bookings.curing import cured_at
from jobs.bookings.guards import SKILLS, refusals_of_crew
from jobs.bookings.models import Booking, Visit
from jobs.bookings.standing import Standing, standing_of
from jobs.bookings.travel import Place, Travel, site_place
from jobs.jobs.models import Job

WAIT, SPARE, BLIND = 10, 15, 60  # minutes
QUARTER = 15 * 60
MOST_OFFERS = 20


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked: a visit of some length at a job, between two days of the site's calendar."""

    job: Job
    visit: str
    length: timedelta
    first_day: date
    last_day: date
    crew: Crew | None = None

    @property
    def window(self) -> tuple[datetime, datetime]:
        """The moments at which the first day begins and the last one ends, at the site."""
        zone = ZoneInfo(self.job.site.time_zone)
        first = datetime.combine(self.first_day, datetime.min.time(), zone)
        after = datetime.combine(self.last_day + timedelta(days=1), datetime.min.time(), zone)
        return first.astimezone(UTC), after.astimezone(UTC)


@dataclass(frozen=True, slots=True)
class Gap:
    """Time of one crew between two visits, or between a visit and the working day's edge."""

    facts: CrewFacts
    day: date
    starts_at: datetime
    ends_at: datetime
    before: Booking | None
    after: Booking | None

    def places(self) -> tuple[Place | None, Place | None]:
        """Where the crew comes from and where it goes on to."""
        ends = [site_place(one.job.site) if one else None for one in (self.before, self.after)]
        start = self.facts.start
        return (ends[0] if self.before else start), (ends[1] if self.after else start)


@dataclass(frozen=True, slots=True)
class Offer:
    """One time at which one crew could come, with why."""

    crew: Crew
    starts_at: datetime
    ends_at: datetime
    travel_before: int
    travel_after: int
    added: int
    hands: int
    cost: int
    drive_known: bool
    why: str


@dataclass(frozen=True, slots=True)
class Answer:
    """Offers, best first, and the crews that cannot come with why not."""

    standing: Standing
    offers: list[Offer]
    refused: list[tuple[Crew, str]]
    not_before: datetime | None = None


@dataclass(slots=True)
class _Looked:
    """What was seen of one crew's days; makes the sentence of a crew without an offer."""

    days: int = 0
    at_home: int = 0
    closed: set[str] = field(default_factory=set)
    short: int = 0
    drive: int = 0

    def why(self, hours: float) -> str:
        told = [f"No gap of {hours:g} h and the drive on {_days(self.days)}"] if self.days else []
        told += [f"The drive from where it starts takes {self.drive} min"] if self.drive else []
        told += [f"At home on {_days(self.at_home)}"] if self.at_home else []
        told += [f"Closed: {', '.join(sorted(self.closed))}"] if self.closed else []
        told += (
            [f"Too few there, or nobody qualified, on {_days(self.short)}"] if self.short else []
        )
        return ". ".join(told) + "."


def _days(count: int) -> str:
    return f"{count} day" if count == 1 else f"{count} days"


def free_find(question: Question) -> Answer:
    """Look for free time; a fixed number of statements whatever the number of crews and days."""
    standing = standing_of(question.job, question.visit)
    opens, closes = question.window
    cured = cured_at(question.job) if question.visit == Visit.FOLLOW_UP else None
    opens = max(opens, timezone.now(), cured or opens)
    crews = [question.crew] if question.crew else list(Crew.objects.filter(is_active=True))
    refused: list[tuple[Crew, str]] = []
    gaps: list[Gap] = []
    looked: dict[int, _Looked] = {}
    taken = _taken(crews, opens, closes)
    for facts in facts_of(crews, opens, closes):
        why = _never(facts, standing)
        if why:
            refused.append((facts.crew, why))
            continue
        seen = looked[facts.crew.pk] = _Looked()
        gaps += _gaps(facts, standing, opens, closes, taken.get(facts.crew.pk, []), seen)
    offers = _offers(question, standing, gaps, opens, closes, looked)
    fit = {one.crew.pk for one in offers}
    hours = question.length.total_seconds() / 3600
    for crew in crews:
        if crew.pk in looked and crew.pk not in fit:
            refused.append((crew, looked[crew.pk].why(hours)))
    return Answer(standing, offers[:MOST_OFFERS] if not standing.blocked else [], refused, cured)


def _taken(crews: Sequence[Crew], opens: datetime, closes: datetime) -> dict[int, list[Booking]]:
    rows = standing_bookings().filter(
        crew__in=[one.pk for one in crews],
        ends_at__gt=opens - timedelta(days=1),
        starts_at__lt=closes + timedelta(days=1),
    )
    found: dict[int, list[Booking]] = {}
    for one in rows.select_related("job__site").order_by("starts_at"):
        found.setdefault(one.crew_id, []).append(one)
    return found


def _never(facts: CrewFacts, standing: Standing) -> str:
    """Say why a crew cannot come on any day; empty when it might."""
    why = [one.says for one in refusals_of_crew(facts, standing)]
    missing = _missing(facts.members, standing)
    why += [f"Nobody in it is qualified for {one}." for one in missing]
    if not facts.has_hours:
        why.append("Nobody has told when it works.")
    return " ".join(why)


def _missing(members: Sequence[object], standing: Standing) -> list[str]:
    have = {skill for one in members for skill in one.qualifications}  # type: ignore[attr-defined]
    return [why for skill, why in standing.qualifications.items() if skill not in have]


def _gaps(
    facts: CrewFacts,
    standing: Standing,
    opens: datetime,
    closes: datetime,
    taken: Sequence[Booking],
    seen: _Looked,
) -> Iterator[Gap]:
    for day in facts.days_of(opens, closes):
        spans = facts.spans(day)
        if not spans:
            seen.at_home += 1
            continue
        if day in facts.closed:
            seen.closed.add(facts.closed[day])
            continue
        present = facts.present([day])
        if len(present) < standing.hands or _missing(present, standing):
            seen.short += 1
            continue
        seen.days += 1
        for start, end in spans:
            yield from _between(facts, day, (start, end), taken)


def _between(
    facts: CrewFacts, day: date, span: tuple[datetime, datetime], taken: Sequence[Booking]
) -> Iterator[Gap]:
    """Give the gaps of one working span, from its start over each visit to its end."""
    begins, before = span[0], None
    for one in taken:
        if one.ends_at <= span[0] or one.starts_at >= span[1]:
            continue
        if one.starts_at > begins:
            yield Gap(facts, day, begins, one.starts_at, before, one)
        begins, before = max(begins, one.ends_at), one
    if begins < span[1]:
        yield Gap(facts, day, begins, span[1], before, None)


def _offers(
    question: Question,
    standing: Standing,
    gaps: Sequence[Gap],
    opens: datetime,
    closes: datetime,
    looked: dict[int, _Looked],
) -> list[Offer]:
    here = site_place(question.job.site)
    travel = Travel()
    travel.learn(
        leg
        for origin, onward in (gap.places() for gap in gaps)
        for leg in ((origin, here), (here, onward), (origin, onward))
    )
    found = []
    for gap in gaps:
        origin, onward = gap.places()
        there, back = travel.minutes(origin, here), travel.minutes(here, onward)
        first = _quarter(max(gap.starts_at + timedelta(minutes=there), opens), up=True)
        latest = min(gap.ends_at - timedelta(minutes=back), closes) - question.length
        last = _quarter(latest, up=False)
        if gap.before is None:
            looked[gap.facts.crew.pk].drive = there
        known = None not in (origin, here, onward)
        added = there + back - (travel.minutes(origin, onward) if known else 0)
        for start in sorted({first, last}) if first <= last else ():
            found.append(_offer(question, standing, gap, start, (there, back, added)))
    return sorted(found, key=lambda one: (one.cost, one.starts_at, one.crew.slug))


def _offer(
    question: Question, standing: Standing, gap: Gap, start: datetime, road: tuple[int, int, int]
) -> Offer:
    there, back, added = road
    present = gap.facts.present([gap.day])
    zone = ZoneInfo(question.job.site.time_zone)
    waited = max(0, (start.astimezone(zone).date() - question.first_day).days)
    cost = added + WAIT * waited + SPARE * (len(present) - standing.hands)
    blind = None in (*gap.places(), site_place(question.job.site))
    return Offer(
        crew=gap.facts.crew,
        starts_at=start,
        ends_at=start + question.length,
        travel_before=there,
        travel_after=back,
        added=added,
        hands=len(present),
        cost=cost + (BLIND if blind else 0),
        drive_known=not blind,
        why=_why(question, standing, gap, len(present)),
    )


def _why(question: Question, standing: Standing, gap: Gap, hands: int) -> str:
    place = site_place(question.job.site)
    told = [f"{hands} people, {standing.hands} needed"]
    skills = [SKILLS[one].lower() for one in standing.qualifications]
    told += [f"qualified: {', '.join(skills)}"] if skills else []
    told.append(f"after {gap.before.number}" if gap.before else "first of the day")
    told.append(f"before {gap.after.number}" if gap.after else "last of the day")
    if place is None or None in gap.places():
        told.append("the drive is not known: a place is missing")
    return "; ".join(told) + "."


def _quarter(moment: datetime, *, up: bool) -> datetime:
    seconds = moment.timestamp()
    whole = ceil(seconds / QUARTER) if up else seconds // QUARTER
    return datetime.fromtimestamp(whole * QUARTER, UTC)
