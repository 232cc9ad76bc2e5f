"""Is a wrong cut ever released? A mark comes only when survey, site, two people and the order agree."""

from dataclasses import replace
from typing import Any

import pytest

from fitcheck.kits.models import RuleSheet
from fitcheck.rules.length import length_parse
from fitcheck.rules.sheet_parse import sheet_parse
from jobs.installs import marks
from jobs.installs.models import Install, Mark
from jobs.losses.models import Loss
from tests.clients import Caller, assert_problem
from tests.factories import survey_body
from tests.site import FIRST, TAPE, Site, fresh, site_of

RAIL = "cut_head_rail"


def inch(nm: int) -> str:
    sixteenths = nm * 16 // 25_400_000
    return f"{sixteenths // 16} {sixteenths % 16}/16 in"


def held(answer: Any) -> list[str]:
    """The reasons of a mark that is held; nothing in it may lead a hand to the saw."""
    assert answer.status_code == 201, answer.content
    told = answer.json()
    assert (told["state"], told["mark"], told["exact"], told["saw"]) == ("held", "", None, "")
    assert told["hold"]
    reasons: list[str] = told["hold"]
    return reasons


def test_two_people_and_the_survey_agree_and_the_mark_comes_at_once(site: Site) -> None:
    site.until(RAIL)
    answer = site.mark("head rail")

    told = answer.json()
    assert (answer.status_code, told["state"]) == (201, "released")
    cut = next(one for one in site.verdict["result"]["cuts"] if one["part"] == "head rail")
    off = length_parse(cut["distance"]["inch"]).nm - length_parse(told["mark"]).nm
    assert off == length_parse(cut["deduct"]).nm  # readings in whole sixteenths lose nothing
    assert "the blade" in told["saw"]
    assert "end" in told["saw"]
    assert told["rounded"].startswith("down")
    assert site.stop(RAIL)["state"] == "done"


@pytest.mark.parametrize("slip", [-2, -1, 1, 2])
def test_an_inch_burned_by_one_reader_is_held_and_named(site: Site, slip: int) -> None:
    site.until(RAIL)
    right = site.distance("head rail")
    wrong = inch(length_parse(right).nm + slip * 25_400_000)
    reasons = held(site.mark("head rail", right, wrong))
    if abs(slip) == 1:
        assert any("about one inch" in one for one in reasons)
    assert site.stop(RAIL)["state"] == "held"


def test_an_inch_burned_by_both_readers_is_held_by_the_survey(site: Site) -> None:
    site.until(RAIL)
    wrong = inch(length_parse(site.distance("head rail")).nm + 25_400_000)
    assert any("about one inch" in one for one in held(site.mark("head rail", wrong, wrong)))


@pytest.mark.parametrize("both", [True, False])
def test_swapped_digits_are_held(site: Site, both: bool) -> None:
    site.until(RAIL)
    right = site.distance("head rail")
    whole, _, rest = right.partition(" ")
    wrong = f"{whole[::-1]} {rest}" if whole != whole[::-1] else f"{whole[0]}9 {rest}"
    held(site.mark("head rail", wrong if both else right, wrong))


def test_the_rail_s_reading_for_the_strip_is_held_where_the_walls_lean(
    tablet: Caller, measurer: Caller
) -> None:
    site = site_of(tablet, measurer, "s-03")
    site.start()
    site.until("cut_threshold_strip")
    wrong = site.distance("head rail")
    apart = length_parse(wrong).nm - length_parse(site.distance("threshold strip")).nm
    assert abs(apart) > 2_500_000  # more than survey and site may differ by
    held(site.mark("threshold strip", wrong, wrong))


def test_the_wrong_end_is_held(tablet: Caller, measurer: Caller) -> None:
    site = site_of(tablet, measurer, "s-04")
    site.start()
    site.until(RAIL)
    reasons = held(site.mark("head rail", end="left"))
    assert any("off the right end, not off the left" in one for one in reasons)
    assert site.mark("head rail", end="right").json()["state"] == "released"


def test_one_person_twice_is_no_second_person(site: Site) -> None:
    site.until(RAIL)
    body = site.mark_body("head rail")
    body["as_fixed"][1]["read_by"] = f" {FIRST.upper()} "
    reasons = held(site.tablet.put(f"/api/v1/marks/{fresh()}/", body))
    assert any("another person" in one for one in reasons)


def test_what_was_read_when_the_brackets_were_fixed_must_agree_too(site: Site) -> None:
    site.until(RAIL)
    right = length_parse(site.distance("head rail")).nm
    off = inch(right + 2 * 25_400_000 // 16)
    reasons = held(site.mark("head rail", off, off))
    assert any("each for themselves" in one for one in reasons)


def test_nothing_is_released_before_its_turn(site: Site) -> None:
    site.until("brackets_fixed")
    reasons = held(site.mark("head rail"))
    assert "brackets fixed" in reasons[0]
    assert "comes first" in reasons[0]

    site.record("brackets_fixed")
    assert site.mark("head rail").json()["state"] == "released"


def test_nothing_is_released_when_the_opening_was_surveyed_again(
    site: Site, measurer: Caller
) -> None:
    site.until(RAIL)
    again = survey_body(site.booking.job.openings.get(), None)
    assert measurer.post("/api/v1/surveys/", again).status_code == 201
    assert any("surveyed again" in one for one in held(site.mark("head rail")))


def test_a_new_pair_of_readings_makes_a_new_mark_and_the_old_one_stays(site: Site) -> None:
    site.until(RAIL)
    right = site.distance("head rail")
    held(site.mark("head rail", right, inch(length_parse(right).nm - 25_400_000)))
    assert site.mark("head rail").json()["state"] == "released"

    states = [one.state for one in Mark.objects.all()]
    assert sorted(states) == ["held", "released"]
    assert site.stop(RAIL)["state"] == "done"


def test_a_part_that_the_kit_does_not_cut_is_refused_with_those_that_it_does(site: Site) -> None:
    answer = site.mark("stay bar", "58 in", "58 in")
    body = assert_problem(answer, 400, "part_unknown", "/part")
    assert "head rail" in body["hint"]


@pytest.mark.parametrize(
    ("row", "pointer"),
    [
        ({"value": "58"}, "/as_fixed/0/value"),
        ({"value": 58}, "/as_fixed/0/value"),
        ({"value": "-58 in"}, "/as_fixed/0/value"),
        ({"read_by": ""}, "/as_fixed/0/read_by"),
        ({"tool": {"kind": "string"}}, "/as_fixed/0/tool/kind"),
        ({"valeu": "58 in"}, "/as_fixed/0/valeu"),
    ],
)
def test_a_reading_without_sense_is_refused_at_its_place(
    site: Site, row: dict[str, Any], pointer: str
) -> None:
    body = site.mark_body("head rail")
    body["as_fixed"][0] |= row
    answer = site.tablet.put(f"/api/v1/marks/{fresh()}/", body)
    assert answer.status_code == 400
    assert pointer in [one["pointer"] for one in answer.json()["errors"]]
    assert not Mark.objects.exists()


@pytest.mark.parametrize(("short", "state"), [("1/16 in", "done"), ("1 in", "held")])
def test_a_part_sawn_shorter_than_its_covers_hide_holds_the_stop(
    site: Site, short: str, state: str
) -> None:
    site.until(RAIL)
    mark = length_parse(site.mark("head rail").json()["mark"]).nm
    sawn = inch(mark - length_parse(short).nm)
    answer = site.plain("sawn", stop=RAIL, sawn=sawn)
    assert answer.status_code == 201
    told = site.stop(RAIL)
    assert told["state"] == state
    if state == "held":
        assert any("short by more than the end covers hide" in one for one in told["do"])


def sheet_says(monkeypatch: pytest.MonkeyPatch, **what: Any) -> None:
    """Let the sheet of the install say something else of the part that is cut."""
    own = marks.cut_rule
    monkeypatch.setattr(marks, "cut_rule", lambda *asked: replace(own(*asked), **what))


@pytest.mark.parametrize(("short", "state", "miscut"), [("1/4 in", "held", 0), ("1 in", "held", 1)])
def test_a_part_sawn_short_waits_where_the_sheet_does_not_say_what_its_covers_hide(
    site: Site, monkeypatch: pytest.MonkeyPatch, short: str, state: str, miscut: int
) -> None:
    sheet_says(monkeypatch, allowance=None)
    site.until(RAIL)
    mark = length_parse(site.mark("head rail").json()["mark"]).nm
    told = site.plain("sawn", stop=RAIL, sawn=inch(mark - length_parse(short).nm)).json()

    assert told["state"] == site.stop(RAIL)["state"] == state
    assert "Do not fit it" in told["outcome"]["do"][0]
    assert Loss.objects.count() == miscut


def test_the_blade_is_the_one_that_the_sheet_names(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    sheet_says(monkeypatch, kerf=length_parse("3/32 in"))
    site.until(RAIL)

    assert "the blade, 3/32 in (2.4 mm) wide," in site.mark("head rail").json()["saw"]


def test_a_part_that_was_sawn_cannot_be_marked_longer_again(site: Site) -> None:
    site.until(RAIL)
    mark = length_parse(site.mark("head rail").json()["mark"]).nm
    site.plain("sawn", stop=RAIL, sawn=inch(mark - 25_400_000))
    assert any("too short" in one for one in held(site.mark("head rail")))


def test_sawing_without_a_mark_is_kept_and_holds_the_stop(site: Site) -> None:
    site.until(RAIL)
    answer = site.plain("sawn", stop=RAIL, sawn="58 in")
    assert answer.json()["state"] == "held"
    assert "Nothing was released" in answer.json()["outcome"]["do"][0]


SIXTEENTH = 25_400_000 // 16


def mistaken(right: str, kind: str) -> str:
    """The reading that a slip of this kind makes of the right one."""
    nm = length_parse(right).nm
    whole, sixteenths = divmod(nm // SIXTEENTH, 16)
    return {
        "burned inch": inch(nm + 25_400_000),
        "inch dropped": inch(nm - 25_400_000),
        "foot miscounted": inch(nm - 12 * 25_400_000),
        "swapped digits": inch((int(str(whole)[::-1]) * 16 + sixteenths) * SIXTEENTH),
        "an eighth for a sixteenth": inch(nm + sixteenths * SIXTEENTH),
        "a sixteenth for an eighth": inch(nm - sixteenths * SIXTEENTH // 2),
        "centimetres for inches": f"{nm / 25_400_000:.1f} cm",
        "hook pushed": inch(nm - 2 * SIXTEENTH),
        "one mark off": inch(nm + SIXTEENTH),
    }[kind]


KINDS = [
    "burned inch",
    "inch dropped",
    "foot miscounted",
    "swapped digits",
    "an eighth for a sixteenth",
    "a sixteenth for an eighth",
    "centimetres for inches",
    "hook pushed",
    "one mark off",
]


def test_no_slip_of_one_or_of_both_releases_a_cut_that_the_covers_cannot_hide(site: Site) -> None:
    """Every kind of slip, by the first reader, the second, or both alike; what is released is sawn."""
    site.until(RAIL)
    right = site.distance("head rail")
    cut = next(one for one in site.verdict["result"]["cuts"] if one["part"] == "head rail")
    wanted = length_parse(right).nm - length_parse(cut["deduct"]).nm
    hides = length_parse(cut["allowance"]).nm
    states = {}
    for kind in KINDS:
        wrong = mistaken(right, kind)
        for pair in ((wrong, right), (right, wrong), (wrong, wrong)):
            told = site.mark("head rail", *pair).json()
            states[kind, pair.count(wrong)] = told["state"]
            if told["state"] == "released":
                assert abs(length_parse(told["mark"]).nm - wanted) <= hides, (kind, pair)
    gross = {state for (kind, _), state in states.items() if kind in KINDS[:4]}
    assert gross == {"held"}
    assert Mark.objects.count() == 3 * len(KINDS)


def test_a_part_for_which_the_sheet_contradicts_itself_is_held(
    site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    site.until(RAIL)
    body = RuleSheet.objects.get(pk=Install.objects.get().sheet_id).body
    for cut in body["cuts"]:
        cut["allowance"] = "3 in" if cut["part"] == "head rail" else cut["allowance"]
    monkeypatch.setattr(RuleSheet, "parsed", lambda _: sheet_parse(body))
    reasons = held(site.mark("head rail"))

    assert reasons == [
        "Do not saw. Ask the kit's maker: the sheet contradicts itself: The end covers of the head rail"
        " are to hide 3 in, more than 2 in (50.8 mm)."
    ]


def test_a_coarse_tape_is_held(site: Site) -> None:
    site.until(RAIL)
    body = site.mark_body("head rail")
    body["as_fixed"][0]["tool"] = {**TAPE, "graduation": "1/8 in"}
    held(site.tablet.put(f"/api/v1/marks/{fresh()}/", body))
