"""HSE L23 paragraph 120 (read as a copy of page 32) and ISO 11228-1 (from memory): team lifts.

Two conventions that must not be mixed; the one in use is a setting.
"""

import pytest

from fitcheck.rules.handling import team_capability_kg


def test_hse_two_people_have_two_thirds_of_their_sum() -> None:
    assert team_capability_kg(2, 20, "hse_l23") == pytest.approx(26.6, abs=0.1)
    assert team_capability_kg(2, 25, "hse_l23") == pytest.approx(33.3, abs=0.05)


def test_hse_three_people_have_half_of_their_sum() -> None:
    assert team_capability_kg(3, 25, "hse_l23") == pytest.approx(37.5)


def test_hse_does_not_speak_for_four() -> None:
    assert team_capability_kg(4, 25, "hse_l23") == 0


def test_iso_two_people_of_25_kg_lift_42_and_a_half_kg_from_memory() -> None:
    assert team_capability_kg(2, 25, "iso_11228_1") == pytest.approx(42.5)


def test_iso_s_factor_is_that_of_two_people_and_is_not_stretched_to_more() -> None:
    """Three and four lift no more than two do; up to version 4 they had 63.75 and 85 kg."""
    for people in (3, 4):
        assert team_capability_kg(people, 25, "iso_11228_1") == pytest.approx(42.5)
    old = [team_capability_kg(n, 25, "iso_11228_1", stretched=True) for n in (3, 4)]
    assert old == pytest.approx([63.75, 85])
