"""The head rail's question, asked in plain JSON; limits are house settings.

The rail is taken to weigh nothing to speak of where a value was worked out by hand without its weight.
"""

from dataclasses import replace
from typing import Any

import pytest

from fitcheck.rules import rail
from fitcheck.rules.length import length_parse
from fitcheck.rules.rail_beam import section_bar
from fitcheck.rules.rail_worst import Train
from fitcheck.rules.strict import InputErrors, Strict
from fitcheck.rules.survey import house_read

WEIGHTLESS = "0.01 g"


def asked(**changes: Any) -> dict[str, Any]:
    question: dict[str, Any] = {
        "span": "60 in",
        "shape": "tube",
        "width": "1 in",
        "height": "2 in",
        "wall": "1/8 in",
        "rail_mass": WEIGHTLESS,
        "panels": [
            {
                "mass": "36 kg",
                "roller_spacing": "22 in",
                "first_from": "2 in",
                "first_to": "36 in",
            }
        ],
    }
    return {**question, **changes}


def by_rule(answer: dict[str, Any]) -> dict[str, Any]:
    return {finding["rule"]: finding for finding in answer["findings"]}


def test_one_panel_of_36_kg_on_a_tube() -> None:
    answer = rail.answer(asked())

    assert answer["state"] == "fits"
    assert answer["reaction"] == {"lbf": "124.4 lbf", "newton": "553.1 N", "rounded": "up"}
    assert answer["settings"] == {
        "slam_factor": "2",
        "sag_over_span": "1/360",
        "rail_weight": "0.0 lbf, as given",
    }
    assert answer["sag"]["mm"] == "2.251 mm"
    assert answer["sag_at"] == "762 mm"
    assert answer["rollers_at"] == ["482.6 mm"]
    assert answer["moment"] == "1588 lbf in"
    assert answer["panels"] == ["36.0 kg"]
    assert "taken 2 times" in answer["cautions"][0]
    assert "outrank" in answer["cautions"][-1]


def test_a_second_panel_brings_the_sag_over_its_limit_which_asks_for_care() -> None:
    answer = rail.answer(asked(panels=asked()["panels"] * 2))

    sag = by_rule(answer)["rail.sag"]
    assert sag["state"] == "tight"
    assert sag["limit"]["mm"] == "4.233333 mm"
    assert "stiffer" in sag["do"]


@pytest.mark.parametrize(
    ("clear", "state"), [("3.8385 mm", "tight"), ("3.839 mm", "fits"), ("3.83 mm", "fails")]
)
def test_the_clearance_below_less_a_sixteenth_is_kept(clear: str, state: str) -> None:
    found = by_rule(rail.answer(asked(clear_below=clear)))["rail.clear"]

    assert found["state"] == state


def test_hardly_any_clearance_leaves_no_room_at_all() -> None:
    found = by_rule(rail.answer(asked(clear_below="1 mm")))["rail.clear"]

    assert found["limit"]["mm"] == "0 mm"
    assert found["state"] == "fails"


def test_strength_is_by_the_alloy_and_the_slam_factor() -> None:
    soft = by_rule(rail.answer(asked(slam_factor="5")))["rail.bending"]
    hard = by_rule(rail.answer(asked(slam_factor="5", alloy="6063-T6")))["rail.bending"]

    assert soft["limit"] == "9696 psi"
    assert soft["state"] == "fails"
    assert "stronger rail" in soft["do"]
    assert hard["limit"] == "15151 psi"
    assert hard["state"] == "fits"
    assert soft["reading"] == hard["reading"] == "11969 psi"
    assert hard["do"] == "0.79 of it is used."


def test_a_round_rail_needs_no_width_and_a_bar_no_wall() -> None:
    round_rail = asked(shape="round", height="2 in")
    del round_rail["width"]
    bar = asked(shape="bar", width="3/8 in")
    del bar["wall"]

    assert rail.answer(round_rail)["state"] == "fits"
    assert rail.answer(bar)["sag"]["mm"] == "2.987 mm"


def test_the_rails_own_mass_is_carried_and_not_slammed() -> None:
    bare = rail.answer(asked())
    own = rail.answer(asked(rail_mass="10 kg"))

    assert float(own["reaction"]["newton"].split()[0]) == pytest.approx(
        float(bare["reaction"]["newton"].split()[0]) + 5 * 9.80665, abs=0.11
    )


def test_a_rail_of_which_no_mass_is_given_weighs_what_its_section_does() -> None:
    """A tube of 0.6875 in2, 60 in long, at 0.0975 lb/in3: 4.02 lbf, half of it at each end."""
    question = asked()
    del question["rail_mass"]
    own, bare = rail.answer(question), rail.answer(asked())

    assert own["settings"]["rail_weight"] == "4.0 lbf, 0.0975 lb/in3 by its section"
    assert float(own["reaction"]["lbf"].split()[0]) == pytest.approx(
        float(bare["reaction"]["lbf"].split()[0]) + 2.01, abs=0.11
    )


@pytest.mark.parametrize(
    ("width", "alloy", "limit"),
    [
        ("1/2 in", "6063-T5", "9696 psi"),
        ("0.51 in", "6063-T5", "9090 psi"),
        ("1/2 in", "6063-T6", "15151 psi"),
        ("0.51 in", "6063-T6", "9090 psi"),
    ],
)
def test_a_bar_thicker_than_half_an_inch_has_less_strength(
    width: str, alloy: str, limit: str
) -> None:
    bar = asked(shape="bar", width=width, alloy=alloy)
    del bar["wall"]

    assert by_rule(rail.answer(bar))["rail.bending"]["limit"] == limit


def test_rules_before_5_knew_nothing_of_thick_rails() -> None:
    thick = section_bar(0.51, 2.0)
    hung = rail.Rail(1_524_000_000, thick, "6063-T5", 0.0, (Train(80, 22, 2, 36),), (), None)
    worst = hung.worst()

    for version, limit in ((4, "9696 psi"), (5, "9090 psi")):
        house = replace(house_read(Strict({})), rules=version)
        (found,) = [
            one
            for one in rail.rail_findings(hung, worst, worst, house)
            if one.rule == "rail.bending"
        ]
        assert found.limit_text == limit


@pytest.mark.parametrize(
    ("changes", "pointer", "code"),
    [
        ({"span": 60}, "/span", "length_without_unit"),
        ({"span": "-60 in"}, "/span", "length_out_of_range"),
        ({"shape": "tub"}, "/shape", "not_a_choice"),
        ({"wall": "1 in"}, "/wall", "not_in_range"),
        ({"alloy": "6063"}, "/alloy", "not_a_choice"),
        ({"panels": []}, "/panels", "not_a_list"),
        ({"slam_factor": "0.5"}, "/slam_factor", "not_in_range"),
        ({"rail_mass": "heavy"}, "/rail_mass", "amount_not_understood"),
        ({"rail_mass": "0 kg"}, "/rail_mass", "not_in_range"),
        ({"spam": "60 in"}, "/spam", "unknown_member"),
    ],
)
def test_a_question_that_makes_no_sense_is_refused(
    changes: dict[str, Any], pointer: str, code: str
) -> None:
    with pytest.raises(InputErrors) as refused:
        rail.answer(asked(**changes))

    assert (pointer, code) in [(each.pointer, each.code) for each in refused.value.errors]


@pytest.mark.parametrize(("first", "last"), [("2 in", "38.1 in"), ("30 in", "20 in")])
def test_rollers_that_leave_the_rail_are_refused(first: str, last: str) -> None:
    panel = {**asked()["panels"][0], "first_from": first, "first_to": last}

    with pytest.raises(InputErrors) as refused:
        rail.answer(asked(panels=[panel]))

    assert refused.value.errors[0].pointer == "/panels/0/first_to"
    assert refused.value.errors[0].code == "off_the_rail"


def test_rollers_may_go_to_the_very_end() -> None:
    panel = {**asked()["panels"][0], "first_to": "38 in"}

    assert rail.answer(asked(panels=[panel]))["state"] == "fits"
    assert length_parse("38 in").nm + length_parse("22 in").nm == length_parse("60 in").nm
