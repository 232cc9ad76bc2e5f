"""The whole answer about sealant: runs, cartridges, a joint that moves, the first shower."""

from copy import deepcopy
from typing import Any, cast

import pytest

from fitcheck.rules.sealing import answer, millilitre_text
from fitcheck.rules.strict import InputErrors

CURE: dict[str, Any] = {
    "sheet": {"title": "Installation sheet", "edition": "2026-03", "page": "7", "hours": 24},
    "product": {
        "title": "Silicone, product data",
        "edition": "2025",
        "rows": [
            {"least_celsius": "23", "least_humidity": "50", "mm_per_root_day": "3"},
            {"least_celsius": "5", "least_humidity": "40", "hours": "72", "up_to": "6 mm"},
        ],
    },
    "celsius": "23",
    "humidity": "50",
    "finished_at": "2026-03-07T16:20",
    "time_zone": "America/New_York",
}
BODY: dict[str, Any] = {
    "runs": [
        {"run": "left jamb", "length": "72 in", "width": "1/4 in"},
        {"run": "threshold", "shape": "joint", "length": "60 in", "width": "6 mm"},
    ],
    "joint": {
        "width": "6 mm",
        "length": "2 m",
        "kelvin": "40",
        "material": "aluminium",
        "against": "glass",
        "class": "25",
    },
    "cure": CURE,
}


def changed(**members: Any) -> dict[str, Any]:
    return {**deepcopy(BODY), **members}


def cured(**members: Any) -> Any:
    return answer(changed(cure={**deepcopy(CURE), **members}))["cure"]


def test_runs_add_up_to_cartridges() -> None:
    """By hand: 0.5 x 6.35 x 6.35 x 1828.8 = 36.9 mL; 6 x 6 x 1524 = 54.9 mL."""
    got: Any = answer(BODY)

    assert [run["volume"] for run in got["runs"]] == ["36.9 mL", "54.9 mL"]
    assert got["runs"][0]["shape"] == "fillet"
    assert got["runs"][0]["depth"]["inch"] == "1/4 in"
    assert got["runs"][1]["depth"]["mm"] == "6 mm"
    assert got["volume"] == "91.8 mL"
    assert got["cartridges"] == 1
    assert got["waste_percent"] == "10"


def test_waste_and_cartridge_are_settings() -> None:
    got: Any = answer(changed(cartridge="46 mL", waste_percent="0"))
    more: Any = answer(changed(cartridge="46 mL", waste_percent="0.5"))

    assert (got["cartridges"], more["cartridges"]) == (2, 3)


def test_a_fillet_with_two_legs_and_a_joint_with_its_own_depth() -> None:
    runs = [
        {"run": "a", "length": "1 m", "width": "6 mm", "depth": "4 mm"},
        {"run": "b", "shape": "joint", "length": "1 m", "width": "6 mm", "depth": "4 mm"},
    ]
    got: Any = answer(changed(runs=runs, cure=None))

    assert [run["volume"] for run in got["runs"]] == ["12.0 mL", "24.0 mL"]


def test_a_joint_too_narrow_to_seal_fails_and_leaves_the_cartridges_unknown() -> None:
    runs = [{"run": "a", "shape": "joint", "length": "1 m", "width": "5 mm"}]
    got: Any = answer(changed(runs=runs, cure=None))

    assert got["runs"][0]["state"] == "fails"
    assert got["runs"][0]["volume"] is None
    assert got["runs"][0]["depth"] is None
    assert (got["volume"], got["cartridges"]) == (None, None)


def test_a_joint_that_moves() -> None:
    got: Any = answer(BODY)

    assert got["joint"]["movement"]["mm"] == "1.2 mm"
    assert got["joint"]["width_needed"]["mm"] == "6 mm"
    assert got["joint"]["may_close_to"]["mm"] == "4.5 mm"
    assert got["joint"]["may_open_to"]["mm"] == "7.5 mm"
    assert got["joint"]["state"] == "fits"


def test_a_joint_too_narrow_for_its_movement_says_what_it_needs() -> None:
    joint = {**BODY["joint"], "length": "3 m", "kelvin": "60", "against": None}
    plain: Any = answer(changed(joint=joint))
    assert plain["joint"]["width_needed"]["mm"] == "17.28 mm"
    joint |= {"other": "1 mm", "tolerance": "2 mm"}
    got: Any = answer(changed(joint=joint))

    assert got["joint"]["width_needed"]["mm"] == "23.28 mm"
    assert got["joint"]["state"] == "fails"
    assert "23.28 mm" in got["joint"]["do"]


def test_the_product_and_the_sheet_are_both_obeyed() -> None:
    """The fillet is 6.35 deep: (6.35 / 3)^2 x 24 = 107.6 h; the row of 72 h ends at 6 mm."""
    got: Any = answer(BODY)["cure"]

    assert got["window"]["hours"] == "107.6"
    assert got["window"]["source"]["document"] == "Silicone, product data"
    assert got["state"] == "fits"
    assert got["first_shower"]["not_before"] == "2026-03-12T05:00:00-04:00"
    assert "The clocks go forward" in got["do"]


def test_the_sheet_may_ask_for_longer() -> None:
    sheet = {**CURE["sheet"], "hours": 200}
    got = cured(sheet=sheet)

    assert got["window"]["hours"] == "200"
    assert got["window"]["source"]["page"] == "7"


def test_colder_air_than_the_product_speaks_of_is_unknown_whatever_the_sheet_says() -> None:
    got = cured(celsius="4")

    assert got["state"] == "unknown"
    assert got["first_shower"] is None
    assert got["do"].startswith("Ask the maker")


def test_the_sheet_alone_is_enough_when_no_product_is_given() -> None:
    got = cured(product=None)

    assert got["state"] == "fits"
    assert got["first_shower"]["not_before"] == "2026-03-08T17:30:00-04:00"


def test_with_neither_sheet_nor_product_nothing_is_known() -> None:
    got = cured(product=None, sheet=None)

    assert (got["state"], got["window"]) == ("unknown", None)


def test_without_a_moment_the_window_is_still_told() -> None:
    got = cured(finished_at=None)

    assert got["first_shower"] is None
    assert got["do"] == "Tell the customer the window, counted from the last bead."


def test_a_time_that_came_twice_is_remarked() -> None:
    got = cured(finished_at="2026-11-01T01:30")

    assert got["remarks"] == ["2026-11-01T01:30 came twice; the second is meant."]


def test_volumes_are_printed_rounded_up() -> None:
    assert millilitre_text(1) == "0.1 mL"
    assert millilitre_text(10**11) == "0.1 mL"
    assert millilitre_text(48_200_000_000_001) == "48.3 mL"


def errors_of(body: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(InputErrors) as caught:
        answer(body)
    return {error.pointer: error.code for error in caught.value.errors}


def test_every_mistake_is_pointed_at() -> None:
    body = changed(cartridge="10", waste_percent="201", run="x")
    body["runs"] = [{"run": "", "shape": "round", "length": "0 m", "width": "6"}]
    body["joint"] = {"width": "6 mm", "length": "2 m", "material": "aluminum", "class": "30"}
    body["cure"]["product"]["rows"] = [
        {"least_celsius": "23", "least_humidity": "50"},
        {"mm_per_root_day": "3", "hours": "24"},
    ]
    body["cure"] |= {"celsius": None, "time_zone": "Mars/Olympus"}

    assert errors_of(body) == {
        "/run": "unknown_member",
        "/cartridge": "volume_not_understood",
        "/waste_percent": "not_in_range",
        "/runs/0/run": "not_a_text",
        "/runs/0/shape": "not_a_choice",
        "/runs/0/length": "length_out_of_range",
        "/runs/0/width": "length_without_unit",
        "/joint/material": "not_a_choice",
        "/joint/kelvin": "missing",
        "/joint/class": "not_a_choice",
        "/cure/celsius": "missing",
        "/cure/time_zone": "time_zone_unknown",
        "/cure/product/rows/0/hours": "one_of_two",
        "/cure/product/rows/1/hours": "one_of_two",
        "/cure/product/rows/1/up_to": "missing",
        "/cure/product/rows/1/least_celsius": "missing",
        "/cure/product/rows/1/least_humidity": "missing",
    }


@pytest.mark.parametrize("moment", ["2026-03-08T02:30", "noon", "1900-01-01T00:00"])
def test_a_moment_that_makes_no_sense_is_pointed_at(moment: str) -> None:
    body = changed(cure={**deepcopy(CURE), "finished_at": moment})

    assert errors_of(body) == {"/cure/finished_at": "moment_not_understood"}


def test_a_bead_so_deep_that_no_rate_speaks_of_it_is_unknown_and_gets_no_date() -> None:
    """By hand: (150 mm / 3 mm)^2 = 2500 days; the kit sheet's 24 h do not stand for it."""
    runs = [{"run": "a", "length": "1 m", "width": "6 mm", "depth": "150 mm"}]
    for depth in ("150 mm", "100 m"):
        got: Any = answer(changed(runs=[{**runs[0], "depth": depth}]))
        assert got["cure"]["state"] == "unknown"
        assert got["cure"]["first_shower"] is None
        assert "Ask the maker" in got["cure"]["do"]


def test_a_product_without_any_depth_does_not_speak() -> None:
    """A rate by depth says nothing of a bead of unknown depth: no hours, not none."""
    cure = {name: value for name, value in CURE.items() if name != "sheet"}
    for sheet in (None, CURE["sheet"]):
        got: Any = answer({"cure": {**cure, "sheet": sheet}})["cure"]
        assert (got["state"], got["first_shower"]) == ("unknown", None)
        assert got["do"].startswith("Say how deep")


def test_the_deepest_bead_may_be_told_without_its_run() -> None:
    alone: Any = answer({"cure": {**CURE, "depth": "6.35 mm"}})["cure"]
    beside = cured(depth="9 mm")
    shallow = cured(depth="1 mm")

    assert alone["window"]["hours"] == shallow["window"]["hours"] == "107.6"
    assert beside["window"]["hours"] == "216"


def test_a_run_too_narrow_to_have_a_depth_leaves_the_deepest_unknown() -> None:
    runs = [*BODY["runs"], {"run": "c", "shape": "joint", "length": "1 m", "width": "5 mm"}]
    got: Any = answer(changed(runs=runs))["cure"]

    assert got["state"] == "unknown"


def test_a_product_may_name_its_page() -> None:
    got = cured(product={**CURE["product"], "page": "9"})

    assert got["window"]["source"]["page"] == "9"
    assert cured()["window"]["source"]["clause"] == "cure"


@pytest.mark.parametrize(
    ("width", "depth", "state"),
    [
        ("6 mm", "30 mm", "fails"),
        ("6 mm", "5.9 mm", "fails"),
        ("6 mm", "6 mm", "fits"),
        ("1/4 in", "1/4 in", "fits"),
        ("6 mm", "7.6 mm", "fails"),
        ("20 mm", "10 mm", "fits"),
        ("20 mm", "8 mm", "fails"),
        ("20 mm", "12 mm", "fails"),
        ("40 mm", "13 mm", "fits"),
        ("40 mm", "13.1 mm", "fails"),
        ("5 mm", "6 mm", "fails"),
    ],
)
def test_a_joint_is_sealed_half_as_deep_as_it_is_wide(width: str, depth: str, state: str) -> None:
    """C1193 as restated: w/2, not under 6 mm, not over 13 mm; 1/16 in of it is the house's."""
    run = {"run": "a", "shape": "joint", "length": "1 m", "width": width, "depth": depth}
    (got,) = cast("Any", answer({"runs": [run]}))["runs"]

    assert got["state"] == state
    assert got["do"].startswith("Run it" if state == "fits" else ("Make the", "Widen it"))
    assert got["source"]["document"].startswith("ASTM C1193")


def test_a_fillet_has_no_depth_to_keep_and_no_side_but_the_sheet_s() -> None:
    run = {"run": "left jamb", "length": "1 m", "width": "6 mm", "depth": "30 mm"}
    (got,) = cast("Any", answer({"runs": [run]}))["runs"]

    assert (got["state"], got["do"]) == ("fits", "Run it along left jamb.")
    assert got["source"]["status"] == "derived"


def test_a_least_depth_is_never_printed_under_itself_nor_a_most_over() -> None:
    runs = [
        {"run": "a", "shape": "joint", "length": "1 m", "width": width}
        for width in ("6 mm", "40 mm")
    ]
    told: Any = answer({"runs": runs})["runs"]

    assert [one["depth"]["inch"] for one in told] == ["1/4 in", "1/2 in"]


def test_a_joint_that_fits_is_not_printed_narrower_than_it_needs() -> None:
    fits: Any = answer(BODY)["joint"]
    fails: Any = answer({"joint": {**BODY["joint"], "width": "5.9 mm"}})["joint"]

    assert (fits["width"]["inch"], fits["width_needed"]["inch"]) == ("1/4 in", "1/4 in")
    assert (fails["width"]["inch"], fails["width_needed"]["inch"]) == ("3/16 in", "1/4 in")
    assert "6 mm (1/4 in) wide" in fails["do"]


def test_of_a_range_of_expansion_the_joint_bears_the_greater_movement() -> None:
    """By hand: (24 - 10) x 3 m x 40 K = 1.68 mm, at 25 % 6.72 mm."""
    joint = {**BODY["joint"], "length": "3 m", "against": "concrete"}
    got: Any = answer({"joint": joint})["joint"]

    assert (got["movement"]["mm"], got["width_needed"]["mm"]) == ("1.68 mm", "6.72 mm")
    assert got["state"] == "fails"
