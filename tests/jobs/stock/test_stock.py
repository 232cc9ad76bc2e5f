"""Is what is in a van counted from its movements, and is a shortfall said?"""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contractor.notices.models import Notice
from contractor.people.models import Crew
from jobs.stock.models import Item, Movement
from jobs.stock.services import count, to_load
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory
from tests.site import fresh

ROWS = [
    {
        "least_celsius": "18",
        "least_humidity": "40",
        "hours": "40",
        "up_to": "6 mm",
    }
]


@pytest.fixture
def van(tablet: Caller) -> Crew:
    crew: Crew = CrewFactory(slug="otter", members=[tablet.member])
    return crew


@pytest.fixture
def anchor(db: None) -> Item:
    item: Item = Item.objects.create(
        slug="anchor-10", name="Anchor #10", kind="anchor", reload_below=20, reload_to=50
    )
    return item


def moved(caller: Caller, move: str, amount: int, minute: int, uuid: str = "", **more: Any) -> Any:
    body = {
        "crew": "otter",
        "item": "anchor-10",
        "move": move,
        "amount": amount,
        "taken_at": f"2027-03-02T09:{minute:02d}:00-06:00",
        **more,
    }
    return caller.put(f"/api/v1/stock-movements/{uuid or fresh()}/", body)


def stands(caller: Caller) -> tuple[int, int, int]:
    (row,) = caller.get("/api/v1/van-stock/?crew=otter").json()["results"]
    return row["on_hand"], row["short"], row["to_load"]


@pytest.mark.usefixtures("van", "anchor")
def test_loaded_used_counted(tablet: Caller) -> None:
    assert moved(tablet, "loaded", 40, 1).status_code == 201
    moved(tablet, "used", 8, 2)
    assert stands(tablet) == (32, 0, 0)
    moved(tablet, "used", 14, 3)
    assert stands(tablet) == (18, 0, 32)
    moved(tablet, "counted", 25, 4)
    assert stands(tablet) == (25, 0, 0)


@pytest.mark.usefixtures("van", "anchor")
def test_more_used_than_there_was_is_kept_and_said(tablet: Caller) -> None:
    moved(tablet, "loaded", 3, 1)
    answer = moved(tablet, "used", 8, 2)
    assert (answer.status_code, answer.json()["short"]) == (201, 5)
    assert stands(tablet) == (0, 5, 50)
    assert Notice.objects.filter(type="stock.moved").latest("pk").reason.startswith("Short by 5")
    moved(tablet, "counted", 6, 3)
    assert stands(tablet) == (6, 0, 44)


@pytest.mark.usefixtures("van", "anchor")
def test_movements_count_by_their_own_times_in_whatever_order_they_come(tablet: Caller) -> None:
    moved(tablet, "used", 8, 5)
    assert stands(tablet)[1] == 8
    moved(tablet, "loaded", 10, 1)
    assert stands(tablet) == (2, 0, 48)
    moved(tablet, "counted", 30, 3)
    assert stands(tablet) == (22, 0, 0)


@pytest.mark.usefixtures("van", "anchor")
def test_sent_twice_it_counts_once(tablet: Caller) -> None:
    uuid = fresh()
    assert moved(tablet, "loaded", 40, 1, uuid).status_code == 201
    assert moved(tablet, "loaded", 40, 1, uuid).status_code == 200
    assert_problem(moved(tablet, "loaded", 41, 1, uuid), 409, "id_taken", "/id")
    assert stands(tablet)[0] == 40


@pytest.mark.usefixtures("anchor")
def test_another_crew_s_van_is_not_there(tablet: Caller, office: Caller) -> None:
    CrewFactory(slug="otter")
    assert_problem(moved(tablet, "loaded", 4, 1), 400, "does_not_exist", "/crew")
    assert moved(office, "loaded", 4, 1).status_code == 201
    assert tablet.get("/api/v1/van-stock/").json()["results"] == []


@pytest.mark.usefixtures("van", "anchor")
def test_a_new_level_says_anew_what_to_load(tablet: Caller, yard: Caller) -> None:
    moved(tablet, "loaded", 40, 1)
    answer = yard.patch(
        "/api/v1/stock-items/anchor-10/", {"reload_below": 45, "reload_to": 60}, seen=1
    )
    assert answer.status_code == 200
    assert stands(tablet) == (40, 0, 20)


def test_a_sealant_s_data_are_read_when_they_are_entered(office: Caller) -> None:
    body = {"id": "clear-silicone", "name": "Clear", "kind": "sealant", "unit": "cartridge"}
    data = {"title": "Data sheet (invented)", "edition": "1", "rows": ROWS}
    answer = office.post("/api/v1/stock-items/", body | {"data_sheet": data})
    assert answer.status_code == 201, answer.content
    wrong = {**data, "rows": [{**ROWS[0], "up_to": "6"}]}
    answer = office.post("/api/v1/stock-items/", body | {"id": "other", "data_sheet": wrong})
    assert answer.status_code == 400


MOVES = st.lists(st.tuples(st.sampled_from(["loaded", "used", "counted"]), st.integers(0, 30)))


@given(MOVES)
def test_nothing_is_ever_below_zero_and_nothing_is_lost(moves: list[tuple[str, int]]) -> None:
    """On hand less short is plain arithmetic since the last count."""
    rows = [Movement(move=move, amount=amount) for move, amount in moves]
    last = max((i for i, one in enumerate(moves) if one[0] == "counted"), default=-1)
    plain = moves[last][1] if last >= 0 else 0
    sums = {"loaded": 1, "used": -1}
    plain += sum(sums[move] * amount for move, amount in moves[last + 1 :])
    found = count(rows)
    assert found.on_hand >= 0
    assert found.on_hand - found.short == plain


def test_a_van_with_enough_loads_nothing() -> None:
    item = Item(reload_below=20, reload_to=50)
    assert [to_load(item, n) for n in (0, 19, 20, 60)] == [50, 31, 0, 0]
