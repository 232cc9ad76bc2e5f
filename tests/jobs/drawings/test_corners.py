"""Are an order's corners those that the readings give, and refused where the readings do not?"""

from typing import Any

import pytest

from contractor.api.problems import Problem
from jobs.drawings.corners import order_filled
from jobs.drawings.shapes import ORDER
from tests.clients import Caller, assert_problem

TOOL = {"kind": "laser", "accuracy_class": "none", "graduation": "1 mm", "hook": False}
LESS = {k: v for k, v in ORDER.items() if k != "opening"}


def reading(n: int, quantity: str, value: str, **more: Any) -> dict[str, Any]:
    place = {"side": "none", "height": None, "over": None, **more}
    who = {"tool": TOOL, "read_by": "A", "taken_at": "2026-10-05T09:01:00-04:00"}
    return {"id": f"r{n}", "quantity": quantity, "value": value, **place, **who}


# A true trapezoid, by hand: 900 mm at the sill, its left wall 8 mm in and its right 4 mm in at 2 m.
READINGS = [
    reading(1, "width", "900 mm", height="0 mm"),
    reading(2, "width", "894 mm", height="1000 mm"),
    reading(3, "width", "888 mm", height="2000 mm"),
    reading(4, "lean", "8 mm", side="left", over="2000 mm"),
    reading(5, "lean", "4 mm", side="right", over="2000 mm"),
]


def mm(place: dict[str, str]) -> tuple[float, float]:
    return (
        float(place["right"].removesuffix(" mm")),
        float(place["up"].removesuffix(" mm")),
    )


def test_the_corners_are_the_trapezoid_that_was_read() -> None:
    opening = order_filled({**LESS, "top": "1500 mm"}, READINGS)["opening"]

    # At 1500 mm three quarters of each lean are in: 6 mm left, 3 mm right; 900 less both is 891.
    assert mm(opening["left_foot"]) == (0, 0)
    assert mm(opening["right_foot"]) == pytest.approx((900, 0), abs=0.01)
    assert mm(opening["left_head"]) == pytest.approx((6, 1500), abs=0.01)
    assert mm(opening["right_head"]) == pytest.approx((897, 1500), abs=0.01)
    assert 0 < float(opening["uncertainty"].removesuffix(" mm")) < 2


def test_corners_that_were_sent_are_kept() -> None:
    assert order_filled(ORDER, READINGS) is ORDER


@pytest.mark.parametrize(
    ("change", "code", "words"),
    [
        ({}, "top_needed", "top"),
        ({"top": "2100 mm"}, "corners_not_known", "Nothing was read above 2000 mm"),
    ],
)
def test_a_top_is_needed_and_lies_where_somebody_has_read(
    change: dict[str, str], code: str, words: str
) -> None:
    with pytest.raises(Problem) as refused:
        order_filled({**LESS, **change}, READINGS)

    assert refused.value.code == code
    assert words in str(refused.value.detail)


def test_too_few_readings_or_contradicting_ones_give_no_corners() -> None:
    burned = [{**READINGS[2], "value": "913.4 mm"} if r is READINGS[2] else r for r in READINGS[:4]]
    for readings in (READINGS[:1], READINGS[3:], burned):
        with pytest.raises(Problem) as refused:
            order_filled({**LESS, "top": "1500 mm"}, readings)
        assert refused.value.code == "corners_not_known"


def test_an_order_without_corners_is_drawn_from_the_surveys_readings(
    office: Caller, opening: Any
) -> None:
    body = {"opening": opening.number, "what": "panels", "order": LESS}
    problem = assert_problem(office.post("/api/v1/drawings/", body), 400, "top_needed")
    assert problem["errors"][0]["pointer"] == "/order/top"

    reply = office.post("/api/v1/drawings/", {**body, "order": {**LESS, "top": "70 in"}})
    assert reply.status_code == 202
    drawing = opening.drawings.get()
    assert drawing.order["opening"]["left_head"]["up"] == "1778 mm"
    assert 1400 < mm(drawing.order["opening"]["right_foot"])[0] < 1500
