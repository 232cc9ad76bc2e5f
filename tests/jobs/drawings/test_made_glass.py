"""Are the drawings of glass made to measure those of the verdict, and signed only when it fits?

The file is read back by its library and measured again against the verdict's own numbers.
"""

from io import StringIO
from itertools import product
from typing import Any

import pytest

from jobs.drawings.making import drawing_draw
from jobs.drawings.models import Drawing
from jobs.verdicts.models import Verdict
from tests.clients import Caller, assert_problem
from tests.factories import survey_body, survey_case

DRAWINGS = "/api/v1/drawings/"
NEAR = 1e-5  # mm
MADE = "s-16"  # a survey of the story whose kit describes glass made to measure


@pytest.fixture
def verdict(office: Caller) -> Verdict:
    case = survey_case(MADE)
    assert office.post("/api/v1/surveys/", case.body).status_code == 201
    return Verdict.objects.get(opening=case.opening)


def drawn(office: Caller, verdict: Verdict) -> Drawing:
    reply = office.post(DRAWINGS, {"verdict": str(verdict.pk), "what": "panels"})
    assert reply.status_code == 202, reply.content
    drawing: Drawing = Drawing.objects.get(pk=int(reply.data["id"].removeprefix("DR-")))
    assert drawing_draw(key=drawing.pk)
    return drawing


def mm(value: Any) -> float:
    return float(value["mm"].removesuffix(" mm"))


def place(one: Any) -> tuple[float, float]:
    return mm(one["right"]), mm(one["up"])


def test_each_picture_of_the_glass_has_an_address_and_says_the_handles_side(
    office: Caller, verdict: Verdict
) -> None:
    url = f"/api/v1/verdicts/{verdict.pk}/drawings/"
    front, door = (office.get(f"{url}{name}/").content.decode() for name in ("glass", "glass-2"))

    assert front.count("<title") == door.count("<title") == 1
    assert "Handle holes on the left." in door
    assert "looks into the bathroom" in door
    assert "DRAFT: NOT FOR CUTTING" in door
    for edge in verdict.result["made_glass"]["panels"][1]["edges"].values():
        hundredths = int(mm(edge) * 100) / 100
        assert f"{hundredths:.2f}".rstrip("0").rstrip(".") + " mm" in door
    problem = assert_problem(office.get(f"{url}glass-3/"), 404, "not_found")
    assert "glass-2" in str(problem)


def test_the_file_read_back_has_each_panel_and_hole_where_the_verdict_has_them(
    office: Caller, verdict: Verdict
) -> None:
    import ezdxf

    drawing = drawn(office, verdict)
    reply = office.get(f"{DRAWINGS}{drawing.number}/file/")
    document = ezdxf.read(StringIO(b"".join(reply.streaming_content).decode()))
    space = document.modelspace()
    outlines = space.query('LWPOLYLINE[layer=="PANEL_OUTLINE"]')
    circles = [(c.dxf.center.x, c.dxf.center.y) for c in space.query('CIRCLE[layer=="HOLES"]')]

    assert document.audit().errors == []
    for panel in verdict.result["made_glass"]["panels"]:
        wanted = [place(one) for one in panel["corners"]]
        found = [points for line in outlines if same(points := list(line.get_points("xy")), wanted)]
        assert found, panel["name"]
        assert f"{area(found[0]) / 1e6 + 0.0005:.3f}" == panel["area"].removesuffix(" m2")
        holes = [place(one) for one in panel["holes"]]
        assert all(
            any(near(one, moved(hole, p[0])) for one, p in product(circles, found))
            for hole in holes
        )


def moved(place: tuple[float, float], by: Any) -> tuple[float, float]:
    return place[0] + by[0], place[1] + by[1]


def near(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return abs(one[0] - other[0]) < NEAR and abs(one[1] - other[1]) < NEAR


def same(points: list[Any], wanted: list[tuple[float, float]]) -> bool:
    return len(points) == 4 and all(
        near(point, moved(one, points[0])) for point, one in zip(points, wanted, strict=True)
    )


def area(points: list[Any]) -> float:
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2


def test_nothing_is_drawn_of_glass_that_cannot_be_cut_yet(office: Caller) -> None:
    case = survey_case(MADE)
    read = [one for one in case.body["readings"] if one["quantity"] != "ceiling_height"]
    office.post("/api/v1/surveys/", {**case.body, "readings": read})
    body = {"opening": case.opening.number, "what": "panels"}

    problem = assert_problem(office.post(DRAWINGS, body), 409, "glass_not_cut")
    assert "height to the ceiling on the left" in problem["detail"]


def test_the_fabricators_file_waits_for_a_verdict_that_fits(
    office: Caller, measurer: Caller, verdict: Verdict
) -> None:
    drawing = drawn(office, verdict)
    sign = f"{DRAWINGS}{drawing.number}/sign/"
    assert drawing.says == verdict.state == "fits"

    for says, reason, code in (
        ("fails", "It will do.", "order_fails"),
        ("unknown", "It will do.", "verdict_not_known"),
        ("tight", "", "reason_missing"),
    ):
        Drawing.objects.filter(pk=drawing.pk).update(says=says)
        assert_problem(measurer.post(sign, {"reason": reason}, seen="*"), 409, code)
    Drawing.objects.filter(pk=drawing.pk).update(says="fits")
    assert measurer.post(sign, {}, seen="*").status_code == 200


def test_a_newer_verdict_makes_the_glass_drawn_from_the_older_old(
    office: Caller, measurer: Caller, verdict: Verdict
) -> None:
    drawing = drawn(office, verdict)
    again = survey_body(verdict.opening, "corvelune-thrissaway", like=MADE)
    assert office.post("/api/v1/surveys/", again).status_code == 201

    told = office.get(f"{DRAWINGS}{drawing.number}/").data
    assert "surveyed again" in told["stale"]
    assert_problem(
        measurer.post(f"{DRAWINGS}{drawing.number}/sign/", {}, seen="*"), 409, "drawing_superseded"
    )
    found = office.get(f"{DRAWINGS}?verdict={verdict.pk}").data["results"]
    assert [one["id"] for one in found] == [drawing.number]
    assert_problem(office.get(f"{DRAWINGS}?verdict=none"), 400, "filter_value")
