"""A saw mark is released only when nothing speaks against it."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.rules import sawmark
from fitcheck.rules.length import length_parse
from fitcheck.rules.strict import InputErrors

TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in"}
METRIC_TAPE = {**TAPE, "graduation": "1 mm"}
Question = dict[str, Any]


def read(value: str, by: str, tool: Question | None = None) -> Question:
    return {"id": f"{by}-{value}", "value": value, "read_by": by, "tool": tool or TAPE}


def asked(*values: str, **changes: Any) -> Question:
    first, second = values or ("59 13/16 in", "59 13/16 in")
    question: Question = {
        "part": "head rail",
        "predicted": {"distance": "59 13/16 in", "uncertainty": "0.8 mm"},
        "as_fixed": [read(first, "Ada Quill"), read(second, "Ben Marl")],
        "deduct": "1/4 in",
        "allowance": "1/8 in",
        "stock": "60 in",
    }
    return {**question, **changes}


def by_rule(answer: dict[str, Any]) -> dict[str, Any]:
    return {finding["rule"]: finding for finding in answer["findings"]}


def test_two_people_and_the_survey_agree_and_the_mark_is_released() -> None:
    answer = sawmark.answer(asked())

    assert answer["decision"] == "release"
    assert answer["mark"] == "59 9/16 in"
    assert answer["length"]["mm"] == "1512.8875 mm"
    assert answer["length"]["rounded"] == "down"
    assert answer["hold"] == []
    assert answer["state"] == "fits"


def test_the_shortest_reading_governs_and_the_mark_rounds_down() -> None:
    answer = sawmark.answer(asked("59 13/16 in", "1518.5 mm"))

    assert answer["decision"] == "release"
    assert answer["mark"] == "59 1/2 in"


def test_a_finer_rule_gives_a_finer_mark_and_a_metric_crew_whole_millimetres() -> None:
    fine = sawmark.answer(asked("59 13/16 in", "1518.5 mm", house={"mark": 32}))
    metric = sawmark.answer(asked("59 13/16 in", "1518.5 mm", unit="metric"))

    assert fine["mark"] == "59 17/32 in"
    assert metric["mark"] == "1512 mm"


def test_one_person_alone_holds_it() -> None:
    twice = [read("59 13/16 in", "Ada Quill"), read("59 13/16 in", " ada  QUILL ")]
    answer = sawmark.answer(asked(as_fixed=twice))

    assert answer["decision"] == "hold"
    assert answer["mark"] is None
    assert answer["saw"] is None
    assert answer["worked_out"]["inch"] == "59 9/16 in"
    assert "another person" in answer["hold"][0]
    assert answer["state"] == "unknown"


def test_one_reading_under_two_names_holds_it() -> None:
    once = [{**read("59 13/16 in", by), "id": "a"} for by in ("Ada Quill", "Ben Marl")]
    answer = sawmark.answer(asked(as_fixed=once))

    assert answer["decision"] == "hold"
    assert by_rule(answer)["mark.second_person"]["state"] == "unknown"


def test_the_limits_of_what_is_believed_are_taken() -> None:
    edge = asked(kerf="1/2 in", least="59 in", most="59 in", predicted=predicted("1 1/4 in"))

    assert by_rule(sawmark.answer(edge))["mark.limits"]["state"] == "fails"


def test_a_vaguer_tape_widens_only_what_two_honest_answers_may_differ_by() -> None:
    """2.5 mm off: class II holds at 2.25 mm, class III lets it by, and its cover is asked."""
    off = predicted("1516.7 mm")
    worse = {**TAPE, "accuracy_class": "III"}
    vague = asked(
        as_fixed=[read("59 13/16 in", "Ada", worse), read("59 13/16 in", "Ben", worse)],
        predicted=off,
        allowance="1.6 mm",
    )

    assert sawmark.answer(asked(predicted=off))["decision"] == "hold"
    found = by_rule(sawmark.answer(vague))
    assert found["mark.agreement"]["state"] == "fits"
    assert found["mark.cover"]["state"] == "tight"


def test_nobody_at_all_holds_it_without_a_length() -> None:
    answer = sawmark.answer(asked(as_fixed=[]))

    assert answer["decision"] == "hold"
    assert answer["worked_out"] is None
    assert answer["hold"] == [
        "Read the distance between the fixed brackets.",
        "Read the distance between the fixed brackets.",
    ]


def test_without_a_survey_one_answer_alone_is_no_check() -> None:
    question = asked()
    del question["predicted"]

    answer = sawmark.answer(question)

    assert answer["decision"] == "hold"
    assert "from the survey first" in answer["hold"][0]


@pytest.mark.parametrize(
    ("second", "decision"),
    [("59 3/4 in", "release"), ("59 23/32 in", "hold"), ("59 7/8 in", "release")],
)
def test_readers_agree_within_one_graduation(second: str, decision: str) -> None:
    answer = sawmark.answer(asked("59 13/16 in", second))

    assert answer["decision"] == decision
    if decision == "hold":
        assert by_rule(answer)["mark.readers"]["state"] == "fails"
        assert "each for themselves" in answer["hold"][0]


def test_a_burned_inch_between_readers_is_named() -> None:
    answer = sawmark.answer(asked("59 13/16 in", "58 13/16 in"))

    assert "about one inch" in by_rule(answer)["mark.readers"]["do"]
    assert "about one inch" in by_rule(answer)["mark.agreement"]["do"]
    other = sawmark.answer(asked("59 13/16 in", "59 5/16 in"))
    assert "one inch" not in by_rule(other)["mark.readers"]["do"]


def test_survey_and_site_must_agree_within_their_combined_doubt() -> None:
    """u = sqrt(0.8^2 + u_a^2), class II over 1.52 m: a 0.7/sqrt 3, 1/16 in /sqrt 12, 0.5 mm."""
    u_a = (0.7**2 / 3 + 1.5875**2 / 12 + 0.5**2) ** 0.5
    band = 2 * (0.8**2 + u_a**2) ** 0.5
    assert 2.24 < band < 2.25

    near = sawmark.answer(asked("59 13/16 in", "59 13/16 in", predicted=predicted("1517.00 mm")))
    far = sawmark.answer(asked("59 13/16 in", "59 13/16 in", predicted=predicted("1516.94 mm")))

    assert near["decision"] == "release"
    assert far["decision"] == "hold"
    assert "Do not saw" in far["hold"][0]
    assert by_rule(near)["mark.agreement"]["limit"]["mm"] == "2.25 mm"


def predicted(distance: str, u: str = "0.8 mm") -> Question:
    return {"distance": distance, "uncertainty": u}


def test_what_brackets_take_is_taken_off_the_width() -> None:
    wide = asked(predicted=predicted("60 13/16 in"))

    assert sawmark.answer(wide)["decision"] == "hold"
    assert sawmark.answer({**wide, "brackets_take": "1 in"})["decision"] == "release"


def test_a_survey_too_vague_to_see_a_burned_inch_confirms_nothing() -> None:
    """A band of 1/2 in is 12.7 mm: k = 2 and u = 6.35 mm altogether."""
    vague = sawmark.answer(asked(predicted=predicted("59 13/16 in", "6.4 mm")))
    enough = sawmark.answer(asked(predicted=predicted("59 13/16 in", "6.2 mm")))

    assert vague["decision"] == "hold"
    assert "too vague" in vague["hold"][0]
    assert enough["decision"] == "release"


def test_a_coarse_tape_is_not_fine_enough_for_a_mark() -> None:
    coarse = {**TAPE, "graduation": "1/8 in"}
    question = asked(
        as_fixed=[read("59 13/16 in", "Ada Quill", coarse), read("59 13/16 in", "Ben Marl")]
    )

    answer = sawmark.answer(question)

    assert answer["decision"] == "hold"
    assert by_rule(answer)["mark.graduation"]["state"] == "fails"


def test_stock_that_is_too_short_is_not_sawn() -> None:
    answer = sawmark.answer(asked(stock="59 1/2 in"))

    assert answer["decision"] == "hold"
    assert "too short" in answer["hold"][0]


@pytest.mark.parametrize(
    ("changes", "state"),
    [
        ({"least": "59 9/16 in"}, "fits"),
        ({"least": "59 5/8 in"}, "fails"),
        ({"most": "59 9/16 in"}, "fits"),
        ({"most": "59 1/2 in"}, "fails"),
    ],
)
def test_the_sheets_limits_of_a_part_hold_the_mark(changes: Question, state: str) -> None:
    answer = sawmark.answer(asked(**changes))

    assert by_rule(answer)["mark.limits"]["state"] == state
    assert (answer["decision"] == "hold") == (state == "fails")


def test_a_part_that_may_come_out_shorter_than_the_covers_hide_is_held() -> None:
    """Readings a sixteenth apart: short by 1/16 in for the longer one; covers hide 1/32 in."""
    held = sawmark.answer(asked("59 13/16 in", "59 3/4 in", allowance="1/32 in"))
    careful = sawmark.answer(asked("59 13/16 in", "59 3/4 in", allowance="1/16 in"))
    wide = sawmark.answer(asked("59 13/16 in", "59 3/4 in", allowance="1/8 in"))

    assert held["decision"] == "hold"
    assert by_rule(held)["mark.cover"]["state"] == "fails"
    assert careful["decision"] == "release"
    assert by_rule(careful)["mark.cover"]["state"] == "tight"
    assert by_rule(wide)["mark.cover"]["state"] == "fits"


def test_without_covers_nothing_is_said_of_them() -> None:
    answer = sawmark.answer(asked(allowance=None))

    assert "mark.cover" not in by_rule(answer)
    assert "end covers" not in answer["saw"]


@pytest.mark.parametrize(
    ("sawn", "long", "short"),
    [
        ("59 9/16 in", "fits", "fits"),
        ("59 5/8 in", "fails", "fits"),
        ("59 7/16 in", "fits", "fits"),
        ("59 3/8 in", "fits", "fails"),
    ],
)
def test_the_part_as_sawn_is_not_long_and_not_shorter_than_the_covers_hide(
    sawn: str, long: str, short: str
) -> None:
    answer = sawmark.answer(asked(sawn=sawn))

    assert by_rule(answer)["mark.sawn_long"]["state"] == long
    assert by_rule(answer)["mark.sawn_short"]["state"] == short
    if short == "fails":
        assert "Order the part again" in answer["hold"][0]


@pytest.mark.parametrize(
    ("sawn", "state", "words"),
    [
        ("59 9/16 in", "fits", "Nothing to do"),
        ("59 1/2 in", "fits", "Nothing to do"),
        ("59 7/16 in", "unknown", "the sheet does not say what the end covers hide"),
        ("59 5/64 in", "unknown", "whether they hide 1/2 in (12.4 mm)"),
        ("59 1/16 in", "fails", "no end cover hides so much"),
        ("10 in", "fails", "no end cover hides so much"),
    ],
)
def test_how_short_a_part_may_be_sawn_is_not_known_where_the_sheet_names_no_cover(
    sawn: str, state: str, words: str
) -> None:
    """The mark is 59 9/16 in: a graduation of 1/16 in is no shortness, and nothing hides 1/2 in."""
    answer = sawmark.answer(asked(sawn=sawn, allowance=None))

    assert by_rule(answer)["mark.sawn_short"]["state"] == state
    assert words in by_rule(answer)["mark.sawn_short"]["do"]
    assert answer["decision"] == ("release" if state == "fits" else "hold")


@pytest.mark.parametrize(
    ("changes", "pointer", "code"),
    [
        ({"deduct": "-1/4 in"}, "/deduct", "length_out_of_range"),
        ({"deduct": "59 in"}, "/deduct", "length_out_of_range"),
        ({"stock": "0 in"}, "/stock", "length_out_of_range"),
        ({"end": "middle"}, "/end", "not_a_choice"),
        ({"as_fixed": [read("59", "Ada")]}, "/as_fixed/0/value", "length_without_unit"),
        ({"as_fixed": [read("59 in", "")]}, "/as_fixed/0/read_by", "not_a_text"),
        ({"predicted": {"distance": "59 in"}}, "/predicted/uncertainty", "missing"),
        ({"deducted": "1/4 in"}, "/deducted", "unknown_member"),
        ({"kerf": "-1 mm"}, "/kerf", "length_out_of_range"),
        ({"kerf": "13 mm"}, "/kerf", "length_out_of_range"),
        ({"least": "60 in", "most": "50 in"}, "/least", "length_out_of_range"),
        ({"brackets_take": "59 in"}, "/predicted/distance", "length_out_of_range"),
        (
            {"predicted": {"distance": "1 3/16 in", "uncertainty": "1 mm"}},
            "/predicted/distance",
            "length_out_of_range",
        ),
    ],
)
def test_a_question_that_makes_no_sense_is_refused(
    changes: Question, pointer: str, code: str
) -> None:
    with pytest.raises(InputErrors) as refused:
        sawmark.answer(asked(**changes))

    assert (pointer, code) in [(each.pointer, each.code) for each in refused.value.errors]


def test_a_deduction_that_leaves_one_inch_is_enough() -> None:
    small = asked("1 1/4 in", "1 1/4 in", predicted=predicted("1 1/4 in"))

    assert sawmark.answer(small)["mark"] == "1 in"


lengths = st.integers(1_000_000_000, 1_600_000_000)


@settings(max_examples=60, deadline=None)
@given(lengths, st.integers(0, 3_000_000), st.integers(-4_000_000, 4_000_000))
def test_a_released_mark_is_never_longer_than_any_reading_less_the_deduction(
    base: int, apart: int, off: int
) -> None:
    values = [f"{nm / 1e6:.6f} mm" for nm in (base, base + apart)]
    answer = sawmark.answer(
        asked(*values, predicted=predicted(f"{(base + off) / 1e6:.6f} mm"), stock="2 m")
    )

    if answer["decision"] == "release":
        mark = length_parse(answer["length"]).nm
        assert mark <= base - length_parse("1/4 in").nm < mark + length_parse("1/16 in").nm
        assert length_parse(answer["mark"]).nm == mark
    else:
        assert answer["mark"] is None
        assert answer["hold"]


@settings(max_examples=40, deadline=None)
@given(lengths, st.integers(0, 5_000_000))
def test_a_wider_opening_never_needs_a_shorter_rail(base: int, more: int) -> None:
    marks = []
    for nm in (base, base + more):
        text = f"{nm / 1e6:.6f} mm"
        answer = sawmark.answer(asked(text, text, predicted=predicted(text), stock="2 m"))
        marks.append(length_parse(answer["length"]).nm)

    assert marks[0] <= marks[1]
