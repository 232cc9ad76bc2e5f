"""What is said of an adjusted opening, and what is asked of those who ask."""

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules.adjustment import shape_adjust
from fitcheck.rules.impossible import impossible_readings
from fitcheck.rules.length import length_parse
from fitcheck.rules.one_more_reading import reading_advised_at
from fitcheck.rules.shape_report import answer, shape_json
from fitcheck.rules.strict import InputErrors, Strict
from fitcheck.rules.survey import Survey, house_read, survey_read

Inputs = dict[str, Any]


def asked(bypass: Inputs, **more: object) -> Inputs:
    return {"readings": copy.deepcopy(bypass["readings"]), **more}


def value(told: Inputs, name: str) -> Inputs:
    (found,) = [each for each in told["shape"] if each["name"] == name]
    return found


def errors(body: Inputs) -> list[tuple[str, str, str]]:
    with pytest.raises(InputErrors) as caught:
        answer(body)
    return [(e.pointer, e.code, e.hint) for e in caught.value.errors]


def test_the_sample_opening_agrees_and_tells_its_widths(bypass: Inputs) -> None:
    told: Inputs = answer(asked(bypass, heights=["0 in", "73 in", "79 in"]))

    assert told["state"] == "agree"
    assert told["consistency"]["freedom"] == 7
    assert 0.3 < float(told["consistency"]["chance"]) < 0.9
    assert [each["height"] for each in told["widths"]] == ["0 in", "73 in", "79 in"]
    assert told["widths"][0]["width"]["inch"] == "56 3/16 in"
    assert told["widths"][2]["width"] is None
    assert told["widths"][2]["uncertainty"] is None
    assert told["widths"][1]["uncertainty"] > told["widths"][0]["uncertainty"]
    assert all(each["trusted"] for each in told["widths"])
    assert json.loads(json.dumps(told)) == told


def test_what_was_given_out_can_be_read_back(bypass: Inputs) -> None:
    told: Inputs = answer(asked(bypass))

    for each in told["widths"]:
        length_parse(each["width"])
    assert [each["height"] for each in told["widths"]] == ["0 in", "36 in", "72 in"]
    assert length_parse(told["over"]).nm == length_parse("72 in").nm


def test_leans_are_told_as_slope_and_angle_with_their_sense(bypass: Inputs) -> None:
    told: Inputs = answer(asked(bypass))

    lean = value(told, "lean_left")
    out = length_parse(lean["value"]).nm / 1e6
    assert lean["slope"] == f"{out / 1.8288:.2f} mm/m"
    assert lean["angle"].endswith(" deg")
    assert "into the opening" in lean["sense"]
    assert "slope" not in value(told, "taper")
    taper = length_parse(value(told, "taper")["value"]).nm
    both = sum(length_parse(value(told, f"lean_{s}")["value"]).nm for s in ("left", "right"))
    assert taper == pytest.approx(-both, abs=3000)
    right = length_parse(value(told, "lean_right")["value"]).nm
    racking = length_parse(value(told, "racking")["value"]).nm
    assert racking == pytest.approx((out * 1e6 - right) / 2, abs=3000)


def test_what_no_reading_tells_is_told_as_nothing(bypass: Inputs) -> None:
    body = asked(bypass)
    body["readings"] = [r for r in body["readings"] if r["quantity"] == "width"][:1]

    told: Inputs = answer(body)

    assert told["state"] == "unchecked"
    assert "No reading checks another" in told["summary"]
    assert value(told, "lean_left")["value"] is None
    assert told["consistency"] == {
        "sum_of_squares": "0.000",
        "freedom": 0,
        "limit": None,
        "chance": None,
        "bow_fitted": False,
    }
    assert told["readings"][0]["state"] == "not checkable"
    assert told["readings"][0]["least_detectable"] is None
    assert not told["widths"][0]["trusted"]


def test_a_burned_inch_is_taken_out_named_and_asked_for_again(bypass: Inputs) -> None:
    body = asked(bypass)
    body["readings"][4]["value"] = "57 5/16 in"

    told: Inputs = answer(body)

    assert told["state"] == "corrected"
    assert told["summary"].endswith("width at 72 in. Read it again.")
    last = told["readings"][-1]
    assert (last["id"], last["state"]) == (body["readings"][4]["id"], "taken out")
    assert last["mistake"]["kind"] == "burned inch"
    assert last["mistake"]["meant"] == "56 5/16 in"
    assert float(last["off"].split()[0]) == pytest.approx(25.4, abs=0.5)
    assert "perhaps the tape was started at its 1" in last["do"]
    assert len(told["readings"]) == len([r for r in told["readings"] if r["id"] != last["id"]]) + 1


def test_a_survey_in_millimetres_is_answered_in_millimetres(bypass: Inputs) -> None:
    body = asked(bypass)
    body["readings"][4] |= {"height": "1829 mm", "value": "57 5/16 in"}

    told: Inputs = answer(body)

    assert told["summary"].endswith("width at 1829 mm. Read it again.")
    assert told["readings"][-1]["height"] == "1829 mm"
    assert told["one_more_reading"]["do"] == "Read the width at 1829 mm above the sill again."


def test_a_contradiction_that_cannot_be_settled_is_told_with_its_suspects(bypass: Inputs) -> None:
    body = asked(bypass)
    body["readings"] = body["readings"][:2]
    body["readings"][1]["value"] = "57 7/32 in"

    told: Inputs = answer(body)

    assert told["state"] == "undecided"
    assert "cannot say which" in told["summary"]
    assert [len(each["readings"]) for each in told["suspected"]] == [1, 1]
    assert told["suspected"][0]["mistake"]["kind"] == "burned inch"
    assert float(told["suspected"][0]["share"]) > 0.5
    assert told["one_more_reading"]["again"]
    assert not told["widths"][0]["trusted"]


def test_a_bow_is_told_where_there_is_one(bypass: Inputs) -> None:
    body = asked(bypass)
    for n in (2, 3):
        body["readings"][n]["value"] = "56 in"

    told: Inputs = answer(body)

    assert told["consistency"]["bow_fitted"]
    assert length_parse(value(told, "bow")["value"]).nm / 1e6 == pytest.approx(6.4, abs=0.3)
    assert [e["name"] for e in answer(asked(bypass))["shape"] if e["name"] == "bow"] == []  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"hights": []}, ("/hights", "unknown_member", "did you mean heights?")),
        (
            {"heights": ["72"]},
            ("/heights/0/height", "length_without_unit", 'write "59 3/8 in" or "1508 mm"'),
        ),
        ({"diagonals_to": "celing"}, ("/diagonals_to", "not_a_choice", "did you mean ceiling?")),
        ({"readings": []}, ("/readings", "nothing_to_adjust", "")),
        ({"house": {"mark": 20}}, ("/house/mark", "not_a_choice", "")),
    ],
)
def test_a_malformed_question_is_refused_with_its_place(
    bypass: Inputs, change: Inputs, expected: tuple[str, str, str]
) -> None:
    assert errors({**asked(bypass), **change}) == [expected]


def test_a_malformed_reading_is_refused_with_its_place(bypass: Inputs) -> None:
    body = asked(bypass)
    body["readings"][3]["value"] = "5913/16 in"

    assert errors(body) == [("/readings/3/value", "fraction_improper", "did you mean 59 13/16 in?")]


def test_no_width_at_all_still_gives_what_is_known(
    bypass: Inputs, read: Callable[..., None]
) -> None:
    read(bypass, "width", None)
    told: Inputs = answer({"readings": [r for r in bypass["readings"] if r["quantity"] == "lean"]})

    assert told["widths"] == []
    assert told["one_more_reading"] is None
    assert value(told, "lean_left")["value"]["mm"] == "-1.588 mm"


def survey_of(body: Inputs) -> Survey:
    return survey_read(Strict({**body, "opening": {"enclosure": "alcove", "stands_on": "curb"}}))


def unrefused(body: Inputs) -> Inputs:
    """The answer as if no reading were refused for what it cannot be."""
    survey, house = survey_of(body), house_read(Strict({}))
    shape = shape_adjust(survey.readings)
    heights = {r.height.nm: r.height for r in survey.readings if r.quantity == "width" and r.height}
    asked = [heights[nm] for nm in sorted(heights)]
    return shape_json(shape, asked, reading_advised_at(shape, asked), house)


@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_readings_that_cannot_be_still_give_an_answer_and_never_a_number_that_is_none(
    data: st.DataObject,
) -> None:
    length = st.one_of(st.integers(1, 99_000), st.integers(900, 1600)).map(lambda mm: f"{mm} mm")
    place = st.sampled_from(["0 in", "36 in", "72 in", "1 mm", "90 m"])
    tool = st.fixed_dictionaries(
        {"kind": st.sampled_from(["tape", "level", "laser"]), "graduation": st.just("1 mm")}
    )
    kinds = ["width", "lean", "sill_level", "ceiling_height", "diagonal", "curb_depth"]
    one = {"side": st.sampled_from(["left", "right"]), "height": place, "over": length}
    one |= {"quantity": st.sampled_from(kinds), "value": length, "tool": tool}
    readings = data.draw(st.lists(st.fixed_dictionaries(one), min_size=1, max_size=9))
    body = {"readings": [{**each, "id": str(n)} for n, each in enumerate(readings)]}
    if all(each["quantity"] == "curb_depth" for each in readings):
        assert errors(body) == [("/readings", "nothing_to_adjust", "")]
        return

    told = json.dumps(unrefused(body), allow_nan=False)
    if impossible_readings(survey_of(body).readings):
        assert {code for _, code, _ in errors(body)} == {"reading_impossible"}
    else:
        assert json.loads(told) == json.loads(json.dumps(answer(body)))
    assert " nan" not in told
    assert '"nan' not in told
    assert "inf " not in told


def test_each_reading_is_told_with_its_place_its_residual_and_how_well_it_is_checked(
    bypass: Inputs,
) -> None:
    told: Any = answer(asked(bypass))["readings"]

    rows = {each["id"][-1]: each for each in told}
    assert [rows[n]["height"] for n in "1357"] == ["0 in", "36 in", "72 in", None]
    assert (rows["7"]["quantity"], rows["7"]["side"]) == ("lean", "left")
    assert rows["d"]["height"] == "72 in"
    for each in told:
        read = next(r for r in bypass["readings"] if r["id"] == each["id"])
        apart = length_parse(each["adjusted"]).nm - length_parse(read["value"]).nm
        assert float(each["residual"].split()[0]) == pytest.approx(apart / 1e6, abs=0.006)
        checked = float(each["redundancy"]) > 0.02
        assert (each["state"] == "kept") == checked
        if checked:
            u, share = float(each["uncertainty"].split()[0]), float(each["redundancy"])
            least = float(each["least_detectable"].split()[0])
            assert least == pytest.approx(4.132 * u / share**0.5, rel=0.02)


def test_ceilings_are_told_on_their_own_sides(bypass: Inputs) -> None:
    told: Inputs = answer(asked(bypass))

    heights = [value(told, f"height_{side}")["value"]["inch"] for side in ("left", "right")]
    assert heights == ["94 in", "93 7/8 in"]


def test_what_was_taken_out_is_spoken_of_with_its_side(bypass: Inputs) -> None:
    body = asked(bypass)
    body["readings"][6]["value"] = "1 in"

    told: Inputs = answer(body)

    assert told["state"] == "corrected"
    assert "contradict it: lean left. Read" in told["summary"]
    assert "+" in told["readings"][-1]["off"]
