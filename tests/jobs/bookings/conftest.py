"""A job that fits, a crew of two, and a body that books them."""

from collections.abc import Callable
from typing import Any

import pytest

from contractor.people.models import Crew
from jobs.jobs.models import Job
from tests.clients import Caller
from tests.factories import CrewFactory, survey_case

Body = Callable[..., dict[str, Any]]


@pytest.fixture
def crew(db: None) -> Crew:
    made: Crew = CrewFactory(slug="heron")
    return made


@pytest.fixture
def job(office: Caller) -> Job:
    """A job of one opening whose verdict fits."""
    case = survey_case("fits")
    assert office.post("/api/v1/surveys/", case.body).data["verdict"]["state"] == "fits"
    made: Job = case.opening.job
    return made


@pytest.fixture
def body(job: Job, crew: Crew) -> Body:
    """Make the body of a booking from nine to one on a day of March, or as told."""

    def made(**changes: Any) -> dict[str, Any]:
        own = {
            "job": job.number,
            "crew": crew.slug,
            "visit": "install",
            "local_start": "2026-03-09T09:00",
            "local_end": "2026-03-09T13:00",
        }
        return {name: value for name, value in {**own, **changes}.items() if value is not None}

    return made
