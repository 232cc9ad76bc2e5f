"""The least packing that brings widths into their windows, held against a search of every packing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM
from fitcheck.rules.packing import Packing, Spot, least_packing

TOP = 2000 * NM_PER_MM


def spot(height: int, width: int, least: int = 1400, most: int = 1500) -> Spot:
    return Spot(*(mm * NM_PER_MM for mm in (height, width, width, least, most)))


def packed(spots: list[Spot], difference: int | None = None, mark: int = 16) -> tuple[float, float]:
    found = least_packing(spots, TOP, None if difference is None else difference * NM_PER_MM, mark)
    assert found is not None
    return found.at_sill_nm / NM_PER_MM, found.at_top_nm / NM_PER_MM


def test_widths_that_fit_need_no_packing() -> None:
    assert packed([spot(0, 1450), spot(2000, 1460)], 10) == (0, 0)


def test_a_width_too_wide_at_the_top_is_packed_there_only_up_to_the_mark() -> None:
    assert packed([spot(0, 1490), spot(2000, 1504)]) == (0, 4.7625)


def test_a_finer_mark_packs_less() -> None:
    assert packed([spot(0, 1490), spot(2000, 1504)], mark=32) == (0, 4.7625)
    assert packed([spot(0, 1490), spot(2000, 1505)], mark=32) == (0, 5.55625)
    assert packed([spot(0, 1490), spot(2000, 1505)], mark=16) == (0, 6.35)


def test_a_width_too_wide_midway_is_packed_at_the_end_that_takes_least() -> None:
    spots = [spot(0, 1490), spot(500, 1503), spot(2000, 1490)]

    assert packed(spots) == (4.7625, 0)


def test_a_difference_is_packed_at_the_wider_end() -> None:
    assert packed([spot(0, 1450), spot(2000, 1460)], 7) == (0, 3.175)


def test_where_the_mark_would_pack_too_much_the_packing_is_exact() -> None:
    narrow = [spot(0, 1505, 1499, 1500), spot(2000, 1505, 1499, 1500)]

    assert packed(narrow) == (5.0, 5.0)


@pytest.mark.parametrize(
    "spots",
    [
        [spot(0, 1399)],
        [spot(0, 1505), spot(1000, 1402), spot(2000, 1505)],
        [spot(0, 1510, 1500, 1499)],
    ],
)
def test_no_packing_helps_what_is_too_narrow_or_cannot_be(spots: list[Spot]) -> None:
    assert least_packing(spots, TOP, None, 16) is None


def test_a_top_on_the_sill_is_refused() -> None:
    with pytest.raises(ValueError, match="above the sill"):
        least_packing([spot(0, 1500)], 0, None, 16)


def test_a_packing_is_straight_from_sill_to_top() -> None:
    packing = Packing(4 * NM_PER_MM, 8 * NM_PER_MM, TOP)

    assert [packing.at(h * NM_PER_MM) / NM_PER_MM for h in (0, 500, 2000)] == [4, 5, 8]


def keeps(spots: list[Spot], sill: float, top: float, difference: int) -> bool:
    left = [s.low_nm / NM_PER_MM - (sill + (top - sill) * s.height_nm / TOP) for s in spots]
    windows = all(
        s.least_nm / NM_PER_MM - 1e-6 <= one <= s.most_nm / NM_PER_MM + 1e-6
        for s, one in zip(spots, left, strict=True)
    )
    return windows and max(left) - min(left) <= difference + 1e-6


@given(
    widths=st.lists(st.integers(1480, 1520), min_size=3, max_size=3), difference=st.integers(2, 20)
)
def test_the_packing_keeps_every_limit_and_no_smaller_one_does(
    widths: list[int], difference: int
) -> None:
    spots = [spot(h, w, 1485, 1500) for h, w in zip((0, 1000, 2000), widths, strict=True)]

    found = least_packing(spots, TOP, difference * NM_PER_MM, 16)

    grid = [
        (sill, top)
        for sill in range(36)
        for top in range(36)
        if keeps(spots, sill, top, difference)
    ]
    if found is None:
        assert grid == []
        return
    sill, top = found.at_sill_nm / NM_PER_MM, found.at_top_nm / NM_PER_MM
    assert sill >= 0
    assert top >= 0
    assert keeps(spots, sill, top, difference)
    mark = NM_PER_INCH / 16 / NM_PER_MM
    assert all(a + b >= sill + top - 2 * mark for a, b in grid)


def test_the_lowest_top_is_a_nanometre() -> None:
    assert least_packing([Spot(0, 10, 10, 5, 20)], 1, None, 16) == Packing(0, 0, 1)
