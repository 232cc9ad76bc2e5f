"""How many statements does a survey cost the database? Fixed here, so that none creeps in."""

from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.clients import Caller
from tests.factories import JobFactory, survey_body, survey_case

SURVEYS = "/api/v1/surveys/"
# What one POST by a tablet's token with a verdict costs, the two that open and close its transaction
# among them; what is asked before and written after makes one trip each on PostgreSQL.
FIRST = 11
# Once in a job's life its last opening's first survey also moves the job on, in a savepoint.
MOVED_ON = 7
FOLLOW_ON = 13
REPEATED = 10


def cost(tablet: Caller, body: dict[str, Any], status: int) -> list[str]:
    with CaptureQueriesContext(connection) as seen:
        assert tablet.post(SURVEYS, body, key=None).status_code == status
    return [one["sql"][:120] for one in seen.captured_queries]


@pytest.fixture
def warm(tablet: Caller) -> None:
    """Let the sheet be read once in this process, as it is in a service that runs."""
    tablet.post(SURVEYS, survey_case("fits").body, key=None)


@pytest.mark.usefixtures("warm")
def test_a_first_survey_costs_so_many_statements(tablet: Caller) -> None:
    found = cost(tablet, survey_case("fits").body, 201)
    assert len(found) == FIRST + MOVED_ON, "\n".join(found)


@pytest.mark.usefixtures("warm")
def test_a_first_survey_of_a_job_that_is_past_it_moves_nothing(tablet: Caller) -> None:
    job = JobFactory(state="surveyed", site__year_built=1998)
    found = cost(tablet, survey_case("fits", job=job).body, 201)
    assert len(found) == FIRST, "\n".join(found)


@pytest.mark.usefixtures("warm")
def test_a_follow_on_survey_costs_no_more_however_many_came_before(tablet: Caller) -> None:
    opening, kit, body = survey_case("fits")
    for _ in range(3):
        tablet.post(SURVEYS, survey_body(opening, kit), key=None)
    found = cost(tablet, body, 201)
    assert len(found) == FOLLOW_ON, "\n".join(found)


@pytest.mark.usefixtures("warm")
def test_a_repeated_survey_costs_so_many_statements(tablet: Caller) -> None:
    body = survey_case("fits").body
    cost(tablet, body, 201)
    found = cost(tablet, body, 200)
    assert len(found) == REPEATED, "\n".join(found)
