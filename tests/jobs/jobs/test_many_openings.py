"""Does a job with many openings ask the database as often as one with few, and answer the same?"""

from collections.abc import Callable
from typing import Any

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from jobs.bookings.models import Booking
from jobs.claims.models import Warranty
from jobs.installs.models import Install
from jobs.installs.services import install_start
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.surveys.models import Survey
from jobs.verdicts.many import verdicts_outdated, verdicts_standing
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_outdated, verdict_standing
from tests.clients import Caller
from tests.factories import CrewFactory, MemberFactory, fresh_uuid, survey_case
from tests.installs import sent

SPAN = {"starts_at": "2027-05-04T13:00:00Z", "ends_at": "2027-05-04T21:00:00Z"}
ANYWAY = {"override_name": "Imke Thorsby", "override_reason": "The goods come that morning."}


def copied(row: Any, **values: Any) -> Any:
    """The same row once more, under another key."""
    row.pk = None if isinstance(row, Opening) else fresh_uuid()
    for name, value in values.items():
        setattr(row, name, value)
    row.save(force_insert=True)
    return row


def job_of(office: Caller, many: int) -> Job:
    """One opening surveyed through HTTP, and the others like it."""
    case = survey_case("fits")
    assert office.post("/api/v1/surveys/", case.body).status_code == 201
    Opening.objects.filter(pk=case.opening.pk).update(kit=case.kit)
    verdict, survey = Verdict.objects.get(), Survey.objects.get()
    for number in range(many - 1):
        opening = copied(Opening.objects.get(pk=case.opening.pk), name=f"Bath {number}")
        other = copied(Survey.objects.get(pk=survey.pk), opening=opening)
        copied(Verdict.objects.get(pk=verdict.pk), opening=opening, survey=other)
    return Job.objects.get(pk=case.opening.job_id)


def asked(work: Callable[[], Any]) -> int:
    """How often the database was asked."""
    with CaptureQueriesContext(connection) as statements:
        answer = work()
    assert answer.status_code in {200, 201}, answer.content
    return len(statements)


def whole_life(office: Caller, many: int) -> list[int]:
    """Statements of reading, seeing, deciding, booking, reading under way, and calling it installed."""
    job = job_of(office, many)
    crew = CrewFactory(members=[MemberFactory() for _ in range(3)])
    path = f"/api/v1/jobs/{job.number}/"
    booking = {"job": job.number, "crew": crew.slug, "visit": "install", **SPAN, **ANYWAY}
    told = [
        asked(lambda: office.get(path)),
        asked(lambda: office.get(path, headers={"Accept": "text/html"})),
        asked(lambda: office.post(f"{path}move/", {"action": "decide"}, seen="*")),
        asked(lambda: office.post("/api/v1/bookings/", booking)),
    ]
    for opening in job.openings.all():
        install_start(by=SYSTEM, sent=sent({}), booking=Booking.objects.get(), opening=opening)
    Job.objects.filter(pk=job.pk).update(state="booked")
    told.append(asked(lambda: office.get(path)))
    Install.objects.update(finished_at=Booking.objects.get().ends_at)
    told.append(asked(lambda: office.post(f"{path}move/", {"action": "install"}, seen="*")))
    noted = Notice.objects.filter(type="warranty.noted").values_list("about", flat=True)
    assert sorted(noted) == sorted(one.number for one in Warranty.objects.all())
    assert len(noted) == many
    return told


@pytest.fixture
def of_two(office: Caller) -> list[int]:
    """What a job of two openings asks; taken back before a larger one is made."""
    with transaction.atomic():
        told = whole_life(office, 2)
        transaction.set_rollback(True)
    return told


def test_a_job_of_many_openings_asks_no_more_than_one_of_two(
    office: Caller, of_two: list[int]
) -> None:
    assert whole_life(office, 12) == of_two


def test_asked_together_they_are_as_asked_one_by_one(office: Caller) -> None:
    job = job_of(office, 4)
    openings = list(job.openings.select_related("kit", "job__site").order_by("pk"))
    copied(Survey.objects.filter(opening=openings[1])[0])  # newer than its verdict
    openings[2].kit = None
    openings[2].save()
    Opening.objects.filter(pk=openings[3].pk).update(stands_on="pan")  # described otherwise
    openings = list(job.openings.select_related("kit", "job__site").order_by("pk"))

    together = verdicts_standing(openings=openings)
    alone = {one.pk: verdict_standing(opening=one) for one in openings}
    assert together == {key: one for key, one in alone.items() if one is not None}
    gone = verdicts_outdated(verdicts=together.values())
    assert gone == {key for key, one in together.items() if verdict_outdated(verdict=one)}
    assert gone == {openings[1].pk, openings[3].pk}
