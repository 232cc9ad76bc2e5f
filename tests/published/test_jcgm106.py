"""JCGM 106:2012, conformity assessment. Inputs of the two examples are from memory; the gap values
were worked out with an independent statistics library.
"""

import pytest

from fitcheck.rules.uncertainty import conformance_probability, guard_band_nm, margin_state

TO_THE_LAST_DIGIT = 5e-6
MM = 10**6


def test_example_breakdown_voltage_of_a_diode_from_memory() -> None:
    chance = conformance_probability(-5.47, 0.05, most=-5.40)

    assert chance == pytest.approx(0.91924, abs=TO_THE_LAST_DIGIT)


def test_example_bursting_strength_of_a_container_from_memory() -> None:
    chance = conformance_probability(509.7, 8.6, least=490)

    assert chance == pytest.approx(0.98901, abs=TO_THE_LAST_DIGIT)


@pytest.mark.parametrize(
    ("value", "u", "chance"), [(3.7, 0.4, 0.95994), (4.5, 0.81, 0.93595), (3.0, 0.4, 0.500)]
)
def test_a_gap_of_3_to_6_mm(value: float, u: float, chance: float) -> None:
    found = conformance_probability(value, u, least=3.0, most=6.0)

    assert found == pytest.approx(chance, abs=TO_THE_LAST_DIGIT)


def test_two_uncertainties_inside_one_limit_is_0_97725() -> None:
    assert conformance_probability(2.0, 1.0, least=0.0) == pytest.approx(
        0.97725, abs=TO_THE_LAST_DIGIT
    )


@pytest.mark.parametrize(
    ("z", "chance"), [(0.842, 0.80), (1.282, 0.90), (1.645, 0.95), (2.326, 0.99), (3.090, 0.999)]
)
def test_table_1_coverage_on_one_side(z: float, chance: float) -> None:
    assert conformance_probability(z, 1.0, least=0.0) == pytest.approx(chance, abs=5e-4)


def test_8_3_guard_band_of_1_645_leaves_3_658_to_5_342_of_3_to_6() -> None:
    guard = guard_band_nm(0.4, 1.645)

    assert guard == pytest.approx(0.658 * MM, abs=0.01 * MM)
    assert guard >= 0.658 * MM


def test_8_3_2_inside_the_band_is_tight_and_on_its_edge_too() -> None:
    guard = guard_band_nm(0.4, 1.645)

    assert margin_state(guard + 1, guard) == "fits"
    assert margin_state(guard, guard) == "tight"
    assert margin_state(0, guard) == "tight"
    assert margin_state(-1, guard) == "fails"
