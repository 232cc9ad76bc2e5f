"""Can nobody but a second person release panels for cutting, and does the file itself say who did?"""

from typing import Any

import pytest

from contractor.notices.models import Notice
from fitcheck.drawings.order import DRAFT
from jobs.drawings.making import drawing_draw
from jobs.drawings.models import Drawing
from jobs.drawings.shapes import ORDER
from tests.clients import Caller, assert_problem
from tests.factories import survey_body

DRAWINGS = "/api/v1/drawings/"
NARROW = {**ORDER, "gaps": {**ORDER["gaps"], "left": "1 mm"}}


def sign(caller: Caller, drawing: Drawing, **body: Any) -> Any:
    return caller.post(f"{DRAWINGS}{drawing.number}/sign/", body, seen="*")


def file_of(caller: Caller, drawing: Drawing) -> str:
    return b"".join(caller.get(f"{DRAWINGS}{drawing.number}/file/").streaming_content).decode()


@pytest.fixture
def drawn(asked: Any) -> Drawing:
    drawing: Drawing = asked()
    assert drawing_draw(key=drawing.pk)
    return drawing


def test_a_second_person_signs_and_it_is_drawn_anew_for_the_fabricator(
    office: Caller, measurer: Caller, drawn: Drawing
) -> None:
    assert DRAFT in file_of(office, drawn)
    reply = sign(measurer, drawn)
    assert (reply.status_code, reply.data["state"]) == (200, "wanted")
    assert (reply.data["signed_by"], reply.data["released"]) == (measurer.member.name, False)
    assert_problem(office.get(f"{DRAWINGS}{drawn.number}/file/"), 409, "drawing_not_ready")

    assert drawing_draw(key=drawn.pk)
    told = office.get(f"{DRAWINGS}{drawn.number}/").data
    assert told["released"] is True
    data = file_of(office, drawn)
    assert DRAFT not in data
    assert f"For the fabricator. Signed by {measurer.member.name}" in data
    assert Notice.objects.filter(type="drawing.signed", about=drawn.number).count() == 1
    assert_problem(sign(office, drawn), 409, "same_person")


def test_the_asker_cannot_sign(office: Caller, drawn: Drawing) -> None:
    problem = assert_problem(sign(office, drawn), 409, "same_person")
    assert "a second person" in problem["detail"]


def test_an_order_against_the_rules_is_never_signed(measurer: Caller, asked: Any) -> None:
    drawing = asked(order=NARROW)
    assert drawing.says == "fails"
    drawing_draw(key=drawing.pk)
    assert_problem(sign(measurer, drawing, reason="It will do."), 409, "order_fails")


def test_what_the_rules_do_not_know_needs_a_reason(measurer: Caller, drawn: Drawing) -> None:
    Drawing.objects.filter(pk=drawn.pk).update(says="unknown")
    assert_problem(sign(measurer, drawn), 409, "reason_missing")
    assert_problem(sign(measurer, drawn, reason="  "), 409, "reason_missing")
    reply = sign(measurer, drawn, reason="The temperer has agreed to the corner in writing.")
    assert reply.status_code == 200
    assert "temperer" in reply.data["sign_reason"]


def test_only_a_drawn_current_order_is_signed(
    office: Caller, measurer: Caller, asked: Any, opening: Any
) -> None:
    waiting = asked()
    assert_problem(sign(measurer, waiting), 409, "drawing_not_ready")
    drawing_draw(key=waiting.pk)
    office.post("/api/v1/surveys/", survey_body(opening, "osquith-tillybeck:1", notes="Again."))
    assert_problem(sign(measurer, waiting), 409, "drawing_superseded")
    front = asked(what="elevation", order=None)
    drawing_draw(key=front.pk)
    assert_problem(sign(measurer, front), 409, "nothing_to_sign")


def test_a_signed_order_is_not_signed_again(measurer: Caller, lead: Caller, drawn: Drawing) -> None:
    assert sign(measurer, drawn).status_code == 200
    drawing_draw(key=drawn.pk)
    assert_problem(sign(lead, drawn), 409, "signed_already")
