"""ASTM C1048 and C1036, sizes, squareness and bow, as a temperer restates them for 3 to 6 mm;
sizes above 6 mm, the bow table of 10 mm glass and the largest thicknesses are from memory.
"""

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.pane_edition import edition_of, thickest_nm, thickness_names
from fitcheck.rules.tables_pane import C1048_BOW_LOCAL


def nm(text: str) -> int:
    return length_parse(text).nm


@pytest.mark.parametrize(
    ("thickness", "size"),
    [
        ("3 mm", "1/16 in"),
        ("1/4 in", "1/16 in"),
        ("6 mm", "1/16 in"),
        ("8 mm", "2 mm"),
        ("5/16 in", "2 mm"),
        ("3/8 in", "2.4 mm"),
        ("10 mm", "2.4 mm"),
        ("1/2 in", "3.2 mm"),
        ("12 mm", "3.2 mm"),
    ],
)
def test_a_side_may_be_off_its_size_from_memory_above_6_mm(thickness: str, size: str) -> None:
    assert edition_of("c1048", nm(thickness)).size_nm(nm("2 m")) == nm(size)


def test_no_size_tolerance_is_known_for_19_mm() -> None:
    assert edition_of("c1048", nm("19 mm")).size_nm(nm("1 m")) is None


def test_diagonals_differ_by_5_64_at_most_to_6_mm_and_are_not_known_above() -> None:
    assert edition_of("c1048", nm("1/4 in")).square_nm(nm("2 m")) == nm("5/64 in")
    assert edition_of("c1048", nm("3 mm")).square_nm(nm("2 m")) == nm("5/64 in")
    assert edition_of("c1048", nm("3/8 in")).square_nm(nm("2 m")) is None


@pytest.mark.parametrize(
    ("side", "bow"),
    [
        ("900 mm", "2 mm"),
        ("901 mm", "3 mm"),
        ("1200 mm", "3 mm"),
        ("1500 mm", "4 mm"),
        ("1800 mm", "5 mm"),
        ("2000 mm", "6 mm"),
        ("2300 mm", "7 mm"),
    ],
)
def test_overall_bow_of_10_mm_glass_from_memory(side: str, bow: str) -> None:
    assert edition_of("c1048", nm("3/8 in")).bow_nm(nm(side)) == nm(bow)


def test_no_bow_is_known_beyond_the_table_or_for_other_glass() -> None:
    assert edition_of("c1048", nm("10 mm")).bow_nm(nm("2301 mm")) is None
    assert edition_of("c1048", nm("8 mm")).bow_nm(nm("900 mm")) is None


def test_local_bow_is_a_sixteenth_in_a_foot() -> None:
    assert C1048_BOW_LOCAL.value == (nm("1/16 in"), nm("12 in"))


def test_a_hole_is_no_wider_than_a_third_and_sits_within_a_sixteenth() -> None:
    edition = edition_of("c1048", nm("3/8 in"))

    assert edition.most_diameter_nm(nm("27 in")) == nm("9 in")
    assert edition.location_nm(nm("1/2 in")) == nm("1/16 in")
    assert edition.notch_radius_nm() == nm("3/8 in")


@pytest.mark.parametrize(
    ("thickness", "least", "most"),
    [
        ("1/4 in", "0.219 in", "6.2 mm"),
        ("8 mm", "0.292 in", "8.43 mm"),
        ("3/8 in", "0.355 in", "10.31 mm"),
        ("12 mm", "0.469 in", "13.49 mm"),
        ("3/4 in", "0.719 in", None),
    ],
)
def test_a_measured_thickness_bears_its_name_most_from_memory(
    thickness: str, least: str, most: str | None
) -> None:
    window = edition_of("c1048", nm(thickness)).thickness_window_nm()

    assert window == (nm(least), nm(most) if most else None)


def test_a_thickness_that_is_not_sold_has_no_window() -> None:
    assert edition_of("c1048", nm("7 mm")).thickness_window_nm() is None
    assert nm("7 mm") not in thickness_names()
    assert {nm("3/8 in"), nm("10 mm")} <= thickness_names()


def test_clearances_are_reckoned_with_the_thickest_glass_that_bears_the_name() -> None:
    assert thickest_nm(edition_of("c1048", nm("3/8 in"))) == nm("10.31 mm")
    assert thickest_nm(edition_of("c1048", nm("12 mm"))) == nm("13.49 mm")
    assert thickest_nm(edition_of("c1048", nm("19 mm"))) == nm("3/4 in")
    assert thickest_nm(edition_of("en12150", nm("10 mm"))) == nm("10.3 mm")


def test_glass_without_thickness_is_refused() -> None:
    with pytest.raises(ValueError, match="thickness"):
        edition_of("c1048", 0)
