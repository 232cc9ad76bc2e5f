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
    bearing_small,
    double_shear,
    reductions,
    single_shear,
)
from fitcheck.rules.lateral_gap import single_shear_gap
from tests.published.nds_lateral_cases import (
    HALF_A_POUND,
    STEEL,
    TABLE_12K,
    TENTH,
    by_halving,
    dowel,
    inches,
    lag,
    psi,
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


@settings(max_examples=200, deadline=None)
@given(st.floats(0.1, 0.5), inches, inches, psi, psi, st.floats(40_000, 100_000))
def test_tr12_from_memory_without_a_gap_is_the_table_mode_by_mode_for_unequal_members(
    diameter: float, main: float, side: float, main_psi: float, side_psi: float, steel: float
) -> None:
    """A public copy of k2 writes (2 + Re) for (1 + 2 Re), which shows only when Re is not one."""
    screw = Dowel(diameter, main, side, main_psi, side_psi, steel, (4.0, 3.6, 3.2, 2.5))

    printed, general = dict(single_shear(screw).modes), dict(single_shear_gap(screw, 0.0).modes)

    assert printed == pytest.approx(general, rel=1e-6)


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
