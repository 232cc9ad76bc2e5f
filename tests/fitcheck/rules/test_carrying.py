"""The whole answer about one panel: hands, lift, way in, rests, protection."""

from copy import deepcopy
from typing import Any

import pytest

from fitcheck.rules.carrying import answer
from fitcheck.rules.strict import InputErrors

BODY: dict[str, Any] = {
    "panel": {
        "width": "28 in",
        "height": "76 in",
        "thickness": "10 mm",
        "packing": "30 mm",
        "mass": "34.32 kg",
    },
    "people": 2,
    "convention": "iso_11228_1",
    "lift": {
        "origin": {"horizontal": "40 cm", "height": "75 cm"},
        "per_minute": "0.2",
        "work_minutes": 30,
        "rest_minutes": 30,
        "coupling": "poor",
    },
    "way": [
        {"kind": "doorway", "name": "front door", "width": "30 in", "height": "80 in"},
        {"kind": "corner", "name": "hall", "from": "36 in", "to": "32 in", "height": "96 in"},
        {"kind": "stairs", "name": "flight", "width": "34 in", "headroom": "78 in",
         "rise": "7 1/2 in", "going": "10 in"},
        {"kind": "stair_turn", "flight": "34 in", "landing": "36 in", "height": "90 in",
         "across": "72 in"},
        {"kind": "lift_car", "name": "lift", "width": "1100 mm", "depth": "1400 mm",
         "height": "2200 mm", "door_width": "800 mm", "door_height": "2000 mm"},
    ],
    "carry": "40 m",
}  # fmt: skip


def changed(**members: Any) -> dict[str, Any]:
    return {**deepcopy(BODY), **members}


def eased(**members: Any) -> dict[str, Any]:
    """The panel held close and well gripped: the load constant of 23 kg each, nothing taken off."""
    good = {"origin": {"horizontal": "25 cm", "height": "75 cm"}, "coupling": "good"}
    return changed(lift={**BODY["lift"], **good}, **members)


def test_a_pair_in_a_poor_posture_is_too_few_and_so_is_any_team() -> None:
    """Two of 12.94 kg have 22.0 kg by the factor 0.85, which speaks of two people (from memory)."""
    got: Any = answer(BODY)

    assert got["lift"]["limit_each"]["governing"] == "12.9 kg"
    assert got["lift"]["team_may_lift"] == "21.9 kg"
    assert got["lift"]["index"] == "1.57"
    assert got["lift"]["state"] == "fails"
    assert got["lift"]["people_enough"] is None
    assert got["lift"]["do"].startswith("Use a lifting aid")
    assert got["by_hand"] is False
    assert got["team"]["state"] == got["state"] == "fails"
    assert got["team"]["do"].startswith("Use a lifting aid")
    assert (got["mass"], got["mass_lb"]) == ("34.4 kg", "75.7 lb")
    assert got["lift"]["team_may_lift_lb"] == "48.4 lb"
    assert "screen of the lift only" in got["lift"]["method"]


def test_more_people_add_nothing_to_what_two_may_lift() -> None:
    four: Any = answer(changed(people=4))

    assert four["lift"]["team_may_lift"] == answer(BODY)["lift"]["team_may_lift"]  # type: ignore[index]
    assert four["state"] == "fails"


def test_two_may_lift_it_close_to_the_body() -> None:
    """By hand: 34.32 / (2 x 23 x 0.85) = 0.878."""
    got: Any = answer(eased())

    assert got["lift"]["index"] == "0.88"
    assert got["lift"]["do"] == "Lift it with 2 people; hold it close and do not twist."
    assert got["hands_needed"] == 2
    assert got["team"]["do"] == "Lift it with 2 people."
    assert (got["lift"]["state"], got["team"]["state"], got["state"]) == ("fits", "fits", "fits")


def test_two_are_too_few_where_the_other_convention_wants_three() -> None:
    """By hand: 36 kg are more than 2/3 of 50 kg and less than half of 75 kg."""
    panel = {**BODY["panel"], "mass": "36 kg"}
    body = changed(panel=panel, convention="hse_l23", way=[])
    del body["lift"]
    got: Any = answer(body)
    three: Any = answer({**body, "people": 3})

    assert (got["hands_needed"], got["state"]) == (3, "fails")
    assert got["team"]["do"] == "Bring 3 people, or a lifting aid."
    assert got["team"]["source"]["status"] == "published"
    assert (three["hands_needed"], three["state"]) == (3, "unknown")


def test_more_than_two_may_lift_takes_an_aid_though_nobody_told_the_posture() -> None:
    body = changed(panel={**BODY["panel"], "mass": "60 kg"}, way=[])
    del body["lift"]
    got: Any = answer(body)

    assert (got["by_hand"], got["state"]) == (False, "fails")


@pytest.mark.parametrize(
    ("mass", "refused"),
    [("3.4 kg", True), ("30.8 kg", True), ("31 kg", False), ("75.67 lb", False), ("90 kg", False)],
)
def test_a_mass_that_no_glass_of_the_size_has_is_refused(mass: str, refused: bool) -> None:
    """By hand: 0.7112 x 1.9304 x 0.010 x 2500 = 34.32 kg, of which nine tenths are 30.89 kg."""
    body = changed(panel={**BODY["panel"], "mass": mass})
    if refused:
        assert errors_of(body) == {"/panel/mass": "mass_contradicts_size"}
    else:
        assert answer(body)["mass"]


def test_by_the_stricter_convention_it_takes_an_aid() -> None:
    got: Any = answer(changed(convention="hse_l23"))

    assert got["lift"]["people_enough"] is None
    assert got["by_hand"] is False
    assert got["lift"]["do"].startswith("Use a lifting aid")
    assert got["state"] == "fails"


def test_conditions_outside_the_method_are_never_called_fit() -> None:
    got: Any = answer(eased(conditions=["stairs", "carrying"]))

    assert got["lift"]["outside"] == ["climbing with the load", "carrying, pushing or pulling"]
    assert got["lift"]["state"] == "unknown"
    assert got["state"] == "unknown"
    assert "competent person" in got["lift"]["do"]


def test_beyond_reach_nothing_may_be_lifted_and_no_index_is_printed() -> None:
    body = changed()
    body["lift"]["origin"]["horizontal"] = "70 cm"
    got: Any = answer(body)

    assert got["lift"]["index"] is None
    assert got["lift"]["team_may_lift"] == "0.0 kg"
    assert got["state"] == "fails"


def test_a_destination_that_is_worse_governs() -> None:
    body = changed(people=4)
    body["lift"]["destination"] = {
        "horizontal": "40 cm",
        "height": "150 cm",
        "asymmetry_deg": "30",
    }
    got: Any = answer(body)

    assert got["lift"]["limit_each"]["governed_by"] == "destination"
    assert got["lift"]["limit_each"]["destination"] == "7.9 kg"


def test_without_a_lift_the_hands_go_by_the_mass_and_nobody_knows_whether_they_may() -> None:
    body = changed()
    del body["lift"]
    got: Any = answer(body)

    assert got["lift"] is None
    assert got["hands_needed"] == 2
    assert got["state"] == got["team"]["state"] == "unknown"
    assert got["team"]["do"].startswith("Say how it is lifted")
    assert {one["state"] for one in got["way"]} == {"fits"}


def test_a_panel_that_no_team_may_lift_fails_though_the_way_is_wide() -> None:
    body = changed()
    del body["lift"]
    body["panel"]["mass"] = "86 kg"
    got: Any = answer(body)

    assert got["by_hand"] is False
    assert got["hands_needed"] == 4
    assert got["state"] == "fails"


def test_with_neither_lift_nor_way_nothing_is_known() -> None:
    got: Any = answer({k: BODY[k] for k in ("panel", "people", "convention")})

    assert got["state"] == "unknown"
    assert got["way"] == []
    assert got["tightest"] is None
    assert got["rests"] == []
    assert len(got["protection"]) == 3


def test_the_way_in_names_its_tightest_place_rests_and_protection() -> None:
    got: Any = answer(BODY)

    assert [row["name"] for row in got["way"]] == [
        "front door", "hall", "flight", "stair turn", "lift",
    ]  # fmt: skip
    margins = {row["name"]: row["margin"]["mm"] for row in got["way"]}
    assert got["tightest"]["margin"]["mm"] == margins[got["tightest"]["name"]]
    assert got["tightest"] == min(
        got["way"], key=lambda row: float(row["margin"]["mm"].removesuffix(" mm"))
    )
    assert got["rests"] == [
        "Before flight.",
        "Before stair turn.",
        "Before lift.",
        "On the level: 2 more, one at least every 15 m (49 ft).",
    ]
    assert any("newel" in line for line in got["protection"])
    assert len(got["protection"]) == 3 + 5
    assert any("fall path" in line for line in got["cautions"])


LOW_TURN = {
    "kind": "stair_turn", "flight": "34 in", "landing": "36 in", "height": "80 in",
    "across": "84 in", "name": "turn",
}  # fmt: skip
LONG_PANEL = {
    "width": "50 in", "height": "78 in", "thickness": "5 mm", "packing": "30 mm", "mass": "72 lb",
}  # fmt: skip


def test_the_steps_of_a_turn_are_reckoned_with_and_unknown_when_nobody_told_them() -> None:
    """50 in on 36 in of landing hangs over two steps of 10 in: 15 in of 80 in are lost."""
    asked = {"panel": LONG_PANEL, "people": 2, "convention": "hse_l23", "room_for_hands": "0 mm"}
    steps = {**LOW_TURN, "rise": "7 1/2 in", "going": "10 in"}
    told: Any = answer({**asked, "way": [steps]})
    untold: Any = answer({**asked, "way": [LOW_TURN]})
    small: Any = answer({**asked, "panel": {**LONG_PANEL, "width": "28 in"}, "way": [LOW_TURN]})

    assert told["way"][0]["state"] == "fails"
    assert (untold["way"][0]["state"], untold["way"][0]["pose"]) == ("unknown", None)
    assert untold["tightest"] is None
    assert untold["state"] == "unknown"
    assert (small["way"][0]["state"], small["way"][0]["pose"]) == ("fits", "upright")


@pytest.mark.parametrize(("told", "missing"), [("rise", "going"), ("going", "rise")])
def test_a_step_is_told_whole_or_not_at_all(told: str, missing: str) -> None:
    asked = changed(way=[{**LOW_TURN, told: "8 in"}])

    assert list(errors_of(asked)) == [f"/way/0/{missing}"]


def test_packing_makes_the_panel_thicker() -> None:
    narrow = {"kind": "doorway", "name": "gap", "width": "42 mm", "height": "96 in"}
    with_packing: Any = answer(changed(way=[narrow], room_for_hands="0 mm"))
    bare = changed(way=[narrow], room_for_hands="0 mm")
    del bare["panel"]["packing"]
    without: Any = answer(bare)

    assert with_packing["way"][0]["margin"]["mm"] == "2 mm"
    assert without["way"][0]["margin"]["mm"] == "32 mm"
    assert with_packing["way"][0]["state"] == "fits"


def test_a_short_carry_needs_no_rest() -> None:
    assert answer(changed(carry="15 m", way=[]))["rests"] == []
    assert answer(changed(carry="15.1 m", way=[]))["rests"] == [
        "On the level: 1 more, one at least every 15 m (49 ft)."
    ]


def errors_of(body: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(InputErrors) as caught:
        answer(body)
    return {error.pointer: error.code for error in caught.value.errors}


def test_every_mistake_is_pointed_at() -> None:
    body = changed(people=1, convention="our_own", coler="red")
    body["panel"]["mass"] = "34"
    body["panel"]["width"] = "28"
    body["lift"]["coupling"] = "god"
    body["lift"]["per_minute"] = "61"
    body["lift"]["origin"] = {"horizontal": "0 cm", "height": "-1 cm", "asymmetry_deg": "181"}
    body["way"] = [
        {"kind": "window"},
        {"kind": "corner", "from": "1 m", "to": "0 m", "width": "1 m"},
    ]

    assert errors_of(body) == {
        "/coler": "unknown_member",
        "/convention": "not_a_choice",
        "/people": "not_in_range",
        "/panel/width": "length_without_unit",
        "/panel/mass": "mass_not_understood",
        "/lift/coupling": "not_a_choice",
        "/lift/per_minute": "not_in_range",
        "/lift/origin/horizontal": "length_out_of_range",
        "/lift/origin/height": "length_out_of_range",
        "/lift/origin/asymmetry_deg": "not_in_range",
        "/way/0/kind": "not_a_choice",
        "/way/0/width": "missing",
        "/way/0/height": "missing",
        "/way/1/width": "unknown_member",
        "/way/1/to": "length_out_of_range",
        "/way/1/height": "missing",
    }


@pytest.mark.parametrize(
    ("member", "value", "pointer"),
    [
        ("panel", None, "/panel"),
        ("panel", {**BODY["panel"], "mass": "0 kg"}, "/panel/mass"),
        ("way", [7], "/way/0"),
        ("conditions", ["climbing"], "/conditions/0"),
        ("people", 5, "/people"),
        ("lift", {**BODY["lift"], "work_minutes": 481}, "/lift/work_minutes"),
    ],
)
def test_a_mistake_in_one_member(member: str, value: object, pointer: str) -> None:
    assert pointer in errors_of(changed(**{member: value}))
