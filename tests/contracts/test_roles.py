"""Does every route do for each caller what the kept matrix says, and is every route in it?"""

import json
from pathlib import Path

import pytest

from tests.clients import Caller
from tests.world import World, routes

MATRIX: dict[str, dict[str, str]] = json.loads(
    (Path(__file__).parent / "roles.json").read_text(encoding="utf-8")
)
CALLERS = {"office", "measurer", "lead", "helper", "yard", "tablet", "scheduler", "anonymous"}


def test_every_route_is_in_the_matrix_and_nothing_else() -> None:
    assert sorted(MATRIX) == sorted(routes())


def test_every_caller_has_a_word_in_every_row() -> None:
    for route, row in MATRIX.items():
        assert set(row) == CALLERS, route
        assert set(row.values()) <= {"allow", "deny"}, route


def test_nobody_who_is_not_logged_in_is_allowed_anything() -> None:
    assert {row["anonymous"] for row in MATRIX.values()} == {"deny"}


@pytest.mark.parametrize("route", MATRIX)
def test_each_caller_is_allowed_or_refused_as_the_matrix_says(
    route: str, callers: dict[str, Caller], world: World
) -> None:
    method, _ = routes()[route]
    for name, caller in callers.items():
        answer = getattr(caller, method)(world.path(route))
        if answer.streaming:
            assert b"".join(answer.streaming_content)
        if MATRIX[route][name] == "deny":
            assert answer.status_code == (401 if name == "anonymous" else 403), name
        elif method == "get":
            assert answer.status_code == 200, (name, answer.content)
        else:  # allowed in, and then told what is wrong with an empty body
            assert answer.status_code in {200, 400, 409, 415, 428}, (name, answer.content)


def test_a_refusal_names_those_who_may(callers: dict[str, Caller], world: World) -> None:
    answer = callers["yard"].post(world.path("booking.cancel"), {"why": "no glass"}, seen=1)
    assert answer.json()["hint"] == "Open to: office, scheduler."
