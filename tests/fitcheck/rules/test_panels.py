"""Mass, hands and handing of each panel; without a size the crew is never sent too small."""

from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.rules.handling import hands_for
from fitcheck.rules.quantity import UG_PER_KG, force_parse, kg_text, mass_parse


@pytest.mark.parametrize(
    ("kilograms", "sheet", "convention", "people", "by_hand"),
    [
        (5, 2, "iso_11228_1", 2, True),
        (5, 1, "iso_11228_1", 2, True),
        (5, 3, "iso_11228_1", 3, True),
        (42.5, 2, "iso_11228_1", 2, True),
        (42.6, 2, "iso_11228_1", 4, False),
        (45, 2, "iso_11228_1", 4, False),
        (33, 2, "hse_l23", 2, True),
        (34, 2, "hse_l23", 3, True),
        (38, 2, "hse_l23", 4, False),
    ],
)
def test_hands_by_mass_sheet_and_convention(
    kilograms: float, sheet: int, convention: str, people: int, by_hand: bool
) -> None:
    assert hands_for(round(kilograms * UG_PER_KG), sheet, convention) == (people, by_hand)


def test_a_panel_weighs_its_glass_and_its_hardware_by_hand(hinged: dict[str, Any]) -> None:
    """By hand: 0.87 x 1.9 x 0.010 x 2500 = 41.325 kg; 2.6 kg more is 43.925 kg, more than
    two may lift (42.5 kg, from memory): an aid."""
    (panel,) = check(hinged).panels

    assert kg_text(panel.glass_ug) == "41.4 kg"
    assert panel.mass_ug == 43_925_000_000
    assert panel.hands == 4
    assert check(hinged).hands_needed == 4


def test_without_a_size_the_heaviest_panel_of_the_sheet_counts(hinged: dict[str, Any]) -> None:
    hinged["size"] = None
    hinged["readings"] = [r for r in hinged["readings"] if r["quantity"] != "width"]

    verdict = check(hinged)

    assert len(verdict.panels) == 2
    assert verdict.hands_needed == max(panel.hands for panel in verdict.panels) == 4


def test_a_panel_too_heavy_for_hands_asks_for_a_lifting_aid(hinged: dict[str, Any]) -> None:
    hinged["sheet"]["panels"][1]["hardware_mass"] = "60 kg"

    verdict = check(hinged)

    assert verdict.hands_needed == 4
    assert any("lifting aid" in q.text for q in verdict.questions)


@pytest.mark.parametrize("side", ["left", "right"])
def test_handles_go_on_the_shower_head_side(bypass: dict[str, Any], side: str) -> None:
    bypass["opening"]["shower_head_side"] = side

    assert check(bypass).panels[1].handing.endswith(f": {side}")


def test_an_unknown_shower_head_side_is_a_question(bypass: dict[str, Any]) -> None:
    bypass["opening"]["shower_head_side"] = "unknown"

    verdict = check(bypass)

    assert any("shower head" in q.text for q in verdict.questions)
    assert verdict.panels[0].handing == "none"


@pytest.mark.parametrize(
    ("text", "ug"), [("1.5 kg", 1_500_000_000), ("1 lb", 453_592_370), ("3 g", 3_000_000)]
)
def test_masses_are_exact(text: str, ug: int) -> None:
    assert mass_parse(text) == ug


@pytest.mark.parametrize("text", ["1.5", "1.5 stone", "", None, "-1 kg"])
def test_a_mass_without_sense_is_refused(text: object) -> None:
    with pytest.raises(ValueError, match="write"):
        mass_parse(text)


def test_a_pound_force_is_4_4482216152605_newton() -> None:
    assert str(force_parse("1 lbf")) == "4.4482216152605"
