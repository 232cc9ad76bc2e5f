"""Is the invented story told once, whole, and the same on every later day?"""

from datetime import date, timedelta
from io import StringIO
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import numpy
import pytest
from django.apps import apps
from django.db import transaction
from django.db.models.signals import post_init

from contractor.api.callers import SYSTEM
from contractor.config.demo import telling
from contractor.config.demo.calendar import calendar
from contractor.config.demo.firm import SHOWN, name_of
from contractor.config.demo.kept import FILE, Kept
from contractor.config.demo.processes import Stopped
from contractor.config.demo.progress import Progress
from contractor.config.demo.story import moved_on, story, survey_id
from contractor.config.demo.telling import SomebodyElses, story_tell
from contractor.notices.models import Notice
from contractor.people.models import Member, Tablet
from contractor.people.services import member_create
from jobs.bookings.models import Booking
from jobs.surveys.models import Survey
from jobs.verdicts.models import Verdict

pytestmark = pytest.mark.django_db
ROOMS = ("notices", "people", "customers", "kits", "jobs", "openings", "surveys", "verdicts")
FIRST_DAY = date(2027, 3, 10)


def told(folder: Path) -> dict[str, Any]:
    return story_tell(kept=Kept.open(folder), progress=Progress(StringIO()))


def counts() -> dict[str, int]:
    rooms = (*ROOMS, "bookings", "reminders", "lists")
    models = [model for room in rooms for model in apps.get_app_config(room).get_models()]
    return {model._meta.label: model._default_manager.count() for model in models}


@pytest.fixture(autouse=True)
def _that_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(telling, "today", lambda: FIRST_DAY)


def test_everything_in_the_story_has_its_row(tmp_path: Path) -> None:
    rows = told(tmp_path)
    names = (
        "members",
        "crews",
        "tablets",
        "integrations",
        "customers",
        "sites",
        "jobs",
        "openings",
    )
    refs = {one["ref"] for name in (*names, "bookings") for one in story()[name]}
    assert set(rows) == refs | {one["ref"] for one in calendar()["visits"]}
    assert Survey.objects.count() == sum(len(one["surveys"]) for one in story()["openings"])
    assert rows["j-11"].summary == "Slider in the guest bathroom, not surveyed yet"


def test_told_twice_it_makes_nothing_twice(tmp_path: Path) -> None:
    told(tmp_path)
    first, kept = counts(), (tmp_path / FILE).read_text()
    told(tmp_path)
    assert counts() == first
    assert (tmp_path / FILE).read_text() == kept
    assert first["surveys.Survey"] == 17


@pytest.fixture
def full(tmp_path_factory: pytest.TempPathFactory) -> dict[str, int]:
    """Say how many rows an uninterrupted telling makes; its own rows are rolled back."""
    folder = tmp_path_factory.mktemp("uninterrupted")
    with transaction.atomic():
        told(folder)
        found = counts()
        transaction.set_rollback(True)
    return found


@pytest.mark.parametrize("last_notice", [2, 22, 47, 76, 99])
def test_stopped_inside_any_step_it_goes_on_where_it_was(
    last_notice: int, tmp_path: Path, full: dict[str, int]
) -> None:
    made = []

    def stop(**_: Any) -> None:
        made.append(1)
        if len(made) == last_notice:
            raise Stopped

    post_init.connect(stop, sender=Notice)
    try:
        with pytest.raises(Stopped):
            told(tmp_path)
    finally:
        post_init.disconnect(stop, sender=Notice)
    assert Notice.objects.count() == last_notice - 1
    told(tmp_path)
    assert counts() == full


def test_every_verdict_is_the_one_the_story_expects(tmp_path: Path) -> None:
    told(tmp_path)
    for opening in story()["openings"]:
        for survey in opening["surveys"]:
            verdict = Verdict.objects.get(survey=survey_id(survey["ref"]))
            assert (survey["ref"], verdict.state) == (survey["ref"], survey["expect"])
            assert verdict.sheet.key == f"{survey['kit']}:{survey['kit_version']}"


def test_a_later_day_changes_neither_surveys_nor_bookings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told(tmp_path)
    before = list(Survey.objects.values_list("pk", "digest", "taken_at").order_by("pk"))
    spans = list(Booking.objects.values_list("pk", "starts_at", "ends_at"))
    monkeypatch.setattr(telling, "today", lambda: FIRST_DAY + timedelta(days=200))
    told(tmp_path)
    assert list(Survey.objects.values_list("pk", "digest", "taken_at").order_by("pk")) == before
    assert list(Booking.objects.values_list("pk", "starts_at", "ends_at")) == spans
    assert Kept.open(tmp_path).first_day(date(2030, 1, 1)) == FIRST_DAY


def test_days_move_on_by_the_clock_of_the_site_across_the_change_of_clocks() -> None:
    moved = moved_on("2026-11-10T09:10:00-06:00", "America/Chicago", date(2027, 4, 25))
    assert moved == "2027-04-10T09:10:00-05:00"


def test_a_visit_stands_on_its_working_day_at_the_wall_time_of_its_site(tmp_path: Path) -> None:
    """Working days counted by numpy; none of the holidays that the firm keeps is near."""
    rows = told(tmp_path)
    for one in story()["bookings"]:
        booking = rows[one["ref"]]
        start = booking.starts_at.astimezone(ZoneInfo(booking.job.site.time_zone))
        assert f"{start:%H:%M}" == one["wall_time"]
        assert start.date() == numpy.busday_offset(FIRST_DAY, one["days_from_now"]).astype(date)


def test_a_moved_booking_is_left_where_it_was_moved(tmp_path: Path) -> None:
    booking = told(tmp_path)["b-03"]
    later = booking.starts_at + timedelta(days=30)
    Booking.objects.filter(pk=booking.pk).update(
        starts_at=later, ends_at=later + timedelta(hours=1)
    )
    told(tmp_path)
    assert Booking.objects.filter(job=booking.job, visit="install").get().starts_at == later


def test_what_was_lost_is_issued_anew_and_the_old_token_is_revoked(tmp_path: Path) -> None:
    told(tmp_path)
    old = Kept.open(tmp_path)
    (tmp_path / FILE).unlink()
    told(tmp_path)
    new = Kept.open(tmp_path)
    assert new.token("t-blue") != old.token("t-blue")
    assert Tablet.objects.filter(name="Blue tablet", revoked_at=None).count() == 1
    office = Member.objects.get(login="imke")
    assert office.check_password(new.password("imke"))
    assert not office.check_password(old.password("imke"))


def test_only_those_who_are_shown_can_log_in(tmp_path: Path) -> None:
    told(tmp_path)
    able = {one.login for one in Member.objects.all() if one.has_usable_password()}
    assert able == {name_of(ref) for ref in SHOWN}
    assert (tmp_path / FILE).stat().st_mode & 0o077 == 0


def test_it_stays_out_of_a_real_firms_database(tmp_path: Path) -> None:
    member_create(by=SYSTEM, login="somebody", name="Somebody Real", role="office")
    with pytest.raises(SomebodyElses, match="another firm"):
        told(tmp_path)
    assert Member.objects.count() == 1


def test_a_damaged_file_says_what_to_do(tmp_path: Path) -> None:
    (tmp_path / FILE).write_text('{"tokens": ')
    with pytest.raises(ValueError, match="delete it"):
        told(tmp_path)
