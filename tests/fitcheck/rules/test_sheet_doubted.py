"""What does a verdict say when the kit's published sheet contradicts itself?"""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check, depth, sheet_parse
from fitcheck.rules import least_change, which_kits
from fitcheck.rules.catalogue import catalogue_compile
from fitcheck.rules.strict import InputErrors

ROOT = Path(__file__).resolve().parents[3]
BASE = json.loads(
    (ROOT / "contractor/config/demo/survey-example.json").read_text(encoding="utf-8")
)["inputs"]
ASK = "Ask the kit's maker: the sheet contradicts itself: "
NEWEST = json.loads(
    (ROOT / "fitcheck/kits/demo/osquith-tillybeck.json").read_text(encoding="utf-8")
)["sheets"][-1]["body"]


def pushed(*changes: tuple[str, Any]) -> dict[str, Any]:
    """The example's inputs with members of its sheet changed."""
    inputs: dict[str, Any] = copy.deepcopy(BASE)
    for pointer, value in changes:
        *way, last = pointer.split("/")[1:]
        inner: Any = inputs["sheet"]
        for step in way:
            inner = inner[int(step)] if isinstance(inner, list) else inner[step]
        if last == "-":
            inner.append(value)
        else:
            inner[int(last) if isinstance(inner, list) else last] = value
    return inputs


def hung(**fixing: Any) -> dict[str, Any]:
    """The example with the sheet's newest edition, whose bracket bears the head rail."""
    inputs = copy.deepcopy({**BASE, "sheet": NEWEST})
    inputs["sheet"]["fixings"][0] |= fixing
    return inputs


def told(inputs: dict[str, Any], version: str = "5") -> Any:
    return check(inputs, version=version).as_json()


def agrees(verdict: Any) -> list[str]:
    return [one["do"] for one in verdict["findings"] if one["rule"] == "sheet.agrees"]


def test_a_sheet_that_agrees_with_itself_says_nothing_of_it() -> None:
    assert (told(BASE)["state"], agrees(told(BASE))) == ("fits", [])


@pytest.mark.parametrize(
    "changes",
    [
        [("/cuts/2/deduct", "100 in")],
        [("/cuts/2/brackets_take", "80 in")],
        [("/cuts/2/most", "70 in")],
        [("/cuts/2/kerf", "20 in")],
        [("/rail_height", "60 in")],
        [("/cuts/-", {**BASE["sheet"]["cuts"][2], "deduct": "1/2 in"})],
    ],
)
def test_a_part_whose_rule_is_contradicted_gets_no_length_and_no_mark(
    changes: list[tuple[str, Any]],
) -> None:
    verdict = told(pushed(*changes))

    assert verdict["state"] == "unknown"
    assert all(do.startswith(ASK) for do in agrees(verdict))
    assert ASK in verdict["summary"]
    for cut, saw in zip(verdict["cuts"], verdict["saw"], strict=True):
        if cut["part"] == "head rail":
            assert (cut["state"], cut["length"], cut["distance"]) == ("unknown", None, None)
            assert (saw["mark"], saw["saw"], saw["agree_within"]) == (None, None, None)
            assert saw["do"] in agrees(verdict)
        else:
            assert (cut["state"], saw["mark"]) == ("fits", "57 5/8 in")
    rests = [
        f for f in verdict["findings"] if f["rule"].startswith("cut.") and "rail" in f["place"]
    ]
    assert rests
    assert {(f["state"], f["reading"], f["margin"], f["do"] in agrees(verdict)) for f in rests} == {
        ("unknown", None, None, True)
    }


@pytest.mark.parametrize(
    ("fixing", "place"),
    [
        ({"must_reach": "finish", "load": None}, "rail bracket"),
        ({"height": "40 in"}, "rail bracket"),
        ({"screw": {"size": "#10", "length": "1/8 in"}}, "rail bracket"),
    ],
)
def test_a_fixing_whose_rule_is_contradicted_is_not_drilled_and_bears_no_number(
    fixing: dict[str, Any], place: str
) -> None:
    assert told(hung())["state"] == "fits"
    verdict = told(hung(**fixing))

    assert verdict["state"] == "unknown"
    rows = [one for one in verdict["fixings"] if one["place"] == place]
    loads = [one for one in verdict["loads"] if one["place"] == place]
    assert len(rows) == len(loads) == 2
    for row in rows:
        assert row["state"] == "unknown"
        assert row["questions"][0] in agrees(verdict)
        assert row["seal"] == "No hole here."
        for name in ("bit", "pilot", "final_hole", "depth", "anchor", "screw", "reach"):
            assert row[name] is None
    for load in loads:
        assert (load["cases"], load["capacity"], load["used"]) == ([], None, None)
        assert load["why"] in agrees(verdict)
    others = [one for one in verdict["fixings"] if one["place"] != place]
    assert {one["state"] for one in others} == {"fits"}


def test_what_hangs_on_a_rail_that_is_contradicted_bears_no_number_and_fails_by_none() -> None:
    assert told(hung())["rail"] is not None
    inputs = hung()
    inputs["sheet"]["panels"][2]["width"] = "70 in"
    verdict = told(inputs)

    assert (verdict["state"], verdict["rail"], len(agrees(verdict))) == ("unknown", None, 1)
    loads = [one for one in verdict["loads"] if one["place"] == "rail bracket"]
    assert {(len(one["cases"]), one["used"], one["why"]) for one in loads} == {
        (0, None, agrees(verdict)[0])
    }
    places = {one["place"]: one["state"] for one in verdict["fixings"]}
    assert places == {"rail bracket": "unknown", "side strip": "fits"}
    assert {one["state"] for one in verdict["cuts"]} == {"fits"}


@pytest.mark.parametrize("version", ["1", "2", "3", "4"])
def test_rules_before_take_the_sheets_word(version: str) -> None:
    inputs = pushed(("/ceiling_height/least", "70 in"))

    assert agrees(told(inputs, version)) == []
    assert told(inputs, version)["state"] == "fits"
    assert told(inputs)["state"] == "unknown"


def test_what_contradicts_itself_for_another_size_is_not_told_of_this_one() -> None:
    inputs = pushed(("/cuts/0/deduct", "100 in"))
    verdict = told(inputs)

    assert (verdict["size"], verdict["state"], agrees(verdict)) == ("58", "fits", [])
    assert agrees(told({**inputs, "size": "47"})) == [
        f"{ASK}The head rail is 101 1/8 in shorter than an opening 43 3/4 in wide, which size 47 takes:"
        " nothing is left of it."
    ]


def test_what_a_sheet_says_of_no_size_alone_is_told_of_each() -> None:
    verdict = told(pushed(("/ceiling_height/least", "70 in")))

    assert len(agrees(verdict)) >= 3
    assert {f["source"]["page"] for f in verdict["findings"] if f["rule"] == "sheet.agrees"} >= {
        "2", "4",
    }  # fmt: skip


def test_a_verdict_at_length_has_no_chance_and_no_size_that_fits_by_a_contradiction() -> None:
    inputs = pushed(("/panels/2/width", "70 in"))
    size = copy.deepcopy(inputs["sheet"]["sizes"][1]) | {"code": "58 again"}
    inputs["sheet"]["sizes"].append(size)
    for kind in ("cuts", "panels"):
        for row in inputs["sheet"][kind][2:]:
            row["sizes"] = ["58", "58 again"]
    long = depth({**inputs, "size": "58"})
    unknown = [f for f in told({**inputs, "size": "58"})["findings"] if f["state"] == "unknown"]

    assert long["chance"]["chance"] is None
    assert long["chance"]["unknown"] >= len(unknown) > 0
    states = {one["size"]: one["state"] for one in long["least_change"]["other_sizes"]}
    assert states["58 again"] == "unknown"


def test_a_sheet_that_comes_with_the_question_is_refused_at_its_member() -> None:
    inputs = pushed(("/cuts/2/deduct", "100 in"))
    asked = {name: inputs[name] for name in ("opening", "readings", "zones")}
    kits = {**asked, "kits": [{"kit": "one", "sheet": inputs["sheet"]}]}
    for ask, place in (
        (lambda: check(inputs, sent=True), "/sheet/cuts/2/deduct"),
        (lambda: least_change.answer(inputs), "/sheet/cuts/2/deduct"),
        (lambda: which_kits.answer(kits), "/kits/0/sheet/cuts/2/deduct"),
    ):
        with pytest.raises(InputErrors) as refused:
            ask()
        assert [(e.pointer, e.code) for e in refused.value.errors] == [(place, "nothing_left")]


def test_a_published_sheet_that_contradicts_itself_does_not_pass_among_others() -> None:
    good = sheet_parse(BASE["sheet"])
    bad = sheet_parse(pushed(("/panels/2/width", "70 in"))["sheet"])
    asked = {name: BASE[name] for name in ("opening", "readings", "zones")}
    compiled = catalogue_compile([("bad", bad), ("good", good)])
    told_of: Any = which_kits.answer(asked, compiled)["kits"]

    assert [(one["kit"], one["by_limits"], one["state"]) for one in told_of] == [
        ("good", "fits", "fits"),
        ("bad", "unknown", "unknown"),
    ]
    assert [one["rule"] for one in told_of[1]["reasons"]] == ["sheet.agrees"]
