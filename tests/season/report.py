"""What happened in the season, in counts?"""

from collections import Counter
from collections.abc import Iterable

from django.db.models import Count

from jobs.bookings.models import Booking
from jobs.claims.models import Claim
from jobs.installs.models import Mark, Record
from jobs.jobs.models import Job
from jobs.receiving.models import Inspection
from jobs.reminders.models import Reminder
from jobs.surveys.models import Reading, Survey
from tests.season.season import Season


def report_of(season: Season) -> list[str]:
    """Write the counts down, one line a kind."""
    ledger, tally = season.ledger, season.desk.tally
    return [
        f"seed {season.seed}, {season.days} working days from {season.first}",
        _line("requests", ledger.requests.items()),
        f"writes {ledger.writes}, sent again {ledger.repeats}, notices {ledger.notices}"
        f" by requests and {season.notices_by_sweeps} by sweeps",
        _line("refusals", ledger.refusals.items()),
        _line("jobs", _by(Job, "state")),
        _line("bookings", _by(Booking, "state")),
        _line("claims", _by(Claim, "state")),
        _line("inspections", _by(Inspection, "condition")),
        f"surveys {Survey.objects.count()}, readings {Reading.objects.count()}",
        _line("saw marks", _by(Mark, "state")),
        _line("install records", _by(Record, "state")),
        _line("messages", _by(Reminder, "state")),
        f"papers {season.packets}",
        _line("chances taken", tally.items()),
    ]


def _by(model: type, column: str) -> Iterable[tuple[str, int]]:
    rows = model.objects.order_by().values_list(column).annotate(Count("pk"))  # type: ignore[attr-defined]
    return Counter(dict(rows)).items()


def _line(name: str, counts: Iterable[tuple[str, int]]) -> str:
    told = ", ".join(f"{key} {count}" for key, count in sorted(counts))
    return f"{name}: {told or 'none'}"
