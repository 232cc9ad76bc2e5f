"""A surveyed opening, an order of panels for it, and drawings asked for by the office."""

from collections.abc import Callable
from typing import Any

import pytest

from jobs.drawings.models import Drawing
from jobs.drawings.shapes import ORDER
from jobs.openings.models import Opening
from tests.clients import Caller
from tests.factories import survey_case

DRAWINGS = "/api/v1/drawings/"


@pytest.fixture
def opening(office: Caller) -> Opening:
    case = survey_case("fits")
    assert office.post("/api/v1/surveys/", case.body).status_code == 201
    return case.opening


@pytest.fixture
def asked(office: Caller, opening: Opening) -> Callable[..., Drawing]:
    """Ask for a drawing of the opening; returns its row."""

    def ask(by: Caller | None = None, **body: Any) -> Drawing:
        sent = {"opening": opening.number, "what": "panels", "order": ORDER, **body}
        reply = (by or office).post(DRAWINGS, {k: v for k, v in sent.items() if v is not None})
        assert reply.status_code == 202, reply.content[:600]
        found: Drawing = Drawing.objects.get(pk=int(reply.data["id"].removeprefix("DR-")))
        return found

    return ask
