"""Which slips could have made a reading what it is; common practice, no source."""

import math
from dataclasses import replace

import pytest

from fitcheck.rules.least_squares import redundancies, standardised
from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, length_parse, mm_text
from fitcheck.rules.mistakes import Mistake, agreeing, places_of, repeats_of, slips_of, swaps_of
from fitcheck.rules.survey import Reading, Tool
from fitcheck.rules.suspicion import error_vector, explanation, suspicions
from tests.fitcheck.rules.simulated_openings import LEVEL, TAPE, reading
from tests.fitcheck.rules.test_least_squares import same

HOOKED = replace(TAPE, hook=True)
METRIC = Tool("tape", "II", length_parse("1 mm"), False)
LASER = Tool("laser", "none", length_parse("1 mm"), False)


def read(text: str, tool: Tool = TAPE, quantity: str = "width", side: str = "none") -> Reading:
    return replace(reading("r", quantity, side, 0, tool), value=length_parse(text))


def off(one: Reading, kind: str, rules: int = 5) -> list[str]:
    """How far each slip of a kind puts a reading off."""
    return [mm_text(s.errors_nm["r"]) for s in slips_of(one, rules) if s.kind == kind]


@pytest.mark.parametrize(
    ("text", "kind", "errors"),
    [
        ("59 3/8 in", "burned inch", ["25.4 mm"]),
        ("59 3/8 in", "an inch miscounted", ["-25.4 mm"]),
        ("59 3/8 in", "a foot miscounted", ["304.8 mm", "-304.8 mm"]),
        ("59 3/8 in", "an eighth for a sixteenth", ["4.7625 mm"]),
        ("59 3/8 in", "a sixteenth for an eighth", ["-9.525 mm"]),
        ("59 3/16 in", "an eighth for a sixteenth", []),
        ("59 3/16 in", "a sixteenth for an eighth", ["-4.7625 mm"]),
        ("59 7/8 in", "a sixteenth for an eighth", []),
        ("59 1/2 in", "a sixteenth for an eighth", []),
        ("59 1/32 in", "a sixteenth for an eighth", []),
        ("59 in", "an eighth for a sixteenth", []),
        ("59 3/8 in", "one mark off", ["1.5875 mm", "-1.5875 mm"]),
        ("59 3/8 in", "swapped digits", [mm_text((59 - 95) * NM_PER_INCH)]),
        ("55 3/8 in", "swapped digits", []),
        ("3/8 in", "swapped digits", []),
        ("59 3/8 in", "a centimetre miscounted", []),
        ("59 3/8 in", "inches for centimetres", []),
        ("59 in", "inches for centimetres", [mm_text(59 * NM_PER_INCH - 590 * NM_PER_MM)]),
        ("59.5 in", "inches for centimetres", [mm_text(595 * 254 * 10**4 - 595 * 10**6)]),
        ("59 3/8 in", "hook pulled", []),
        ("59 3/8 in", "burned 10 cm", []),
        ("59 3/8 in", "burned 1 cm", []),
        ("59 3/8 in", "wrong way", []),
    ],
)
def test_a_tape_in_inches(text: str, kind: str, errors: list[str]) -> None:
    assert off(read(text), kind) == errors


@pytest.mark.parametrize(
    ("text", "kind", "errors"),
    [
        ("1508 mm", "burned inch", []),
        ("1508 mm", "burned 10 cm", ["100 mm"]),
        ("150.8 cm", "burned 10 cm", ["100 mm"]),
        ("1508 mm", "burned 1 cm", ["10 mm"]),
        ("95 mm", "burned 10 cm", []),
        ("1508 mm", "an inch miscounted", []),
        ("1508 mm", "a centimetre miscounted", ["10 mm", "-10 mm"]),
        ("1508 mm", "swapped digits", ["-3600 mm", "450 mm", "-72 mm"]),
        ("150.8 cm", "swapped digits", ["-3600 mm", "450 mm", "-72 mm"]),
        ("1508 mm", "an eighth for a sixteenth", []),
        ("1508 mm", "centimetres for inches", []),
        ("59.5 cm", "centimetres for inches", ["-916.3 mm"]),
        ("1508 mm", "one mark off", ["1 mm", "-1 mm"]),
    ],
)
def test_a_tape_in_millimetres(text: str, kind: str, errors: list[str]) -> None:
    assert off(read(text, METRIC), kind) == errors


def test_a_laser_burns_no_inch() -> None:
    kinds = {slip.kind for slip in slips_of(read("1508 mm", LASER))}

    assert kinds == {"one mark off", "a centimetre miscounted", "swapped digits"}


def test_a_hook_left_pulled_out_against_a_wall_makes_a_reading_short() -> None:
    """The hook's outer face touches, zero lies a hook's thickness away from the wall."""
    assert off(read("59 3/8 in", HOOKED), "hook pulled") == ["-1.5875 mm"]
    assert off(read("59 3/8 in", HOOKED), "hook pushed") == []


def test_a_hook_pushed_in_over_an_edge_makes_a_reading_long() -> None:
    """The hook's inner face touches, zero lies a hook's thickness before the edge."""
    curb = read("4 3/4 in", HOOKED, "curb_depth")

    assert off(curb, "hook pushed") == ["1.5875 mm"]
    assert off(curb, "hook pulled") == []


def test_before_version_5_hooks_and_burned_inches_were_told_as_they_were() -> None:
    hooked = read("59 3/8 in", HOOKED)

    assert off(hooked, "hook pushed", 4) == ["-1.5875 mm"]
    assert off(hooked, "hook pulled", 4) == ["1.5875 mm"]
    assert off(read("1508 mm", METRIC), "burned inch", 4) == ["25.4 mm"]
    assert off(read("1508 mm", METRIC), "burned 10 cm", 4) == []


def test_a_lean_may_be_written_the_wrong_way_and_a_width_may_not() -> None:
    lean = read("-3/16 in", LEVEL, "lean", "left")

    assert off(lean, "wrong way") == ["-9.525 mm"]
    assert off(lean, "a sixteenth for an eighth") == ["4.7625 mm"]
    assert off(read("0 in", LEVEL, "lean", "left"), "wrong way") == []


def test_no_slip_makes_a_width_out_of_less_than_nothing() -> None:
    assert off(read("1/2 in"), "burned inch") == []
    assert off(read("1/2 in"), "a foot miscounted") == ["-304.8 mm"]


def test_a_slip_says_what_was_meant() -> None:
    (burned,) = [s for s in slips_of(read("59 3/8 in")) if s.kind == "burned inch"]
    (metric,) = [s for s in slips_of(read("1508 mm", METRIC)) if s.kind == "burned 10 cm"]

    assert burned.as_json() == {
        "kind": "burned inch",
        "off": {"r": "25.4 mm"},
        "meant": "58 3/8 in",
        "words": "the tape was started at its 1 and the inch was never taken off",
    }
    assert metric.meant == "1408 mm"
    assert metric.words == "the tape was started at its 10 cm and these were never taken off"


def test_left_may_be_swapped_for_right_in_a_pair_that_differs() -> None:
    left = replace(read("3/16 in", LEVEL, "lean", "left"), id="a")
    right = replace(read("-1/16 in", LEVEL, "lean", "right"), id="b")
    same_right = replace(right, value=left.value)
    width = read("59 in")

    (swap,) = swaps_of((right, width, left))

    assert dict(swap.errors_nm) == {"a": 4 * NM_PER_INCH // 16, "b": -4 * NM_PER_INCH // 16}
    assert swap.meant == "left -1/16 in, right 3/16 in"
    assert swaps_of((left, same_right)) == []
    assert swaps_of((left, replace(right, over=length_parse("60 in")))) == []
    assert swaps_of((left, replace(right, quantity="diagonal"))) == []


def inch(one: str, mm: float = 25.4, kind: str = "burned inch") -> Mistake:
    return Mistake(kind, {one: round(mm * NM_PER_MM)}, "-")


IDS = ("a", "b", "c")


def test_a_slip_of_the_right_size_outweighs_a_mistake_of_any_size() -> None:
    found = suspicions(same([10, 10.4, 35.6]), IDS, [inch("c"), inch("a"), inch("z")])

    assert found[0].readings == ("c",)
    assert found[0].mistake == inch("c")
    assert found[0].share > 0.9
    assert sum(one.share for one in found) == pytest.approx(1)
    assert {one.readings for one in found} == {("a",), ("b",), ("c",)}


def test_a_slip_of_the_wrong_size_does_not() -> None:
    found = suspicions(same([10, 10.4, 45.6]), IDS, [inch("c")])

    assert (found[0].readings, found[0].mistake) == (("c",), None)
    assert found[0].share > 0.99


def test_nothing_can_be_suspected_where_nothing_is_checked() -> None:
    assert suspicions(same([10]), ("a",), []) == []


def test_the_likelier_of_two_slips_explains_a_reading() -> None:
    slips = [inch("c", 24), inch("c"), inch("b"), inch("c", 40)]
    odd = inch("c", 25.4, "an inch miscounted")

    assert explanation(slips, "c", 25.6, 1.0) == inch("c")
    assert explanation([odd, *slips], "c", 25.4, 1.0) == inch("c")
    assert explanation([inch("c", 40)], "c", 25.6, 1.0) is None
    assert explanation([], "a", 25.6, 1.0) is None


def test_a_slip_that_is_rarer_but_nearer_may_be_the_likelier() -> None:
    rare = inch("c", 27.4, "a foot miscounted")

    assert explanation([rare, inch("c")], "c", 27.4, 0.9) == rare
    assert explanation([rare, inch("c")], "c", 27.4, 1.8) == inch("c")


@pytest.mark.parametrize("sign", [1, -1])
def test_a_slip_explains_up_to_two_and_a_half_standard_uncertainties(sign: int) -> None:
    assert explanation([inch("c", 30 + sign * 5)], "c", 30, 2.0)
    assert explanation([inch("c", 30 + sign * 5.001)], "c", 30, 2.0) is None


def test_mistakes_of_any_size_weigh_by_fit_and_by_how_wide_they_are_seen() -> None:
    adjusted = same([0, 0, 3], [1, 2, 1.5])
    share = {one.readings[0]: one.share for one in suspicions(adjusted, IDS, [])}

    sizes, seen = standardised(adjusted), redundancies(adjusted)
    weight = [
        math.exp(w * w / 2) * sigma / math.sqrt(r)
        for w, r, sigma in zip(sizes, seen, [1, 2, 1.5], strict=True)
    ]
    assert [share[one] for one in IDS] == pytest.approx([w / sum(weight) for w in weight])


def test_a_slip_weighs_by_what_it_leaves_and_by_its_kind() -> None:
    adjusted = same([0, 0, 25.4])
    usual, rare = inch("c"), inch("c", 25.4, "a foot miscounted")

    share = {
        one.mistake.kind: one.share
        for one in suspicions(adjusted, IDS, [usual, rare])
        if one.mistake
    }
    unknown = [one.share for one in suspicions(adjusted, IDS, [usual]) if one.mistake is None]

    assert share["burned inch"] / share["a foot miscounted"] == pytest.approx(3.0 / 0.5)
    # three for any size, spread over 200 mm, against three for the inch itself
    wide = math.sqrt(2 * math.pi * 1.5) / 200
    assert max(unknown) == pytest.approx(wide / (1 + wide), rel=1e-6)


def test_a_slip_adds_to_its_own_readings_only() -> None:
    assert error_vector(IDS, inch("b")).tolist() == [0.0, 25.4, 0.0]


def at(name: str, text: str, height: str = "72 in", tool: Tool = TAPE) -> Reading:
    return replace(read(text, tool), id=name, height=length_parse(height))


def test_a_place_is_what_was_read_more_than_once() -> None:
    leans = [
        replace(read("0 in", LEVEL, "lean", side), id=side, over=length_parse("72 in"))
        for side in ("left", "right", "left")
    ]

    found = places_of((at("a", "59 in"), at("b", "59 in", "36 in"), at("c", "60 in"), *leans))

    assert [tuple(one.id for one in place) for place in found] == [("a", "c"), ("left", "left")]


def test_of_one_place_those_that_agree_may_share_a_mistake() -> None:
    readings = (at("a", "59 in"), at("b", "60 in"), at("c", "59 1/16 in"), at("d", "61 in"))

    assert agreeing(readings) == [("a", "c")]
    assert agreeing(readings[:2]) == []


def test_a_slip_is_shared_where_all_could_have_it_by_as_much() -> None:
    slips = [*slips_of(at("a", "59 3/16 in")), *slips_of(at("b", "59 1/4 in"))]

    burned = [s for s in repeats_of(slips, ("a", "b")) if s.kind == "burned inch"]

    assert burned == [
        Mistake("burned inch", dict.fromkeys(("a", "b"), NM_PER_INCH), "58 3/16 in and 58 1/4 in")
    ]
    assert not [s for s in repeats_of(slips, ("a", "b")) if s.kind == "a sixteenth for an eighth"]
    assert repeats_of(slips, ("a", "z")) == []


def test_a_mistake_in_all_readings_of_a_place_weighs_half_of_one_in_one() -> None:
    """Four readings of one length: two off alike explain as much as the other two off the other way."""
    ids = ("a", "b", "c", "d")
    adjusted = same([0, 0, 25.4, 25.4])

    found = suspicions(adjusted, ids, [], (("a", "b"), ("c", "d")))
    share = {one.readings: one.share for one in found}

    assert share["c", "d"] == pytest.approx(share["a", "b"])
    assert share["c", "d"] == pytest.approx(0.5, abs=1e-6)
    single = suspicions(same([0, 0, 25.4]), IDS, [], (("a", "b"),))
    share = {one.readings: one.share for one in single}
    assert share["a", "b"] == pytest.approx(share[("c",)] / 2)
