"""Lengths are read with their unit, kept exactly, printed without loss and rounded as said."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.rules.length import (
    LARGEST_NM,
    LengthError,
    computed,
    inch_text,
    length_parse,
    mm_text,
)

ONE_INCH = 25_400_000
LENGTHS = st.integers(ONE_INCH - LARGEST_NM, LARGEST_NM - ONE_INCH)
MARKS = st.sampled_from([16, 32, 64])


@pytest.mark.parametrize(
    "text",
    [
        "59 3/8 in",
        "59.375 in",
        "1508.125 mm",
        "150.8125 cm",
        "1.508125 m",
        "4 ft 11 3/8 in",
        "4' 11 3/8\"",
        '59 3/8"',
        "59⅜ in",
        "59 ⅜ in",
        "59\u20093\u20448 in",
        "59 24/64 inches",
    ],
)
def test_many_ways_to_write_one_length(text: str) -> None:
    length = length_parse(text)

    assert length.nm == 1_508_125_000
    assert length.entered == text


@pytest.mark.parametrize(
    ("text", "nm"),
    [("-1/8 in", -3_175_000), ("−1 mm", -1_000_000), ("4 ft", 1_219_200_000), ("0 in", 0)],
)
def test_signs_feet_and_nothing(text: str, nm: int) -> None:
    assert length_parse(text).nm == nm


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        (59, "length_without_unit"),
        (59.375, "length_without_unit"),
        ("59", "length_without_unit"),
        ("59 3/8", "length_without_unit"),
        ("5913/16 in", "fraction_improper"),
        ("59 17/16 in", "fraction_improper"),
        ("8/8 in", "fraction_improper"),
        ("59 1/3 in", "fraction_denominator"),
        ("59 1/128 in", "fraction_denominator"),
        ("59,375 in", "decimal_comma"),
        ("1,508 mm", "decimal_comma"),
        ("100.001 m", "length_too_large"),
        ("0.0000001 mm", "length_too_fine"),
        ("59-3/8 in", "length_not_understood"),
        ("4 ft 12 in", "length_not_understood"),
        ("1e3 mm", "length_not_understood"),
        ("59 3/8 ins", "length_not_understood"),
        ("", "length_not_understood"),
        ("in", "length_not_understood"),
        ("1" * 65 + " mm", "length_not_understood"),
        (None, "length_not_understood"),
        (True, "length_not_understood"),
        ({"inch": "1 in"}, "length_not_understood"),
    ],
)
def test_what_is_not_a_length_is_refused_with_a_code_and_a_hint(wrong: object, code: str) -> None:
    with pytest.raises(LengthError) as refused:
        length_parse(wrong)

    assert refused.value.code == code
    assert refused.value.hint


def test_a_missing_space_is_guessed_at_in_the_hint_only() -> None:
    with pytest.raises(LengthError) as refused:
        length_parse("5913/16 in")

    assert refused.value.hint == "did you mean 59 13/16 in?"


def test_a_dash_before_a_fraction_gets_the_hint_without_it() -> None:
    with pytest.raises(LengthError) as refused:
        length_parse("59-3/8 in")

    assert '"59 3/8 in"' in refused.value.hint


@given(LENGTHS)
def test_millimetres_print_and_parse_without_loss(nm: int) -> None:
    assert length_parse(mm_text(nm)).nm == nm


@given(st.integers(-60_000, 60_000), MARKS)
def test_whole_marks_print_and_parse_without_loss(marks: int, mark: int) -> None:
    nm = marks * 25_400_000 // mark

    assert length_parse(inch_text(nm, mark)).nm == nm


@given(LENGTHS, MARKS)
def test_down_is_never_more_and_up_is_never_less_and_both_within_a_mark(nm: int, mark: int) -> None:
    down = length_parse(inch_text(nm, mark, "down")).nm
    up = length_parse(inch_text(nm, mark, "up")).nm

    assert down <= nm <= up
    assert up - down in (0, 25_400_000 // mark)


@given(LENGTHS, st.sampled_from([16, 32]))
def test_what_was_given_out_may_be_sent_back(nm: int, mark: int) -> None:
    assert length_parse(computed(nm, "down", mark)).nm == nm


@given(st.text(max_size=70))
def test_any_text_is_a_length_or_is_refused(text: str) -> None:
    try:
        outcome: object = abs(length_parse(text).nm) <= LARGEST_NM
    except LengthError as refused:
        outcome = refused.code

    assert outcome


def test_a_computed_length_says_which_way_it_went() -> None:
    assert computed(1_501_775_000, "down", 16) == {
        "mm": "1501.775 mm",
        "inch": "59 1/8 in",
        "inch_mark": "1/16 in",
        "rounded": "down",
    }
