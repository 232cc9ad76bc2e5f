"""The week's pieces on bars: kerf, trim, offcuts, limits and what is told of each bar."""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules.sawing import (
    Convention,
    Piece,
    Saw,
    SawPlan,
    Stock,
    cents_text,
    percent_text,
    saw_plan,
)

MM = 10**6
SAW = Saw(3 * MM, 0, "between", 600 * MM)
BAR = Stock("rail 2400", "new", 2400 * MM, 100, None)


def piece(mm: float, count: int = 1, job: str = "J-1", part: str = "head rail") -> Piece:
    return Piece(job, part, round(mm * MM), count)


def plan(pieces: list[Piece], stock: list[Stock], saw: Saw = SAW) -> SawPlan:
    return saw_plan(tuple(pieces), tuple(stock), saw, 10)


@pytest.mark.parametrize(("convention", "bars"), [("between", 1), ("per_piece", 2)])
def test_four_pieces_with_three_kerfs_or_with_four(convention: Convention, bars: int) -> None:
    """4 x 597.5 on 2400 with a kerf of 3: 2399 with n - 1, 2402 with n."""
    saw = Saw(3 * MM, 0, convention, 600 * MM)

    assert len(plan([piece(597.5, 4)], [BAR], saw).bars) == bars


@pytest.mark.parametrize(("mm", "bars"), [(1198.5, 1), (1198.500001, 2)])
def test_two_pieces_and_one_kerf_fill_a_bar_to_the_nanometre(mm: float, bars: int) -> None:
    assert len(plan([piece(mm, 2)], [BAR]).bars) == bars


@pytest.mark.parametrize(("mm", "bars"), [(1193.5, 1), (1193.500001, 2)])
def test_the_trim_is_taken_off_both_ends_of_a_new_bar(mm: float, bars: int) -> None:
    saw = Saw(3 * MM, 5 * MM, "between", 600 * MM)
    found = plan([piece(mm, 2)], [BAR], saw)

    assert len(found.bars) == bars
    assert found.bars[0].pieces[0].start_nm == 5 * MM
    assert found.bars[0].trim_nm == 5 * MM


def test_an_offcut_is_not_trimmed_and_its_price_of_nothing_is_preferred() -> None:
    saw = Saw(3 * MM, 5 * MM, "between", 600 * MM)
    offcut = Stock("offcut 900", "offcut", 900 * MM, 0, 1)
    found = plan([piece(900), piece(800)], [BAR, offcut], saw)

    assert found.cost_cents == 100
    by_name = {bar.stock.name: bar for bar in found.bars}
    assert by_name["offcut 900"].pieces[0].end_nm == 900 * MM
    assert by_name["offcut 900"].rest_nm == 0
    assert by_name["rail 2400"].rest_nm == (2400 - 5 - 5 - 800 - 3) * MM
    assert by_name["rail 2400"].kept


@pytest.mark.parametrize(("useful", "kept"), [(597, True), (597.000001, False)])
def test_a_rest_is_kept_from_the_least_useful_length_on(useful: float, kept: bool) -> None:
    saw = Saw(3 * MM, 0, "between", round(useful * MM))
    found = plan([piece(1800)], [BAR], saw)

    assert found.bars[0].rest_nm == 597 * MM
    assert found.bars[0].kept is kept


def test_a_rest_thinner_than_the_kerf_is_nothing() -> None:
    assert plan([piece(2398)], [BAR]).bars[0].rest_nm == 0
    assert plan([piece(2397)], [BAR]).bars[0].rest_nm == 0
    assert plan([piece(2396)], [BAR]).bars[0].rest_nm == 1 * MM


def test_a_piece_longer_than_every_bar_is_told_and_the_rest_is_cut() -> None:
    found = plan([piece(2401), piece(2400)], [BAR])

    assert [(p.length_nm, why) for p, why in found.uncut] == [(2401 * MM, "longer than every bar")]
    assert len(found.bars) == 1


def test_nothing_that_fits_gives_an_empty_plan_that_fails() -> None:
    found: Any = plan([piece(2401)], [BAR]).as_json()

    assert found["state"] == "fails"
    assert found["bars"] == []
    assert found["waste_percent"] == "0.00 %"
    assert found["do"] == "Order more or longer stock: some pieces have no bar."
    assert found["uncut"][0]["count"] == 1


def test_too_few_bars_leave_pieces_and_say_so() -> None:
    found = plan([piece(2000, 3)], [Stock("rail", "new", 2400 * MM, 100, 2)])

    assert len(found.bars) == 2
    assert [why for _, why in found.uncut] == ["no bar is left for it"]
    assert found.cost_cents == 200
    assert found.bound_cents == 200
    assert found.proven


def test_the_picture_of_a_bar_has_every_piece_in_its_place() -> None:
    found = plan([piece(1000, 1, "J-2"), piece(700, 1, "J-1"), piece(300, 1, "J-3")], [BAR])

    got: Any = found.as_json()
    assert got["bar_count"] == 1
    bar = got["bars"][0]
    assert [(p["job"], p["from"], p["to"]) for p in bar["pieces"]] == [
        ("J-2", "0 mm", "1000 mm"),
        ("J-1", "1003 mm", "1703 mm"),
        ("J-3", "1706 mm", "2006 mm"),
    ]
    assert bar["pieces"][0]["length"]["mm"] == "1000 mm"
    assert bar["rest"]["mm"] == "391 mm"
    assert bar["offcut_kept"] is False
    assert bar["lost"] == "400 mm"
    assert (got["cost"], got["bound"], got["gap"], got["proven"]) == ("1.00", "1.00", "0.00", True)
    assert got["waste_percent"] == "16.67 %"
    assert got["do"] == "Saw the bars in this order; no plan is cheaper."
    assert "releases no mark" in got["cautions"][0]


def test_what_is_kept_is_neither_lost_nor_waste() -> None:
    got: Any = plan([piece(1000)], [BAR]).as_json()

    assert got["bars"][0]["lost"] == "3 mm"
    assert got["waste_percent"] == "0.13 %"


def test_an_unproven_plan_tells_its_gap() -> None:
    got: Any = SawPlan((), (), 300, 200, False, "first fit").as_json()

    assert got["gap"] == "1.00"
    assert got["do"] == (
        "Saw the bars in this order; at most 1.00 could be saved by a better plan."
    )


def test_one_job_is_cut_before_the_next_where_lengths_are_equal() -> None:
    found = plan([piece(2000, 1, "J-9"), piece(2000, 1, "J-2")], [BAR])

    assert [bar.pieces[0].job for bar in found.bars] == ["J-2", "J-9"]


@settings(deadline=None, max_examples=40)
@given(
    st.lists(st.tuples(st.integers(100, 2300), st.integers(1, 3)), min_size=1, max_size=6),
    st.integers(0, 5),
    st.integers(0, 20),
    st.sampled_from(["between", "per_piece"]),
)
def test_every_piece_is_cut_once_and_no_two_overlap(
    wanted: list[tuple[int, int]], kerf: int, trim: int, convention: Convention
) -> None:
    saw = Saw(kerf * MM, trim * MM, convention, 600 * MM)
    pieces = [piece(mm, count, f"J-{n}") for n, (mm, count) in enumerate(wanted)]
    stock = [BAR, Stock("offcut", "offcut", 1200 * MM, 0, 1)]

    found = plan(pieces, stock, saw)

    cut = sorted((p.job, p.end_nm - p.start_nm) for bar in found.bars for p in bar.pieces)
    assert not found.uncut
    assert cut == sorted((p.job, p.length_nm) for p in pieces for _ in range(p.count))
    for bar in found.bars:
        assert bar.pieces[0].start_nm == saw.trim_of(bar.stock)
        assert bar.pieces[-1].end_nm + bar.rest_nm <= bar.stock.length_nm - bar.trim_nm
        assert all(b.start_nm - a.end_nm == kerf * MM for a, b in pairwise(bar.pieces))
    assert found.bound_cents <= found.cost_cents


def test_money_and_shares_are_printed() -> None:
    assert [cents_text(n) for n in (0, 5, 100, 4250)] == ["0.00", "0.05", "1.00", "42.50"]
    assert percent_text(4012, 1_000_000) == "0.41 %"
    assert percent_text(1, 3) == "33.34 %"
    assert percent_text(0, 0) == "0.00 %"


IN = 25_400_000
BARE = Saw(0, 0, "between", 0)


def offcut(inches: int, count: int = 1) -> Stock:
    return Stock(f"rack {inches}", "offcut", inches * IN, 0, count)


def test_of_free_offcuts_no_more_are_broken_than_it_takes() -> None:
    """Two pieces of 20 in come out of the offcut of 45 in; that of 30 in stays whole."""
    found = saw_plan((Piece("J-1", "rail", 20 * IN, 2),), (offcut(45), offcut(30)), BARE, 5)

    assert [bar.stock.name for bar in found.bars] == ["rack 45"]
    assert (found.cost_cents, found.bound_cents, found.proven) == (0, 0, True)


def test_of_free_offcuts_the_shorter_is_broken() -> None:
    stock = (offcut(45), offcut(30), Stock("new", "new", 100 * IN, 100, None))
    found = saw_plan((Piece("J-1", "rail", 20 * IN, 1),), stock, BARE, 5)

    assert [bar.stock.name for bar in found.bars] == ["rack 30"]


def test_to_spare_an_offcut_never_costs_a_bar() -> None:
    """By hand: 90 in take the new bar, the last 20 in an offcut, as dear as before."""
    stock = (offcut(45), offcut(30), Stock("new", "new", 100 * IN, 100, None))
    pieces = (Piece("J-1", "rail", 90 * IN, 1), Piece("J-1", "strip", 20 * IN, 1))
    found = saw_plan(pieces, stock, BARE, 5)

    assert sorted(bar.stock.name for bar in found.bars) == ["new", "rack 30"]
    assert (found.cost_cents, found.proven) == (100, True)


def test_pieces_with_no_bar_left_stand_in_one_row() -> None:
    found = saw_plan((Piece("J-1", "rail", 20 * IN, 14),), (offcut(45),), BARE, 5)

    assert [(p.count, why) for p, why in found.uncut] == [(12, "no bar is left for it")]


@pytest.mark.parametrize(
    ("length", "convention", "why"),
    [
        (101, "between", "longer than every bar"),
        (100, "between", "longer than every bar once its ends are trimmed"),
        (99, "per_piece", "longer than every bar once its ends are trimmed and its kerf is off"),
    ],
)
def test_why_a_piece_has_no_bar_is_told_as_it_is(
    length: int, convention: Convention, why: str
) -> None:
    saw = Saw(IN // 8, IN // 2, convention, 0)
    stock = (Stock("rail 100", "new", 100 * IN, 100, None),)
    found = saw_plan((Piece("J-1", "rail", length * IN, 1),), stock, saw, 5)

    assert [told for _, told in found.uncut] == [why]


def test_places_along_the_bar_are_told_in_inches_too() -> None:
    stock = (Stock("rail 100", "new", 100 * IN, 100, None),)
    saw = Saw(IN // 8, IN // 4, "between", 0)
    (bar,) = saw_plan((Piece("J-1", "rail", 20 * IN, 1),), stock, saw, 5).bars
    told: Any = bar.as_json()

    assert (told["trim_each_end_inch"], told["pieces"][0]["from_inch"]) == ("1/4 in", "1/4 in")
    assert told["pieces"][0]["to_inch"] == "20 1/4 in"
