"""A job whose one opening was read and fits, and its kit."""

from typing import NamedTuple

import pytest

from fitcheck.kits.models import Kit
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from tests.clients import Caller
from tests.factories import survey_case


class Measured(NamedTuple):
    job: Job
    opening: Opening
    kit: Kit


@pytest.fixture
def measured(office: Caller) -> Measured:
    """Read an opening that fits; the kit is not chosen yet."""
    case = survey_case("fits")
    assert office.post("/api/v1/surveys/", case.body).data["verdict"]["state"] == "fits"
    return Measured(Job.objects.get(pk=case.opening.job_id), case.opening, case.kit)


@pytest.fixture
def decided(office: Caller, measured: Measured) -> Measured:
    """Choose the kit, and decide."""
    path = f"/api/v1/openings/{measured.opening.number}/"
    assert office.patch(path, {"kit": measured.kit.slug}, seen=1).status_code == 200
    reply = office.post(f"/api/v1/jobs/{measured.job.number}/move/", {"action": "decide"}, seen="*")
    assert reply.data["state"] == "decided", reply.content
    measured.job.refresh_from_db()
    return measured
