"""A short season with a fixed seed: three crews, eight working days, the night the clocks go back."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime

import pytest
from django.db import transaction

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.notices.services import notice_record
from jobs.installs.models import Install
from jobs.jobs.models import Job
from jobs.reminders import hearing
from jobs.reminders.models import Reminder
from jobs.stock.models import VanItem
from tests.season import invariants
from tests.season.invariants import Breaches, breaches_of, broken
from tests.season.report import report_of
from tests.season.season import Season, season_played


@pytest.mark.django_db
def test_a_short_season_breaks_nothing_and_what_is_broken_is_told(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # Within a test's own transaction PostgreSQL settles nothing; let the rules hear all the same.
    after = lambda position: Notice.objects.filter(pk__gt=position).order_by("pk")  # noqa: E731
    monkeypatch.setattr(hearing, "settled_after", after)
    season = season_played(seed=11, days=8, enquiries=0.75)
    found = breaches_of(season)
    assert not found, "\n".join([*found, *report_of(season)])
    assert season.field.marks
    assert set(season.ledger.requests) == {"office", "tablet", "program"}
    for ask, spoil in SPOILED.items():
        with _spoiled(season, spoil):
            assert broken(season, ask), ask.__name__


@contextmanager
def _spoiled(season: Season, spoil: Callable[[Season], object]) -> Iterator[None]:
    """Break one thing, and put it right again."""
    kept = dict(season.field.readings), dict(season.field.loaded), list(season.field.marks)
    with transaction.atomic():
        spoil(season)
        yield
        transaction.set_rollback(True)
    season.field.readings, season.field.loaded, season.field.marks = kept


def _wrong_mark(season: Season) -> None:
    first = season.field.marks[0]
    season.field.marks[0] = type(first)(
        first.key, first.part, first.true_mm - 30, first.deduct, first.allowance
    )


LATER = datetime(2027, 1, 1, tzinfo=UTC)
SPOILED: dict[Callable[[Season], Breaches], Callable[[Season], object]] = {
    invariants.every_state_is_reached_by_moves_that_exist: lambda _: Job.objects.update(
        state="cured"
    ),
    invariants.every_write_is_in_the_history_once: lambda _: notice_record(
        by=SYSTEM, type="crew.formed", about="heron"
    ),
    invariants.every_reading_is_stored_as_it_was_sent: lambda season: (
        season.field.readings.popitem()
    ),
    invariants.no_wrong_mark_was_released: _wrong_mark,
    invariants.every_cure_was_waited_for: lambda _: Install.objects.update(cured_at=LATER),
    invariants.every_message_is_accounted_for: lambda _: Reminder.objects.update(state="failed"),
    invariants.no_message_went_out_twice: lambda _: Reminder.objects.update(state="due"),
    invariants.vans_hold_what_was_loaded_less_what_was_used: lambda _: VanItem.objects.update(
        on_hand=7
    ),
}
