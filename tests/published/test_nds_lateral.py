"""National Design Specification for Wood Construction (2018), lateral values of screws and lags.

Table 12K (lags with a steel side plate) was read as a scan: every legible cell is tested. The two
worked examples are from the American Wood Council's "Structural Wood Design Solved Example
Problems", as a public verification suite repeats them. The other lateral values were worked out
with a second, independent coding; root diameters, bending yields, end distances, load durations
and the general dowel equations of TR12 are from memory.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules.lateral import (
    Dowel,
    bearing_large,
    bearing_length,
    bearing_small,
    bending_yield,
    double_shear,
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
    nominal_nm,
    root_in,
    thread_in_wood_nm,
    yield_psi,
)

HALF_A_POUND = 0.5
TENTH = 0.1
STEEL = 61_850


def nominal(size: str) -> float:
    return nominal_nm(size) / NM_PER_INCH


def dowel(
    size: str, gravity: float, side_in: float, side_psi: float | None, main_in: float | None = None
) -> Dowel:
    root = root_in(size)
    return Dowel(
        diameter_in=root,
        main_in=main_in or 10 * nominal(size),
        side_in=side_in,
        main_psi=bearing_small(gravity),
        side_psi=side_psi or bearing_small(gravity),
        yield_psi=yield_psi(size),
        reduction=reductions(root),
    )


@pytest.mark.parametrize(
    ("size", "gravity", "side_in", "side_psi", "mode", "pounds"),
    [
        ("#10", 0.50, 0.5, None, "IIIs", 89.9),
        ("#10", 0.42, 0.5, None, "IIIs", 73.3),
        ("#10", 0.55, 0.5, None, "IIIs", 101.1),
        ("#10", 0.50, 1.5, None, "IV", 116.9),
        ("#8", 0.42, 0.036, STEEL, "IIIs", 76.7),
        ("#10", 0.42, 0.120, STEEL, "IIIs", 115.7),
        ("#14", 0.50, 0.239, STEEL, "IV", 221.9),
    ],
)
def test_12_3_1a_single_shear_of_wood_screws(
    size: str, gravity: float, side_in: float, side_psi: float | None, mode: str, pounds: float
) -> None:
    found = single_shear(dowel(size, gravity, side_in, side_psi))

    assert found.governing == mode
    assert found.lbf == pytest.approx(pounds, abs=HALF_A_POUND)


def test_12_3_1a_all_six_modes_of_a_number_10_in_half_an_inch_of_wood() -> None:
    found = dict(single_shear(dowel("#10", 0.50, 0.5, None)).modes)

    assert found == pytest.approx(
        {"Im": 610.4, "Is": 160.6, "II": 204.3, "IIIm": 214.5, "IIIs": 89.9, "IV": 116.9}, abs=0.06
    )


TABLE_12K = [
    (0.075, "1/4 in", (170, 160, 150, 140, 140, 130), (130, 120, 110, 100, 100, 90)),
    (0.075, "5/16 in", (220, 200, 190, 180, 180, 170), (160, 140, 130, 120, 120, 110)),
    (0.075, "3/8 in", (220, 200, 200, 180, 180, 170), (160, 140, 130, 120, 120, 100)),
    (0.105, "1/4 in", (180, 170, 160, 150, 150, 140), (140, 130, 120, 110, 110, 100)),
]


def lag(plate_in: float, size: str, gravity: float, degrees: float) -> Dowel:
    d, root = nominal(size), root_in(size)
    return Dowel(
        diameter_in=root,
        main_in=8 * d,
        side_in=plate_in,
        main_psi=bearing_large(gravity, d, degrees),
        side_psi=STEEL,
        yield_psi=yield_psi(size),
        reduction=reductions(root, degrees, lag=True),
    )


@pytest.mark.parametrize(("plate_in", "size", "parallel", "perpendicular"), TABLE_12K)
def test_table_12k_every_legible_cell_to_its_ten_pounds(
    plate_in: float, size: str, parallel: tuple[int, ...], perpendicular: tuple[int, ...]
) -> None:
    gravities = (0.67, 0.55, 0.50, 0.43, 0.42, 0.36)

    along = tuple(round(single_shear(lag(plate_in, size, g, 0)).lbf, -1) for g in gravities)
    across = tuple(round(single_shear(lag(plate_in, size, g, 90)).lbf, -1) for g in gravities)

    assert along == parallel
    assert across == perpendicular


@pytest.mark.parametrize(
    ("plate_in", "size", "along", "across"),
    [
        (0.075, "1/4 in", 141.6, 98.7),
        (0.075, "5/16 in", 178.0, 117.9),
        (0.075, "3/8 in", 181.7, 115.8),
        (0.105, "1/4 in", 150.9, 105.5),
    ],
)
def test_table_12k_before_rounding_in_0_42(
    plate_in: float, size: str, along: float, across: float
) -> None:
    assert single_shear(lag(plate_in, size, 0.42, 0)).lbf == pytest.approx(along, abs=0.06)
    assert single_shear(lag(plate_in, size, 0.42, 90)).lbf == pytest.approx(across, abs=0.06)


def test_worked_example_of_a_10d_nail_holds_105_1_pounds() -> None:
    exact, printed = bearing_small(0.50, rounded=False), bearing_small(0.50)
    nails = [Dowel(0.148, 2.25, 0.75, fe, fe, 90_000, reductions(0.148)) for fe in (exact, printed)]

    assert [single_shear(nail).lbf for nail in nails] == pytest.approx([105.1, 105.3], abs=0.06)


def test_worked_example_e2_4_double_shear_with_kd_of_the_nominal_diameter() -> None:
    """The book states G 0.50 and uses the bearing of 0.55; it takes KD 2.4 from the nominal."""
    screw = Dowel(0.152, 3.0, 1.31, 5526, 5526, 80_000, (2.4,) * 4)

    found = double_shear(screw)

    assert found.governing == "IV"
    assert found.lbf == pytest.approx(233.7, abs=TENTH)
    assert [mode for mode, _ in found.modes] == ["Im", "Is", "IIIs", "IV"]


def test_e2_4_with_kd_of_the_root_as_the_printed_tables_use_would_be_255() -> None:
    screw = Dowel(0.152, 3.0, 1.31, 5526, 5526, 80_000, reductions(0.152))

    assert double_shear(screw).lbf == pytest.approx(255.0, abs=TENTH)


@pytest.mark.parametrize(
    ("size", "gap_in", "pounds"),
    [
        ("#10", 0.0, 117.5),
        ("#10", 0.5, 55.4),
        ("#10", 1.0, 33.4),
        ("#12", 0.0, 142.1),
        ("#12", 1.0, 42.6),
        ("#14", 0.0, 153.5),
        ("#14", 0.5, 77.3),
        ("#14", 1.0, 47.6),
    ],
)
def test_tr12_from_memory_a_stack_of_tile_is_a_gap(size: str, gap_in: float, pounds: float) -> None:
    bracket = dowel(size, 0.42, 0.125, STEEL, main_in=1.5)

    assert single_shear_gap(bracket, gap_in).lbf == pytest.approx(pounds, abs=0.06)


@pytest.mark.parametrize(("gravity", "pounds"), [(0.50, 89.9), (0.55, 101.1)])
def test_tr12_from_memory_without_a_gap_is_the_table(gravity: float, pounds: float) -> None:
    screw = dowel("#10", gravity, 0.5, None)

    assert single_shear_gap(screw, 0.0).lbf == pytest.approx(pounds, abs=0.06)


psi = st.floats(1500, 90_000)
inches = st.floats(0.03, 4)


@settings(max_examples=200, deadline=None)
@given(st.floats(0.1, 0.5), inches, inches, psi, psi, st.floats(40_000, 100_000))
def test_tr12_from_memory_without_a_gap_is_the_table_mode_by_mode_for_unequal_members(
    diameter: float, main: float, side: float, main_psi: float, side_psi: float, steel: float
) -> None:
    """A public copy of k2 writes (2 + Re) for (1 + 2 Re), which shows only when Re is not one."""
    screw = Dowel(diameter, main, side, main_psi, side_psi, steel, (4.0, 3.6, 3.2, 2.5))

    printed, general = dict(single_shear(screw).modes), dict(single_shear_gap(screw, 0.0).modes)

    assert printed == pytest.approx(general, rel=1e-6)


def turning(load: float, bears: float, length: float, moment: float | None) -> float:
    """The moment that a member can hold at its face beside a shear: by a hinge, or by turning."""
    if moment is not None:
        return moment - load**2 / (2 * bears)
    return bears * length**2 / 4 - load * length / 2 - load**2 / (4 * bears)


def by_halving(dowel: Dowel, gap: float, main_hinge: bool, side_hinge: bool) -> float:
    """The shear at which both faces together just hold the moment of the gap."""
    plastic = dowel.yield_psi * dowel.diameter_in**3 / 6
    low, high = 0.0, 1e9
    for _ in range(200):
        load = (low + high) / 2
        main = turning(
            load,
            dowel.main_psi * dowel.diameter_in,
            dowel.main_in,
            plastic if main_hinge else None,
        )
        side = turning(
            load,
            dowel.side_psi * dowel.diameter_in,
            dowel.side_in,
            plastic if side_hinge else None,
        )
        low, high = (load, high) if main + side > load * gap else (low, load)
    return low


@settings(max_examples=60, deadline=None)
@given(inches, inches, psi, psi, st.floats(0, 2))
def test_tr12_from_memory_every_mode_is_in_equilibrium_across_the_gap(
    main: float, side: float, main_psi: float, side_psi: float, gap: float
) -> None:
    screw = Dowel(0.2, main, side, main_psi, side_psi, 80_000, (1.0, 1.0, 1.0, 1.0))

    found = dict(single_shear_gap(screw, gap).modes)

    hinges = {
        "II": (False, False),
        "IIIm": (False, True),
        "IIIs": (True, False),
        "IV": (True, True),
    }
    for mode, (in_main, in_side) in hinges.items():
        assert found[mode] == pytest.approx(by_halving(screw, gap, in_main, in_side), rel=1e-6)
    assert found["Im"] == pytest.approx(0.2 * main * main_psi)
    assert found["Is"] == pytest.approx(0.2 * side * side_psi)


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
