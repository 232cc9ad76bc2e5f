"""What the crew is told to do at the saw never contradicts what was found."""

import pytest

from fitcheck.rules import sawmark
from tests.fitcheck.rules.test_sawmark import asked, by_rule


def test_stock_of_the_marks_own_length_needs_no_saw() -> None:
    answer = sawmark.answer(asked(stock="59 9/16 in"))

    assert answer["decision"] == "release"
    assert answer["saw"] == "Do not saw: the part is already as long as its mark."


@pytest.mark.parametrize(
    ("stock", "end", "state"),
    [
        ("59 5/8 in", "either", "tight"),
        ("59 11/16 in", "either", "fits"),
        ("59 5/8 in", "both", "tight"),
        ("59 11/16 in", "both", "fits"),
    ],
)
def test_a_sliver_thinner_than_the_blade_is_filed(stock: str, end: str, state: str) -> None:
    answer = sawmark.answer(asked(stock=stock, end=end))
    found = by_rule(answer)["mark.stock"]

    assert found["state"] == state
    assert ("File it down" in found["do"]) == (state == "tight")
    assert ("File it down to 59 9/16 in" in answer["saw"]) == (state == "tight")
    assert ("saw" in answer["saw"].lower()) == (state == "fits")


@pytest.mark.parametrize(
    ("end", "where"),
    [("either", "at the right end"), ("left", "at the left end"), ("both", "half at each end")],
)
def test_the_crew_is_told_at_which_end_to_file(end: str, where: str) -> None:
    saw = sawmark.answer(asked(stock="59 5/8 in", end=end))["saw"]

    assert saw == (
        f"File it down to 59 9/16 in, {where}: 1/16 in (1.6 mm) comes off, thinner than the blade "
        "(1/8 in (3.2 mm))."
    )


@pytest.mark.parametrize(
    ("stock", "words"),
    [
        (
            "59 11/16 in",
            "Measure 59 9/16 in from one end and saw all of it off the other: half of it",
        ),
        (
            "59 3/4 in",
            "Measure 59 9/16 in from one end and saw all of it off the other: half of it",
        ),
        ("59 13/16 in", "Saw 1/8 in off one end first, then measure 59 9/16 in"),
    ],
)
def test_no_end_is_sawn_by_less_than_the_blade(stock: str, words: str) -> None:
    """The blade takes 1/8 in: of 3/16 in half is too thin, of 1/4 in it is just enough."""
    assert sawmark.answer(asked(stock=stock, end="both"))["saw"].startswith(words)


@pytest.mark.parametrize("sawn", ["59 9/16 in", "59 5/8 in", "10 in"])
def test_a_part_that_was_sawn_is_not_told_to_be_sawn(sawn: str) -> None:
    assert sawmark.answer(asked(sawn=sawn, allowance=None))["saw"] is None


@pytest.mark.parametrize(
    ("end", "words"),
    [
        ("either", "Measure 59 9/16 in from the left end and saw off the right end;"),
        ("right", "Measure 59 9/16 in from the left end and saw off the right end;"),
        ("left", "Measure 59 9/16 in from the right end and saw off the left end;"),
        (
            "both",
            "Saw 3/16 in off one end first, then measure 59 9/16 in from that fresh end and mark it;",
        ),
    ],
)
def test_the_end_and_the_kerf_side_are_said(end: str, words: str) -> None:
    saw = sawmark.answer(asked(end=end))["saw"]

    assert saw.startswith(words)
    assert "the blade, 1/8 in (3.2 mm) wide, runs on the waste side" in saw
    assert saw.endswith(
        "On the wrong side it comes out 1/8 in (3.2 mm) short, which the end covers would hide."
    )


def test_a_metric_crew_hears_millimetres_at_both_ends() -> None:
    saw = sawmark.answer(asked(end="both", unit="metric", kerf="4 mm"))["saw"]

    assert saw.startswith("Saw 6 mm off one end first, then measure 1512 mm from that fresh end")
    assert "the blade, 4 mm wide," in saw
    assert saw.endswith("short, which the end covers cannot hide.")


def test_what_parts_without_a_kerf_has_no_side_to_be_wrong() -> None:
    saw = sawmark.answer(asked(kerf="0 in", end="left"))["saw"]

    assert saw == (
        "Measure 59 9/16 in from the right end and saw off the left end; the line stays on the part."
    )
