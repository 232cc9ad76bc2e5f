"""AISC Manual, table 3-23, simply supported beams: the symmetric case was read, others are from
memory. The values B1 to B7 were worked out by two frame programs that agree to six digits; the
sections by a section program.
"""

import pytest

from fitcheck.rules.rail_beam import (
    Load,
    greatest_moment,
    greatest_sag,
    moment_at,
    reactions,
    sag_at,
    section_bar,
    section_round,
    section_tube,
)

PSI = 10.0e6
CLOSED_FORM = 1e-4

CASES = {
    "B1": (60, ((40, 15), (40, 45)), 0.10, (40, 40), 600, 0.24750, 30, 0.24750),
    "B2": (60, ((80, 30),), 0.10, (40, 40), 1200, 0.36000, 30, 0.36000),
    "B3": (60, ((40, 10), (40, 34)), 0.10, (50.667, 29.333), 762.67, 0.26212, 29.66, 0.26208),
    "B4": (72, ((45, 18), (45, 54)), 0.10, (45, 45), 810, 0.48114, 36, 0.48114),
    "B5": (48, ((35, 6), (50, 30)), 0.08, (49.375, 35.625), 641.25, 0.16881, 24.70, 0.16864),
    "B6": (60, ((60, 20),), 0.10, (40, 20), 800, 0.23225, 27.34, 0.23000),
}


@pytest.mark.parametrize("case", CASES)
def test_reactions_moment_and_sag_of_a_rail(case: str) -> None:
    span, placed, inertia, ends, moment, sag, at, middle = CASES[case]
    loads = tuple(Load(force, x) for force, x in placed)

    assert reactions(span, loads) == pytest.approx(ends, rel=CLOSED_FORM)
    assert greatest_moment(span, loads).value == pytest.approx(moment, rel=CLOSED_FORM)
    peak = greatest_sag(span, PSI * inertia, loads)
    assert peak.value == pytest.approx(sag, rel=CLOSED_FORM)
    assert peak.at == pytest.approx(at, abs=0.01)
    assert sag_at(span, PSI * inertia, loads, span / 2) == pytest.approx(middle, rel=CLOSED_FORM)


def test_b7_in_newtons_and_millimetres() -> None:
    loads = (Load(200, 381), Load(200, 1143))

    assert reactions(1524, loads) == (200, 200)
    assert greatest_moment(1524, loads).value == pytest.approx(76_200)
    assert greatest_sag(1524, 70_000 * 41_600, loads).value == pytest.approx(
        6.9639, rel=CLOSED_FORM
    )


def test_two_equal_loads_by_the_closed_form_of_the_table() -> None:
    p, a, span, stiffness = 40.0, 15.0, 60.0, 1.0e6
    loads = (Load(p, a), Load(p, span - a))

    assert sag_at(span, stiffness, loads, 30) == pytest.approx(
        p * a * (3 * span**2 - 4 * a**2) / (24 * stiffness)
    )


def test_one_load_off_centre_by_the_closed_form_of_the_table_from_memory() -> None:
    p, a, b, span, stiffness = 60.0, 40.0, 20.0, 60.0, 1.0e6

    peak = greatest_sag(span, stiffness, (Load(p, a),))

    root = (3 * a * (a + 2 * b)) ** 0.5
    assert peak.value == pytest.approx(p * a * b * (a + 2 * b) * root / (27 * stiffness * span))
    assert peak.at == pytest.approx((a * (a + 2 * b) / 3) ** 0.5)


def test_sections_of_a_tube_a_round_tube_and_a_bar() -> None:
    assert section_tube(1, 2, 0.125).inertia == pytest.approx(0.33171, abs=1e-5)
    assert section_tube(2, 1, 0.125).inertia == pytest.approx(0.10514, abs=1e-5)
    assert section_tube(1, 2, 0.125).modulus == pytest.approx(0.3317, abs=1e-4)
    assert section_round(1, 0.125).inertia == pytest.approx(0.033556, abs=1e-6)
    assert section_round(1, 0.125).modulus == pytest.approx(0.067112, abs=2e-6)
    assert section_tube(1, 2, 0.125).area == 0.6875
    assert section_round(1, 0.125).area == pytest.approx(0.343612, abs=1e-6)
    assert section_bar(0.375, 2).area == 0.75
    assert section_bar(0.375, 2).inertia == 0.25
    assert section_bar(0.375, 2).modulus == 0.25


def test_b4_on_the_tube_sags_span_over_496_at_2442_psi() -> None:
    tube, loads = section_tube(1, 2, 0.125), (Load(45, 18), Load(45, 54))

    sag = greatest_sag(72, PSI * tube.inertia, loads).value

    assert sag == pytest.approx(0.1451, abs=5e-5)
    assert 72 / sag == pytest.approx(496, abs=0.5)
    assert greatest_moment(72, loads).value / tube.modulus == pytest.approx(2442, abs=1)


def test_b4_needs_an_inertia_of_0_2406_for_span_over_360() -> None:
    loads = (Load(45, 18), Load(45, 54))

    assert greatest_sag(72, PSI * 0.2406, loads).value == pytest.approx(72 / 360, rel=1e-3)


def test_the_moment_beyond_the_loads_falls_to_nothing_at_the_ends() -> None:
    loads = (Load(40, 15), Load(40, 45))

    assert moment_at(60, loads, 0) == 0
    assert moment_at(60, loads, 7.5) == 300
    assert moment_at(60, loads, 30) == 600
    assert moment_at(60, loads, 60) == pytest.approx(0)


@pytest.mark.parametrize(
    ("span", "load"),
    [
        (0.0, Load(1, 0)),
        (-1.0, Load(1, 0)),
        (60.0, Load(1, 61)),
        (60.0, Load(1, -1)),
        (60.0, Load(-1, 30)),
        (float("nan"), Load(1, 0)),
    ],
)
def test_a_load_off_the_rail_or_upward_is_refused(span: float, load: Load) -> None:
    with pytest.raises(ValueError, match="rail"):
        reactions(span, (load,))
    with pytest.raises(ValueError, match="rail"):
        sag_at(span, 1.0e6, (load,), 1.0)


def test_a_rail_without_stiffness_or_load_is_refused() -> None:
    with pytest.raises(ValueError, match="stiffness"):
        sag_at(60, 0.0, (Load(1, 30),), 30)
    with pytest.raises(ValueError, match="without loads"):
        greatest_moment(60, ())


@pytest.mark.parametrize("sizes", [(1, 2, 0.5), (1, 2, 0), (1, 2, -0.1), (2, 1, 0.5)])
def test_walls_of_a_tube_that_meet_are_refused(sizes: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="walls"):
        section_tube(*sizes)


def test_a_round_tube_and_a_bar_that_are_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="walls"):
        section_round(1, 0.5)
    with pytest.raises(ValueError, match="walls"):
        section_round(1, 0)
    for sizes in ((0, 1), (1, 0)):
        with pytest.raises(ValueError, match="bar"):
            section_bar(*sizes)
