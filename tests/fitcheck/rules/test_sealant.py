"""Sealant per run: a fillet with two equal legs, arithmetic only."""

from typing import Any

from fitcheck.check import check
from fitcheck.rules.sealant import fillet_volume_tenths_ml


def test_a_6_mm_fillet_takes_300_ml_for_16_67_m_by_hand() -> None:
    """By hand: 0.5 x 6 x 6 = 18 mm2; 18 mL a metre."""
    assert fillet_volume_tenths_ml(10**9, 6 * 10**6) == 180
    assert fillet_volume_tenths_ml(16_666_666_667, 6 * 10**6) == 3001


def test_along_a_wall_the_run_goes_up_to_the_rail_and_along_the_sill_it_is_the_width(
    bypass: dict[str, Any],
) -> None:
    rows = {bead.run: bead.as_json() for bead in check(bypass).sealant}

    assert rows["left jamb, inside"]["length"]["inch"] == "73 in"  # type: ignore[index]
    assert rows["threshold, inside"]["length"]["inch"] == "56 1/4 in"  # type: ignore[index]


def test_without_a_width_the_run_along_the_sill_is_not_known(bypass: dict[str, Any]) -> None:
    bypass["readings"] = [r for r in bypass["readings"] if r["quantity"] != "width"]

    rows = {bead.run: bead.as_json() for bead in check(bypass).sealant}

    assert rows["threshold, inside"]["length"] is None
    assert rows["threshold, inside"]["volume_ml"] is None


def test_without_a_rail_the_run_goes_up_the_tallest_panel(bypass: dict[str, Any]) -> None:
    bypass["sheet"]["rail_height"] = None
    bypass["sheet"]["panels"][0]["height"] = "71 in"

    rows = {bead.run: bead.as_json() for bead in check(bypass).sealant}

    assert rows["left jamb, inside"]["length"]["inch"] == "71 in"  # type: ignore[index]
