"""Is a drawing answered at once, drawn once, given out with its tag, and its age told?"""

import hashlib
from io import StringIO
from typing import Any

import pytest

from contractor.notices.models import Notice
from fitcheck.drawings.order import DRAFT
from jobs.drawings.making import drawing_draw
from jobs.drawings.models import Drawing
from jobs.drawings.shapes import ORDER
from tests.clients import Caller, assert_problem
from tests.factories import OpeningFactory, survey_body

DRAWINGS = "/api/v1/drawings/"


def url(drawing: Drawing) -> str:
    return f"{DRAWINGS}{drawing.number}/"


def fetched(caller: Caller, drawing: Drawing) -> Any:
    reply = caller.get(f"{url(drawing)}file/")
    assert reply.status_code == 200, reply.content
    return reply, b"".join(reply.streaming_content)


def test_asking_is_answered_202_with_a_status_to_watch(office: Caller, opening: Any) -> None:
    body = {"opening": opening.number, "what": "panels", "order": ORDER}
    reply = office.post(DRAWINGS, body)
    assert reply.status_code == 202
    assert reply["Location"] == reply.data["url"]
    told = (reply.data["state"], reply.data["file_url"], reply.data["says"])
    assert told == ("wanted", "", "fits")
    assert [one.rpartition("pictures/")[2] for one in reply.data["pictures"]] == [
        "front/",
        "panel-1/",
    ]


def test_the_file_is_the_panel_a_draft_with_its_digest_as_tag(office: Caller, asked: Any) -> None:
    import ezdxf

    drawing = asked()
    assert_problem(office.get(f"{url(drawing)}file/"), 409, "drawing_not_ready")
    assert drawing_draw(key=drawing.pk) is True

    reply, data = fetched(office, drawing)
    told = office.get(url(drawing)).data
    assert reply["ETag"] == f'"{told["file_digest"]}"'
    assert told["file_digest"] == "sha256:" + hashlib.sha256(data).hexdigest()
    assert "draft.dxf" in reply["Content-Disposition"]
    document = ezdxf.read(StringIO(data.decode()))
    assert document.audit().errors == []
    words = [t.dxf.text for t in document.modelspace().query("TEXT")]
    assert DRAFT in words
    assert any(drawing.number in one for one in words)
    (hole,) = {c.dxf.radius * 2 for c in document.modelspace().query('CIRCLE[layer=="HOLES"]')}
    assert hole == pytest.approx(12.7)

    again = office.get(f"{url(drawing)}file/", headers={"If-None-Match": reply["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    assert Notice.objects.filter(type="drawing.done", about=drawing.number).count() == 1


def test_an_elevation_is_drawn_from_the_verdict_that_stands(office: Caller, asked: Any) -> None:
    drawing = asked(what="elevation", order=None)
    assert drawing_draw(key=drawing.pk) is True

    _, data = fetched(office, drawing)
    assert b"OPENING" in data
    picture = office.get(f"{url(drawing)}pictures/elevation/")
    assert "<title>Front elevation" in picture.content.decode()


def test_every_sheet_has_its_picture_and_says_draft(office: Caller, asked: Any) -> None:
    drawing = asked()
    for address in office.get(url(drawing)).data["pictures"]:
        assert DRAFT in office.get(address).content.decode()
    problem = assert_problem(office.get(f"{url(drawing)}pictures/roof/"), 404, "not_found")
    assert problem["hint"] == "It has front, panel-1."


def test_mistakes_of_an_order_are_told_at_their_place(office: Caller, opening: Any) -> None:
    wrong = {**ORDER, "thickness": "9 mm", "gaps": {**ORDER["gaps"], "left": 6}}
    body = {"opening": opening.number, "what": "panels", "order": wrong}
    problem = assert_problem(office.post(DRAWINGS, body), 400, "invalid")
    assert {e["pointer"] for e in problem["errors"]} == {"/order/thickness", "/order/gaps/left"}
    assert not Drawing.objects.exists()

    assert_problem(office.post(DRAWINGS, {**body, "order": {}}), 400, "order_missing")
    assert_problem(office.post(DRAWINGS, {**body, "order": "x"}), 400, "not_an_object")
    assert_problem(office.post(DRAWINGS, {"what": "elevation"}), 400, "one_of_two")
    panel = ORDER["panels"][0]
    many = {**ORDER, "panels": [{**panel, "holes": panel["holes"] * 25}]}
    assert_problem(office.post(DRAWINGS, {**body, "order": many}), 400, "too_many_holes")
    spare = {"opening": opening.number, "what": "elevation", "order": ORDER}
    assert_problem(office.post(DRAWINGS, spare), 400, "not_wanted")
    bare = OpeningFactory()
    missing = office.post(DRAWINGS, {"opening": bare.number, "what": "elevation"})
    assert_problem(missing, 409, "no_verdict")
    verdict = str(opening.verdicts.get().pk)
    both = {"opening": bare.number, "verdict": verdict, "what": "elevation"}
    assert_problem(office.post(DRAWINGS, both), 400, "another_opening")
    assert office.post(DRAWINGS, {"verdict": verdict, "what": "elevation"}).status_code == 202


def test_a_newer_drawing_and_a_newer_survey_make_it_old(
    office: Caller, asked: Any, opening: Any
) -> None:
    first = asked()
    assert office.get(url(first)).data["stale"] == ""
    second = asked()
    told = office.get(url(first)).data
    assert told["superseded_by"] == second.number
    assert told["stale"] == f"{second.number} was asked for since"
    assert Notice.objects.filter(type="drawing.superseded", about=first.number).count() == 1

    assert office.get(url(second)).data["stale"] == ""
    office.post("/api/v1/surveys/", survey_body(opening, "osquith-tillybeck:1", notes="Again."))
    assert "surveyed again" in office.get(url(second)).data["stale"]


def test_the_page_says_draft_shows_the_sheets_and_asks_for_the_signature(
    office: Caller, asked: Any
) -> None:
    drawing = asked()
    drawing_draw(key=drawing.pk)
    page = office.get(url(drawing), headers={"Accept": "text/html"}).content.decode()

    assert page.count("<svg") == 2
    assert "Draft, not for cutting" in page
    assert "Sign for the fabricator" in page
    assert "Get the DXF" in page
