"""How far a hole may miss the middle of a stud: hand calculations."""

import pytest

from fitcheck.rules.finding import Measured
from fitcheck.rules.length import length_parse
from fitcheck.rules.locating import edge_distance_nm, locating_tolerance_nm, stud_hit
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read

HOUSE = house_read(Strict({}))


def nm(text: str) -> int:
    return length_parse(text).nm


def test_edge_distances_of_screws_and_lags() -> None:
    assert edge_distance_nm("#10") == nm("0.475 in")
    assert edge_distance_nm("1/4 in") == nm("3/8 in")
    assert locating_tolerance_nm("1/4 in") == nm("3/8 in")
    assert locating_tolerance_nm("#10", nm("3 in")) == nm("1.025 in")


def test_a_face_too_narrow_at_all_has_a_tolerance_below_nothing() -> None:
    assert locating_tolerance_nm("#14", nm("1 in")) == nm("-0.105 in")


@pytest.mark.parametrize(
    ("off", "u_mm", "state"),
    [
        ("0.1 in", 0.0, "fits"),
        ("0.275 in", 0.0, "tight"),
        ("0.276 in", 0.0, "fails"),
        ("0.1 in", 3.0, "tight"),
        ("0.1 in", 2.0, "fits"),
    ],
)
def test_the_doubt_of_finding_the_stud_counts(off: str, u_mm: float, state: str) -> None:
    """0.275 - 0.1 in = 4.445 mm; 1.645 x 3 = 4.94, 1.645 x 2 = 3.29."""
    found = stud_hit("left bracket", "#10", Measured(nm(off), nm(off), u_mm), HOUSE)

    assert found.state == state
    assert found.place == "left bracket"
    assert found.limit_nm == nm("0.275 in")
