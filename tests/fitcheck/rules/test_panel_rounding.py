"""Does no inch that is read off an order, or its drawing, make the glass larger than it was cut?"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.drawings.order import Release, order_of
from fitcheck.drawings.pane import svg_pane
from fitcheck.rules import panel_order
from fitcheck.rules.length import length_parse
from tests.fitcheck.drawings.openings import said
from tests.fitcheck.rules.test_panel_order import Question, asked, place


def leaning(left_head: str, right_foot: str, right_head: str) -> Question:
    """An opening 1000 by 2000 mm, of which some corners lean or lift; without gaps."""
    return asked(
        opening={
            "left_foot": place("0 mm", "0 mm"),
            "right_foot": place("1000 mm", right_foot),
            "right_head": place(right_head, "2000 mm"),
            "left_head": place(left_head, "2000 mm"),
            "uncertainty": "0.7 mm",
        },
        gaps={"left": "0 mm", "right": "0 mm", "head": "0 mm", "foot": "0 mm"},
        dividers=[],
        panels=[{"name": "screen"}],
    )


def test_inches_of_corners_are_rounded_into_the_glass() -> None:
    """3.966 mm is 0.156 in: 3/16 to the next mark; 2.976 is 0.117: 1/8. Down, they enter the gap."""
    (panel,) = panel_order.answer(leaning("3.966 mm", "2.976 mm", "998 mm"))["panels"]
    left_foot, right_foot, right_head, left_head = panel["corners"]

    assert (left_head["right"]["inch"], left_head["right"]["rounded"]) == ("3/16 in", "up")
    assert (right_foot["up"]["inch"], right_foot["up"]["rounded"]) == ("1/8 in", "up")
    assert (right_foot["right"]["inch"], right_foot["right"]["rounded"]) == ("39 5/16 in", "down")
    assert (right_head["right"]["inch"], right_head["up"]["inch"]) == ("39 1/4 in", "78 11/16 in")
    assert (left_head["up"]["inch"], left_head["up"]["rounded"]) == ("78 11/16 in", "down")
    assert left_foot["right"]["mm"] == left_foot["up"]["mm"] == "0 mm"
    tapers = {name: one["inch"] for name, one in panel["tapers"].items()}
    assert tapers == {"left": "3/16 in", "foot": "1/8 in", "right": "-1/8 in", "head": "0 in"}


def test_an_outward_lean_is_rounded_down_and_so_into_the_glass_too() -> None:
    """-3.966 mm goes up to -1/8, 1003.966 mm down to 39 1/2."""
    (panel,) = panel_order.answer(leaning("-3.966 mm", "-2.976 mm", "1003.966 mm"))["panels"]

    tapers = {name: one["inch"] for name, one in panel["tapers"].items()}
    assert tapers == {"left": "-1/8 in", "foot": "-1/16 in", "right": "1/8 in", "head": "0 in"}
    assert panel["corners"][2]["right"]["inch"] == "39 1/2 in"


@given(*(st.integers(-8_000_000, 8_000_000) for _ in range(3)), st.sampled_from([16, 32]))
def test_no_outline_read_off_in_inches_is_larger_than_the_glass(
    left: int, foot: int, right: int, mark: int
) -> None:
    lean, lift, out = (f"{nm / 1e6:.6f} mm" for nm in (left, foot, 1_000_000_000 + right))
    question = leaning(lean, lift, out)
    (panel,) = panel_order.answer({**question, "house": {"mark": mark}})["panels"]

    read = [
        (length_parse(one["right"]["inch"]).nm, length_parse(one["up"]["inch"]).nm)
        for one in panel["corners"]
    ]
    true = [
        (length_parse(one["right"]["mm"]).nm, length_parse(one["up"]["mm"]).nm)
        for one in panel["corners"]
    ]
    signs = ((1, 1), (-1, 1), (-1, -1), (1, -1))
    for one, other, (right_in, up_in) in zip(read, true, signs, strict=True):
        assert 0 <= (one[0] - other[0]) * right_in < 25_400_000 // mark
        assert 0 <= (one[1] - other[1]) * up_in < 25_400_000 // mark


@pytest.mark.parametrize(
    ("edition", "thickness", "inch"),
    [
        ("c1048", "3/8 in", "1/16 in"),
        ("c1048", "1/2 in", "1/8 in"),
        ("en12150", "10 mm", "1/16 in"),
    ],
)
def test_what_a_panel_may_be_off_its_size_is_not_rounded_up(
    edition: str, thickness: str, inch: str
) -> None:
    """2.4, 3.2 and 3 mm; up they were 1/8, 3/16 and 1/8 in, and a receiver took bad glass."""
    question = {**leaning("0 mm", "0 mm", "1000 mm"), "edition": edition, "thickness": thickness}
    size = panel_order.answer(question)["panels"][0]["tolerances"]["size"]

    assert (size["inch"], size["rounded"]) == (inch, "down")


def test_the_drawing_says_each_taper_as_the_data_do() -> None:
    for question in (
        leaning("3.966 mm", "2.976 mm", "998 mm"),
        leaning("-3.966 mm", "-2.976 mm", "1003.966 mm"),
    ):
        (panel,) = panel_order.answer(question)["panels"]
        words = said(svg_pane(order_of(question), 0, Release()))

        for name in ("left", "foot", "right"):
            inch = panel["tapers"][name]["inch"].removeprefix("-")
            told = re.search(rf"{name} (?:goes to the \w+|falls|rises) by about ([^·]+) · ", words)
            assert told is not None
            assert told[1] == inch
