"""Who of a crew is there on a day, and when does it work? Read for all crews asked at once."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from contractor.people.hours import Spans, days_between, working_spans
from contractor.people.models import ClosedDay, ClosedState, Crew, CrewMember, DayOff, Member
from fitcheck.rules.quantity import mass_parse
from jobs.bookings.travel import Place, place_of

BREAK = timedelta(hours=1)
DAY = timedelta(days=1)


@dataclass(slots=True)
class CrewFacts:
    """One crew with what decides whether it can come."""

    crew: Crew
    members: list[Member] = field(default_factory=list)
    off: list[tuple[int, date, date]] = field(default_factory=list)
    closed: dict[date, str] = field(default_factory=dict)

    @property
    def zone(self) -> ZoneInfo:
        """The zone of its hours."""
        return ZoneInfo(self.crew.time_zone or "UTC")

    @property
    def has_hours(self) -> bool:
        """Whether anybody has told when it works."""
        return any(self.crew.hours.values())

    @property
    def rack_ug(self) -> int | None:
        """What its van's rack carries [ug]; None when nobody has told."""
        return mass_parse(self.crew.rack_mass) if self.crew.rack_mass else None

    @property
    def start(self) -> Place | None:
        """Where it sets out in the morning."""
        return place_of(self.crew.start_latitude, self.crew.start_longitude)

    def day_of(self, moment: datetime) -> date:
        """Which day of its own calendar a moment is in."""
        return moment.astimezone(self.zone).date()

    def days_of(self, starts_at: datetime, ends_at: datetime) -> list[date]:
        """Every day of its calendar that a visit touches."""
        last = self.day_of(ends_at - timedelta(microseconds=1))
        return days_between(self.day_of(starts_at), last)

    def present(self, days: Sequence[date]) -> list[Member]:
        """Its active members who are there on all of these days."""
        away = {who for who, first, last in self.off if any(first <= d <= last for d in days)}
        return [one for one in self.members if one.pk not in away]

    def spans(self, day: date) -> Spans:
        """When it works on a day, a break of an hour at most left in; all day when nobody has told."""
        if not self.has_hours:
            start = datetime.combine(day, datetime.min.time(), self.zone).astimezone(UTC)
            end = datetime.combine(day + DAY, datetime.min.time(), self.zone).astimezone(UTC)
            return [(start, end)]
        found: Spans = []
        for start, end in working_spans(self.crew.hours, self.zone, day):
            if found and start - found[-1][1] <= BREAK:
                found[-1] = (found[-1][0], end)
            else:
                found.append((start, end))
        return found


def facts_of(crews: Iterable[Crew], first: datetime, last: datetime) -> list[CrewFacts]:
    """Gather members, days off and closed days of crews between two moments; three statements."""
    found = {crew.pk: CrewFacts(crew) for crew in crews}
    days = (first - DAY).date(), (last + DAY).date()
    places = CrewMember.objects.filter(crew__in=found, member__is_active=True)
    who: dict[int, list[CrewFacts]] = {}
    for place in places.select_related("member").order_by("pk"):
        found[place.crew_id].members.append(place.member)
        who.setdefault(place.member_id, []).append(found[place.crew_id])
    for off in DayOff.objects.filter(
        member__in=who, stands=True, first_day__lte=days[1], last_day__gte=days[0]
    ):
        for facts in who[off.member_id]:
            facts.off.append((off.member_id, off.first_day, off.last_day))
    _close(list(found.values()), days)
    return list(found.values())


def _close(facts: list[CrewFacts], days: tuple[date, date]) -> None:
    regions = {one.crew.region for one in facts} - {""}
    if not regions:
        return
    wanted = regions | {region.partition("-")[0] for region in regions}
    rows = ClosedDay.objects.filter(region__in=wanted, state=ClosedState.KEPT, day__range=days)
    for row in rows:
        for one in facts:
            if row.region in {one.crew.region, one.crew.region.partition("-")[0]}:
                one.closed[row.day] = row.name
