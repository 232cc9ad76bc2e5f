"""Does a hinge hold in a steel stud in a verdict, by mils, and is what no formula says left open?

Formulas of AISI S100-16, J4, worked by hand for #12 in 33 mil, 45 ksi; its printed values stand in
tests/published. The interaction (J4.5) and the narrowest flange are from memory.
"""

from typing import Any

import pytest

from fitcheck.check import check
from tests.fitcheck.rules.test_what_is_borne import Inputs, bracket, case, walls


def on_the_steel() -> Inputs:
    """The story's hinge on a bare steel stud: bracket and stud are in contact."""
    inputs = case("s-13")
    walls(inputs, finish="bare", finish_thickness=None, backing="none", backing_thickness=None)
    inputs["sheet"]["substrates"]["finishes"].append("bare")
    return inputs


def told(inputs: Inputs) -> Any:
    return check(inputs).as_json()


def by_rule(answer: Any) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for one in answer["findings"]:
        if one["place"].startswith("hinge"):
            found.setdefault(one["rule"], set()).add(one["state"])
    return found


def hinge(answer: Any) -> Any:
    return next(one for one in answer["fixings"] if one["place"] == "hinge")


def test_in_contact_pull_and_shear_are_held_against_the_stud() -> None:
    """Pnot = 0.85 x 0.0346 x 0.216 x 45000 = 285.9 lb; J4.5: V/Pns + T/Pnot <= 1.15/2.55."""
    answer = told(on_the_steel())
    load = answer["loads"][0]
    pull_out = 0.85 * 0.0346 * 0.216 * 45_000
    assert float(load["capacity"]["pull_out"]["lbf"].split()[0]) == pytest.approx(
        pull_out / 3, abs=0.1
    )

    shear_nominal = 4.2 * (0.0346**3 * 0.216) ** 0.5 * 45_000  # tilting: the leaf is thicker
    shut = load["cases"][0]
    pull, shear = (float(shut[name]["lbf"].split()[0]) for name in ("pull", "shear"))
    used = (shear / shear_nominal + pull / pull_out) * 2.55 / 1.15
    assert float(load["used"]) == pytest.approx(max(used, pull / (pull_out / 3)), abs=0.011)
    assert load["by"]["clause"] == "J4.5"
    assert by_rule(answer)["fixing.together"] == {"fits"}
    assert by_rule(answer)["fixing.hole"] == {"fits"}
    row = hinge(answer)
    assert (row["screw"], row["questions"]) == ({"size": "#12", "length": "3 in"}, [])
    assert any("self-drilling" in one for one in row["cautions"])


def test_through_tile_the_pull_is_compared_and_the_shear_stays_a_question() -> None:
    answer = told(case("s-13"))
    rules = by_rule(answer)

    assert answer["state"] == "unknown"
    assert rules["fixing.contact"] == {"unknown"}
    assert rules["fixing.pull"] == {"fits"}
    assert "fixing.together" not in rules
    assert answer["loads"][0]["used"] is None
    assert "fit wood blocking" in hinge(answer)["questions"][0]
    assert hinge(answer)["screw"] is None


def test_what_fails_even_in_contact_fails_through_tile() -> None:
    inputs = case("s-13")
    bracket(inputs)["count"] = bracket(inputs)["bracket"]["top_row"] = 1
    answer = told(inputs)

    assert answer["state"] == "fails"
    assert by_rule(answer)["fixing.together"] == {"fails"}
    assert float(answer["loads"][0]["used"]) > 1


@pytest.mark.parametrize(
    ("mils", "state", "words"),
    [
        (None, "unknown", "printed on it, gauge does not tell"),
        ("20 gauge", "unknown", "not gauge"),
        ("18 mil", "fails", "too thin"),
    ],
)
def test_a_stud_that_may_not_be_asked_gives_no_number(
    mils: str | None, state: str, words: str
) -> None:
    inputs = on_the_steel()
    walls(inputs, mils=mils)
    answer = told(inputs)
    findings = [f for f in answer["findings"] if f["rule"] == "fixing.stud"]

    assert {f["state"] for f in findings} == {state}
    assert all(words in f["do"] and f["reading"] is None for f in findings)
    assert all(row["capacity"] is row["used"] is None for row in answer["loads"])
    assert words in hinge(answer)["questions"][0]


def test_a_screw_of_unknown_strength_is_an_engineers() -> None:
    inputs = on_the_steel()
    bracket(inputs)["screw"]["size"] = "#14"
    answer = told(inputs)

    assert by_rule(answer)["fixing.screw"] == {"unknown"}
    assert answer["loads"][0]["capacity"] is None
    del bracket(inputs)["screw"]
    assert by_rule(told(inputs))["fixing.screw"] == {"unknown"}


@pytest.mark.parametrize(
    ("setback", "state"), [("2 7/8 in", "fits"), ("2 15/16 in", "fails"), (None, None)]
)
def test_the_screw_stays_off_the_flanges_edge(setback: str | None, state: str | None) -> None:
    """Middle at 2 5/8 in; half of 1 1/4 in less 1.5 x 0.216 in leaves 0.301 in."""
    inputs = on_the_steel()
    bracket(inputs)["bracket"]["setback"] = setback
    found = by_rule(told(inputs)).get("fixing.stud_hit")

    assert found == ({state} if state else None)


@pytest.mark.parametrize(("spacing", "state"), [("5/8 in", "fails"), ("11/16 in", "fits")])
def test_screws_in_steel_stand_three_diameters_apart(spacing: str, state: str) -> None:
    inputs = on_the_steel()
    bracket(inputs)["bracket"]["spacing"] = spacing

    assert by_rule(told(inputs))["fixing.spacing"] == {state}


def test_wood_tells_its_share_and_whose_word_it_is() -> None:
    answer = told(case("s-01"))
    for load in answer["loads"]:
        pairs = [
            (f["reading"].split()[0], f["limit"].split()[0])
            for f in answer["findings"]
            if f["rule"] == "fixing.together" and f["place"].startswith(load["place"])
        ]
        most = max(float(one) / float(holds) for one, holds in pairs)
        assert float(load["used"]) == pytest.approx(most, abs=0.011)
        assert load["by"]["clause"] == "general dowel equations with a gap"
