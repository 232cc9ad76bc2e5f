"""Which reading to take next: what is untold, then what is mixed up, then what nothing checks."""

from dataclasses import replace

import pytest

from fitcheck.rules.adjustment import UNDECIDED, shape_adjust
from fitcheck.rules.finding import uncertainty_text
from fitcheck.rules.length import NM_PER_INCH, Length, length_parse, mm_text
from fitcheck.rules.one_more_reading import Standing, reading_advised, reading_advised_at, standing
from fitcheck.rules.survey import Reading
from tests.fitcheck.rules.simulated_openings import (
    TOP_NM,
    Opening,
    mistaken,
    perfect,
    reading,
    usual_readings,
)

USUAL = Opening(1490.0, 3.0, -2.0, 1.5)
ASKED = (0, TOP_NM // 2, TOP_NM)


def chosen(*names: str) -> list[object]:
    return [each for each in usual_readings() if each.id in names]


def test_one_width_wants_what_tells_the_width_at_the_top() -> None:
    shape = shape_adjust(perfect(USUAL, chosen("w0")))

    advice = reading_advised(shape, (0, 60 * NM_PER_INCH))

    assert advice.needed
    assert (advice.need.quantity, advice.need.height) == ("width", "60 in")
    assert not advice.again
    assert (advice.before.untold, advice.after.untold) == (1, 0)
    assert "cannot be told" in advice.why


def test_two_widths_want_a_check_of_them() -> None:
    shape = shape_adjust(perfect(USUAL, chosen("w0", "w2")))

    advice = reading_advised(shape, (0, TOP_NM))

    assert advice.needed
    assert advice.before.unchecked == 2
    assert advice.after.unchecked < 2
    assert "show nowhere else" in advice.why


def test_a_full_survey_wants_nothing_but_could_still_be_surer() -> None:
    shape = shape_adjust(perfect(USUAL, usual_readings()))

    advice = reading_advised(shape, ASKED)

    assert not advice.needed
    assert advice.before.untold == advice.before.unchecked == 0
    assert advice.before.muddled == 0.0
    assert advice.after.hidden_mm < advice.before.hidden_mm
    assert "still hide" in advice.why


def test_a_bow_seen_by_one_width_wants_a_second_width() -> None:
    shape = shape_adjust(mistaken(perfect(USUAL, usual_readings()), 1, NM_PER_INCH // 4))
    assert shape.solved.bowed

    advice = reading_advised(shape, ASKED)

    assert advice.needed
    assert advice.need.quantity == "width"
    assert advice.again
    assert advice.need.height == "36 in"
    assert (advice.before.unchecked, advice.after.unchecked) == (1, 0)


def test_two_readings_that_contradict_want_a_third_of_the_same() -> None:
    wanted = [reading("a", "width", height=0), reading("b", "width", height=0)]
    shape = shape_adjust(mistaken(perfect(USUAL, wanted), 1, NM_PER_INCH))
    assert shape.state == UNDECIDED

    advice = reading_advised(shape, (0,))

    assert (advice.need.quantity, advice.need.height, advice.again) == ("width", "0 in", True)
    assert advice.before.muddled == pytest.approx(1.0)
    assert advice.after.muddled < 0.1
    assert "cannot say which" in advice.why


def test_the_reading_that_was_advised_settles_the_contradiction() -> None:
    wanted = [reading("a", "width", height=0), reading("b", "width", height=0)]
    first = mistaken(perfect(USUAL, wanted), 1, NM_PER_INCH)
    third = perfect(USUAL, [reading("c", "width", height=0)])

    shape = shape_adjust((*first, *third))

    assert [one.observation.id for one in shape.removed] == ["b"]


def test_what_is_promised_of_one_more_reading_is_what_it_brings() -> None:
    some = perfect(USUAL, chosen("w0", "w2", "ll"))
    extra = reading("new", "width", height=TOP_NM // 2)

    advice = reading_advised(shape_adjust(some), ASKED)
    shape = shape_adjust((*some, *perfect(USUAL, [extra])))
    taken = shape.solved.seen[3]
    promised = standing(shape_adjust(some), ASKED, replace(taken, id="one more reading"))
    brought = standing(shape, ASKED)

    assert advice.after.rank <= promised.rank
    assert brought.rank == pytest.approx(promised.rank, abs=0.02)


def test_a_ceiling_is_read_again_only_where_it_was_read() -> None:
    wanted = [*usual_readings(), reading("c", "ceiling_height", "left")]
    shape = shape_adjust((*perfect(USUAL, usual_readings()), wanted[-1]))

    assert reading_advised(shape, ASKED).need.quantity != "ceiling_height"


def test_what_matters_must_be_said() -> None:
    with pytest.raises(ValueError, match="at which heights"):
        reading_advised(shape_adjust(perfect(USUAL, usual_readings())), ())


def test_being_told_comes_before_being_untangled_checked_and_sure() -> None:
    ranks = [
        Standing(0, 0.0, 0, 1.0, 0.5),
        Standing(0, 0.0, 0, 1.0, 0.6),
        Standing(0, 0.0, 0, 2.0, 0.5),
        Standing(0, 0.0, 1, 1.0, 0.5),
        Standing(0, 0.5, 0, 1.0, 0.5),
        Standing(1, 0.0, 0, 0.0, 0.0),
    ]

    assert ranks == sorted(ranks, key=lambda one: one.rank)


def test_advice_is_told_in_plain_words() -> None:
    shape = shape_adjust(perfect(USUAL, chosen("w0", "w2")))

    told = reading_advised(shape, (0, TOP_NM)).as_json()

    assert str(told["do"]).startswith("Read the ")
    assert told["before"] == {
        "widths_untold": 0,
        "readings_unchecked": 2,
        "largest_hidden_mistake": None,
        "largest_uncertainty": uncertainty_text(shape.solved.seen[0].sigma),
    }
    assert str(told["after"]["largest_hidden_mistake"]).endswith(" mm")  # type: ignore[index]


def in_millimetres(readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """The same survey, its heights written in millimetres."""
    return tuple(
        replace(one, height=Length(one.height.nm, mm_text(one.height.nm))) if one.height else one
        for one in readings
    )


def test_heights_are_said_as_they_were_written() -> None:
    readings = mistaken(perfect(USUAL, usual_readings()), 2, NM_PER_INCH)

    inches, metric = (
        reading_advised(shape_adjust(some), ASKED).as_json()
        for some in (readings, in_millimetres(readings))
    )
    before = reading_advised(shape_adjust(in_millimetres(readings), rules=4), ASKED)

    assert (inches["height"], metric["height"]) == ("72 in", "1828.8 mm")
    assert "mm" not in before.as_json()["do"]


def test_a_height_that_nobody_wrote_is_said_in_the_unit_of_the_others() -> None:
    wanted = perfect(USUAL, chosen("w0"))
    inches, metric = shape_adjust(wanted), shape_adjust(in_millimetres(wanted))
    height = length_parse("1 m")

    assert reading_advised(metric, (height.nm,)).need.height == "1000 mm"
    assert reading_advised(inches, (height.nm,)).need.height == "39 23/64 in"
    advised = reading_advised_at(metric, [height])
    assert advised is not None
    assert advised.need.height == "1 m"


def test_what_was_taken_out_is_read_again_first() -> None:
    shape = shape_adjust(mistaken(perfect(USUAL, usual_readings()), 6, 2 * NM_PER_INCH))
    assert shape.removed[0].observation.id == "dl"

    advice = reading_advised(shape, ASKED)

    assert (advice.need.quantity, advice.need.side) == ("diagonal", "left")
    assert (advice.again, advice.needed) == (True, True)
    assert advice.why == "It was taken out, because the other readings contradict it."
    assert advice.as_json()["do"] == "Read the diagonal from the left foot again."


def test_without_a_height_that_matters_nothing_is_advised() -> None:
    shape = shape_adjust(perfect(USUAL, usual_readings()))

    assert reading_advised_at(shape, []) is None
    assert reading_advised_at(shape, [length_parse("0 in")]) == reading_advised(shape, (0,))
