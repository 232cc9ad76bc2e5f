"""National Design Specification for Wood Construction (2018), lateral values of screws and lags.

Table 12K (lags with a steel side plate) was read as a scan: every legible cell is tested. The two
worked examples are from the American Wood Council's "Structural Wood Design Solved Example
Problems", as a public verification suite repeats them. The other lateral values were worked out
with a second, independent coding; root diameters, bending yields, end distances, load durations
and the general dowel equations of TR12 are from memory.
"""

import pytest

from fitcheck.rules.lateral import (
    Dowel,
    bearing_large,
    bearing_length,
    bearing_small,
    bending_yield,
    kd_small,
    reductions,
    single_shear,
)
from fitcheck.rules.lateral_gap import single_shear_gap
from fitcheck.rules.length import NM_PER_INCH, length_parse
from fitcheck.rules.locating import edge_distance_nm, locating_tolerance_nm
from fitcheck.rules.tables_fixings import (
    DOWEL_BEARING_BRACKET,
    EDGE_DIAMETERS,
    LOAD_DURATION,
    WET_SERVICE,
    WOOD_GRAVITY,
)
from fitcheck.rules.wood_screw import (
    combined_value,
    gravity_of,
    thread_in_wood_nm,
    yield_psi,
)
from tests.published.nds_lateral_cases import (
    STEEL,
    dowel,
)


@pytest.mark.parametrize(
    ("gravity", "psi"),
    [
        (0.36, 2550),
        (0.42, 3350),
        (0.43, 3500),
        (0.49, 4450),
        (0.50, 4650),
        (0.55, 5550),
        (0.67, 7950),
    ],
)
def test_table_12_3_3_bearing_to_50_psi(gravity: float, psi: int) -> None:
    assert bearing_small(gravity) == psi


def test_12_3_4_bearing_between_the_grain_directions_by_hankinson() -> None:
    along, across = bearing_large(0.50, 0.25, 0), bearing_large(0.50, 0.25, 90)

    assert along == 5600
    assert across == 4450
    assert bearing_large(0.50, 0.25, 45) == pytest.approx(2 * along * across / (along + across))


@pytest.mark.parametrize(
    ("size", "psi"),
    [
        ("#6", 100_000),
        ("#8", 90_000),
        ("#9", 90_000),
        ("#10", 80_000),
        ("#12", 80_000),
        ("#14", 70_000),
        ("1/4 in", 70_000),
        ("5/16 in", 60_000),
        ("3/8 in", 45_000),
    ],
)
def test_bending_yield_strengths_from_memory_but_for_number_10_and_lags(
    size: str, psi: int
) -> None:
    assert yield_psi(size) == psi


@pytest.mark.parametrize(
    ("diameter", "kd"), [(0.17, 2.2), (0.1701, 2.201), (0.173, 2.23), (0.171, 2.21), (0.196, 2.46)]
)
def test_12_3_1b_kd_by_the_root(diameter: float, kd: float) -> None:
    assert kd_small(diameter) == pytest.approx(kd, abs=1e-9)


def test_12_3_1b_reductions_of_thick_screws_by_mode_and_angle() -> None:
    assert reductions(0.25) == (4.0, 3.6, 3.2, 3.2)
    assert reductions(0.265, 90, lag=True) == (5.0, 4.5, 4.0, 4.0)
    assert reductions(0.173, 90, lag=True) == pytest.approx((2.7875,) * 4)
    assert reductions(0.152, 90) == (2.2,) * 4


@pytest.mark.parametrize("degrees", [-1, 91])
def test_an_angle_to_the_grain_is_from_0_to_90(degrees: float) -> None:
    with pytest.raises(ValueError, match="0 to 90"):
        reductions(0.152, degrees)


@pytest.mark.parametrize(
    ("penetration", "length", "lag"),
    [
        (1.9, 1.9, False),
        (1.899, 1.709, False),
        (1.14, 0.95, False),
        (1.52, 1.52, True),
        (1.0, 0.81, True),
    ],
)
def test_12_1_4_and_5_from_memory_a_short_screw_loses_half_its_tip(
    penetration: float, length: float, lag: bool
) -> None:
    assert bearing_length(penetration, 0.19, lag=lag) == pytest.approx(length)


@pytest.mark.parametrize(("penetration", "lag"), [(1.139, False), (0.759, True)])
def test_12_1_5_less_than_six_diameters_counts_for_nothing(penetration: float, lag: bool) -> None:
    with pytest.raises(ValueError, match="counts for nothing"):
        bearing_length(penetration, 0.19, lag=lag)


@pytest.mark.parametrize(
    ("degrees", "pounds"), [(0, 73.30), (30, 83.50), (45, 96.98), (60, 115.67), (90, 143.28)]
)
def test_12_4_1_from_memory_pull_and_shear_together(degrees: float, pounds: float) -> None:
    assert combined_value(143.28, 73.30, degrees) == pytest.approx(pounds, abs=0.02)


@pytest.mark.parametrize("degrees", [-0.1, 90.1])
def test_12_4_1_an_angle_to_the_face_is_from_0_to_90(degrees: float) -> None:
    with pytest.raises(ValueError, match="0 to 90"):
        combined_value(143.28, 73.30, degrees)


@pytest.mark.parametrize(
    ("size", "inches"), [("#8", 0.340), ("#10", 0.275), ("#12", 0.210), ("#14", 0.145)]
)
def test_c12_1_5_7_from_memory_tolerance_in_the_face_of_a_stud(size: str, inches: float) -> None:
    assert locating_tolerance_nm(size) / NM_PER_INCH == pytest.approx(inches, abs=0.001)


def test_12_5_1c_from_memory_a_lag_along_the_grain_keeps_one_and_a_half_diameters() -> None:
    assert edge_distance_nm("1/4 in") == length_parse("3/8 in").nm


@pytest.mark.parametrize(
    ("species", "gravity"),
    [
        ("southern_pine", 0.55),
        ("douglas_fir_larch", 0.50),
        ("douglas_fir_larch_north", 0.49),
        ("douglas_fir_south", 0.46),
        ("hem_fir", 0.43),
        ("spruce_pine_fir", 0.42),
        ("spruce_pine_fir_south", 0.36),
        ("western_woods", 0.36),
        ("eastern_softwoods", 0.36),
        ("northern_species", 0.35),
        ("northern_white_cedar", 0.31),
        ("red_oak", 0.67),
        ("white_oak", 0.73),
    ],
)
def test_table_12_3_3a_specific_gravity(species: str, gravity: float) -> None:
    assert gravity_of(species) == gravity
    assert len(WOOD_GRAVITY.value) == 13


def test_2_3_2_load_durations_and_wet_service_from_memory() -> None:
    assert LOAD_DURATION.value == {
        "permanent": 0.9,
        "ten_years": 1.0,
        "two_months": 1.15,
        "seven_days": 1.25,
        "ten_minutes": 1.6,
    }
    assert WET_SERVICE.value == 0.7


def test_commentary_spacings_from_memory() -> None:
    assert EDGE_DIAMETERS.value == {
        "edge": 2.5,
        "end_lead_hole": 10,
        "end": 15,
        "along_lead_hole": 10,
        "along": 15,
        "across_lead_hole": 5,
        "across": 10,
        "rows_lead_hole": 3,
        "rows": 5,
    }


@pytest.mark.parametrize(
    ("size", "length", "penetration", "thread"),
    [
        ("#10", "3 in", "2 1/2 in", "2 in"),
        ("#10", "3 in", "1 1/2 in", "1 1/2 in"),
        ("#10", "1 in", "1 in", "0.76 in"),
        ("1/4 in", "3 in", "2 in", "1 27/32 in"),
        ("1/4 in", "3 in", "2 1/2 in", "1 27/32 in"),
        ("5/16 in", "4 in", "2 in", "1 13/16 in"),
        ("3/8 in", "4 in", "2 1/2 in", "2 9/32 in"),
        ("1/4 in", "1/2 in", "1/2 in", "11/32 in"),
    ],
)
def test_appendix_l_thread_in_the_wood_from_memory_without_a_lags_tip(
    size: str, length: str, penetration: str, thread: str
) -> None:
    found = thread_in_wood_nm(size, length_parse(length).nm, length_parse(penetration).nm)

    assert found == length_parse(thread).nm


def test_the_bearing_of_an_aluminium_bracket_is_derived_by_the_ratio_of_the_steel_plate() -> None:
    assert DOWEL_BEARING_BRACKET.value["steel"] == STEEL
    assert DOWEL_BEARING_BRACKET.value["aluminium"] == 1.375 * 22_000


def test_no_bending_yield_is_known_for_a_very_thick_wood_screw() -> None:
    assert bending_yield(0.273) == 70_000
    with pytest.raises(ValueError, match="no bending yield"):
        bending_yield(0.274)


@pytest.mark.parametrize("off", [0.0, -1.0, float("nan"), float("inf")])
@pytest.mark.parametrize("member", range(6))
def test_a_size_that_is_nothing_is_refused(off: float, member: int) -> None:
    sizes = [0.152, 1.5, 0.5, 3350.0, 3350.0, 80_000.0]
    sizes[member] = off
    broken = Dowel(sizes[0], sizes[1], sizes[2], sizes[3], sizes[4], sizes[5], (2.2,) * 4)

    with pytest.raises(ValueError, match="more than zero"):
        single_shear(broken)
    with pytest.raises(ValueError, match="more than zero"):
        single_shear_gap(broken, 0.5)


@pytest.mark.parametrize("gap", [-0.1, float("nan")])
def test_a_gap_below_nothing_is_refused(gap: float) -> None:
    with pytest.raises(ValueError, match="zero or more"):
        single_shear_gap(dowel("#10", 0.42, 0.125, STEEL), gap)
