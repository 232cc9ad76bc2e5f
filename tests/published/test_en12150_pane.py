"""EN 12150-1:2015, tables 2 and 3 and clause 6.2 (sizes, diagonals, bow), and EN 572-2 thickness:
all from memory. That squareness is a difference of diagonals since 2015 was read.
"""

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.pane_edition import edition_of
from fitcheck.rules.safety_mark import dices_enough
from fitcheck.rules.tables_pane import EN12150_BOW_LOCAL


def nm(text: str) -> int:
    return length_parse(text).nm


@pytest.mark.parametrize(
    ("side", "thin", "thick"),
    [
        ("2000 mm", ("2 mm", "4 mm"), ("3 mm", "6 mm")),
        ("2001 mm", ("3 mm", "6 mm"), ("4 mm", "8 mm")),
        ("3000 mm", ("3 mm", "6 mm"), ("4 mm", "8 mm")),
        ("3001 mm", ("4 mm", "8 mm"), ("5 mm", "10 mm")),
    ],
)
def test_tables_2_and_3_from_memory(
    side: str, thin: tuple[str, str], thick: tuple[str, str]
) -> None:
    eight, ten = edition_of("en12150", nm("8 mm")), edition_of("en12150", nm("10 mm"))

    assert (eight.size_nm(nm(side)), eight.square_nm(nm(side))) == (nm(thin[0]), nm(thin[1]))
    assert (ten.size_nm(nm(side)), ten.square_nm(nm(side))) == (nm(thick[0]), nm(thick[1]))


def test_6_2_bow_of_1900_mm_is_5_7_mm_from_memory() -> None:
    assert edition_of("en12150", nm("10 mm")).bow_nm(nm("1900 mm")) == nm("5.7 mm")
    assert edition_of("en12150", nm("10 mm")).bow_nm(1) == 1
    assert EN12150_BOW_LOCAL.value == (nm("0.3 mm"), nm("300 mm"))


@pytest.mark.parametrize(
    ("diameter", "within"), [("20 mm", "1 mm"), ("20.1 mm", "2 mm"), ("100 mm", "2 mm")]
)
def test_7_4_diameters_from_memory(diameter: str, within: str) -> None:
    assert edition_of("en12150", nm("10 mm")).location_nm(nm(diameter)) == nm(within)


def test_7_4_leaves_large_holes_and_notches_to_the_maker() -> None:
    edition = edition_of("en12150", nm("10 mm"))

    assert edition.most_diameter_nm(nm("700 mm")) is None
    assert edition.location_nm(nm("101 mm")) is None
    assert edition.notch_radius_nm() is None


@pytest.mark.parametrize(
    ("nominal", "within"),
    [
        ("3 mm", "0.2 mm"),
        ("6 mm", "0.2 mm"),
        ("8 mm", "0.3 mm"),
        ("12 mm", "0.3 mm"),
        ("19 mm", "1 mm"),
    ],
)
def test_en_572_2_thickness_from_memory(nominal: str, within: str) -> None:
    window = edition_of("en12150", nm(nominal)).thickness_window_nm()

    assert window == (nm(nominal) - nm(within), nm(nominal) + nm(within))


@pytest.mark.parametrize(
    ("named", "nominal"), [("1/4 in", "6 mm"), ("5/16 in", "8 mm"), ("3/8 in", "10 mm")]
)
def test_a_name_in_inches_is_the_metric_glass_of_en_572_2(named: str, nominal: str) -> None:
    """Glass of 10 mm is 10 give or take 0.3, whatever it is called: not 9.525 give or take 0.3."""
    edition, metric = edition_of("en12150", nm(named)), edition_of("en12150", nm(nominal))

    assert edition.thickness_window_nm() == metric.thickness_window_nm()
    assert edition == metric
    before = edition_of("en12150", nm(named), 4)
    assert before.thickness_window_nm() != metric.thickness_window_nm()


def test_en_572_2_says_nothing_beyond_25_mm() -> None:
    assert edition_of("en12150", nm("26 mm")).thickness_window_nm() is None


def test_glass_of_9_65_mm_is_10_mm_by_the_american_edition_only() -> None:
    american = edition_of("c1048", nm("10 mm")).thickness_window_nm()
    european = edition_of("en12150", nm("10 mm")).thickness_window_nm()

    assert american is not None
    assert american[0] <= nm("9.65 mm")
    assert european is not None
    assert european[0] > nm("9.65 mm")


def test_8_forty_pieces_in_50_by_50_mm_from_memory() -> None:
    assert dices_enough(40)
    assert not dices_enough(39)
