"""How is a length read over HTTP? Exactly, and rounded to the side that is safe."""

from fractions import Fraction

import pytest

from tests.clients import Caller, assert_problem

LENGTH = "/api/v1/checks/length/"


def ask(caller: Caller, length: object) -> dict[str, object]:
    answer = caller.post(LENGTH, {"length": length})
    assert answer.status_code == 200, answer.content
    told: dict[str, object] = answer.json()
    return told


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("59 3/8 in", "1508.125 mm"),
        ("1508 mm", "1508 mm"),
        ("1/64 in", "0.396875 mm"),
        ("4' 11 3/8\"", "1508.125 mm"),
    ],
)
def test_a_length_comes_back_as_entered_and_exactly(office: Caller, text: str, mm: str) -> None:
    """The inch is 25.4 mm exactly (house calculation; the standard itself is tested elsewhere)."""
    told = ask(office, text)
    assert (told["entered"], told["mm"]) == (text, mm)


def test_what_is_cut_is_rounded_down_and_what_must_clear_is_rounded_up(office: Caller) -> None:
    told = ask(office, "1000 mm")
    exact = Fraction(1000) / Fraction("25.4")
    down, up = (
        sum((Fraction(part) for part in str(told[side]["inch"]).split()[:2]), Fraction(0))  # type: ignore[index]
        for side in ("down", "up")
    )
    assert down < exact < up
    assert up - down == Fraction(1, 16)


@pytest.mark.parametrize("length", ["59", 59, None, "", "5913/16 in", "59 13/16", "59 3/0 in", []])
def test_what_is_no_length_is_refused_with_what_to_send(office: Caller, length: object) -> None:
    answer = office.post(LENGTH, {"length": length})
    assert answer.status_code == 400
    (error,) = answer.json()["errors"]
    assert error["pointer"] == "/length"
    assert error["hint"]


def test_an_unknown_member_is_refused(office: Caller) -> None:
    answer = office.post(LENGTH, {"length": "1 in", "lenght": "2 in"})
    assert_problem(answer, 400, "unknown_field", "/lenght")


def test_a_missing_length_is_asked_for(office: Caller) -> None:
    assert office.post(LENGTH, {}).json()["errors"][0]["pointer"] == "/length"
