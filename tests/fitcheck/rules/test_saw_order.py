"""What is asked of the saw, through one door, and every mistake in asking."""

import json
import subprocess
import sys
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from fitcheck.rules.saw_order import answer
from fitcheck.rules.strict import InputErrors

BODY: dict[str, Any] = {
    "pieces": [
        {"job": "J-101", "part": "head rail", "length": "58 3/8 in", "count": 1},
        {"job": "J-102", "part": "head rail", "length": "59 1/16 in", "count": 1},
        {"job": "J-102", "part": "threshold", "length": "57 5/8 in", "count": 2},
    ],
    "stock": [
        {"name": "rail 240", "length": "240 in", "cost": "96.50"},
        {"name": "rail 120", "length": "120 in", "cost": "52", "count": 5},
        {"name": "rack 3", "kind": "offcut", "length": "59 in"},
    ],
    "saw": {"kerf": "1/8 in", "trim": "1/4 in", "convention": "between", "least_useful": "24 in"},
}


def test_offcuts_first_and_the_cheapest_stock_for_the_rest() -> None:
    got: Any = answer(BODY)

    assert got["cost"] == "96.50"
    assert got["proven"] is True
    assert sorted(bar["bar"] for bar in got["bars"]) == ["rack 3", "rail 240"]
    assert got["saw"]["counted"] == "a kerf between two pieces, n - 1 of them"


def test_an_offcut_is_there_once_and_costs_nothing_unless_said() -> None:
    body = deepcopy(BODY)
    body["stock"] = [{"name": "rack 3", "kind": "offcut", "length": "59 1/16 in"}]
    got: Any = answer(body)

    assert got["bar_count"] == 1
    assert got["cost"] == "0.00"
    assert got["state"] == "fails"
    assert sum(row["count"] for row in got["uncut"]) == 3


def test_new_bars_cost_one_each_unless_said_so_that_they_are_counted() -> None:
    body = deepcopy(BODY)
    body["stock"] = [{"name": "rail 120", "length": "120 in"}]
    body["seconds"] = 5
    got: Any = answer(body)

    assert got["cost"] == "2.00"
    assert got["bar_count"] == 2


def test_the_settings_of_the_saw_have_defaults() -> None:
    """1/4 in off each end, 1/8 in of kerf: 119 1/2 in hold 59 3/4 and 59 5/8, not a hair more."""
    stock = [{"name": "rail 120", "length": "120 in"}]

    def bars(length: str) -> int:
        pieces = [
            {"job": "J-1", "part": "a", "length": "59 3/4 in", "count": 1},
            {"job": "J-1", "part": "b", "length": length, "count": 1},
        ]
        got: Any = answer({"pieces": pieces, "stock": stock})
        return int(got["bar_count"])

    assert bars("59 5/8 in") == 1
    assert bars("59 41/64 in") == 2


@pytest.mark.parametrize(("length", "kept"), [("24 in", True), ("24 1/64 in", False)])
def test_the_least_useful_length_is_24_inches_unless_said(length: str, kept: bool) -> None:
    pieces = [{"job": "J-1", "part": "a", "length": "76 in", "count": 1}]
    stock = [{"name": "rack 1", "kind": "offcut", "length": "100 1/8 in"}]
    saw = {} if kept else {"least_useful": length}
    got: Any = answer({"pieces": pieces, "stock": stock, "saw": saw})

    assert got["bars"][0]["rest"]["inch"] == "24 in"
    assert got["bars"][0]["offcut_kept"] is kept


def test_the_other_convention_is_named() -> None:
    got: Any = answer({**BODY, "saw": {"convention": "per_piece"}})

    assert got["saw"] == {
        "convention": "per_piece",
        "counted": "a kerf for every piece, n of them",
    }


def errors_of(body: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(InputErrors) as caught:
        answer(body)
    return {error.pointer: error.code for error in caught.value.errors}


def test_every_mistake_is_pointed_at() -> None:
    body = {
        "peaces": [],
        "pieces": [{"job": "", "part": "x", "length": "58", "count": 0}],
        "stock": [
            {"name": "a", "kind": "old", "length": "0 in", "cost": "1.005"},
            {"name": "b", "length": "1 m", "cost": "-1", "count": -1},
        ],
        "saw": {"kerf": "-1 mm", "convention": "n", "trim": "1", "least_useful": "x"},
        "seconds": 21,
    }

    assert errors_of(body) == {
        "/peaces": "unknown_member",
        "/pieces/0/job": "not_a_text",
        "/pieces/0/length": "length_without_unit",
        "/pieces/0/count": "not_in_range",
        "/stock/0/kind": "not_a_choice",
        "/stock/0/length": "length_out_of_range",
        "/stock/0/cost": "not_in_range",
        "/stock/1/cost": "not_in_range",
        "/stock/1/count": "not_in_range",
        "/saw/kerf": "length_out_of_range",
        "/saw/convention": "not_a_choice",
        "/saw/trim": "length_without_unit",
        "/saw/least_useful": "length_not_understood",
        "/seconds": "not_in_range",
    }


def test_more_pieces_than_a_week_has_are_refused() -> None:
    one = {"job": "J-1", "part": "x", "length": "1 m", "count": 2000}

    assert errors_of({**BODY, "pieces": [one, {**one, "count": 1}]}) == {"/pieces": "too_many"}


@pytest.mark.parametrize("member", ["pieces", "stock"])
def test_a_plan_needs_pieces_and_stock(member: str) -> None:
    assert errors_of({**BODY, member: []}) == {f"/{member}": "not_a_list"}


def test_a_plan_that_takes_the_solver_is_printed_as_json_and_nothing_else(tmp_path: Path) -> None:
    """First fit takes four bars for these ten pieces, three are enough: the solver has to be asked."""
    lengths = (49, 41, 34, 33, 29, 26, 26, 22, 20, 19)
    pieces = [{"job": "J-1", "part": "rail", "length": f"{mm} mm", "count": 1} for mm in lengths]
    saw = {"kerf": "0 mm", "trim": "0 mm"}
    stock = [{"name": "rail", "length": "100 mm"}]
    asked = tmp_path / "asked.json"
    asked.write_text(json.dumps({"pieces": pieces, "stock": stock, "saw": saw}), encoding="utf-8")
    ran = subprocess.run(
        [sys.executable, "manage.py", "ask", "saw-order", str(asked), "--json"],
        cwd=Path(__file__).parents[3],
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    told = json.loads(ran.stdout)

    assert (told["bar_count"], told["proven"]) == (3, True)
    assert told["method"] != "first fit"
