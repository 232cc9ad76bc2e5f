"""One comparison: margin, guard band, chance, and a sentence that says what to do."""

import dataclasses
from typing import Any

import pytest

from fitcheck.rules.compare import Asked, advised, compared, one_of, spoken
from fitcheck.rules.finding import Measured
from fitcheck.rules.readings import Absent
from fitcheck.rules.sources import source
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import House, house_read

MM = 10**6
ASKED = Asked("a.rule", "Is it so?", "somewhere", source("house", "house setting", "x"), "Mend it.")


@pytest.fixture
def house() -> House:
    return house_read(Strict({}))


@pytest.mark.parametrize(
    ("nm", "up", "text"),
    [
        (27 * MM, False, "1 1/16 in (27.0 mm)"),
        (27 * MM, True, "1 1/8 in (27.0 mm)"),
        (1_040_000, False, "1.0 mm"),
        (1_040_000, True, "1/16 in (1.1 mm)"),
        (-27_040_000, False, "-1 1/8 in (-27.1 mm)"),
    ],
)
def test_a_length_in_a_sentence(nm: int, up: bool, text: str) -> None:
    assert spoken(nm, 16, up=up) == text


def test_a_finding_by_hand(house: House) -> None:
    """By hand: 1.645 x 0.8 = 1.316 up to 1.32 mm; 2 / 0.8 = 2.5 and the normal gives 0.99379."""
    found = compared(ASKED, Measured(10 * MM, 10 * MM, 0.8, ("r",)), house, least_nm=8 * MM)

    answer = found.as_json()
    assert answer["margin"] == {
        "mm": "2 mm",
        "inch": "1/16 in",
        "inch_mark": "1/16 in",
        "rounded": "down",
    }
    assert answer["uncertainty"] == "0.80 mm"
    assert answer["guard_band"] == "1.32 mm"
    assert answer["chance"] == "0.993"
    assert answer["state"] == "fits"
    assert answer["readings"] == ["r"]


@pytest.mark.parametrize(
    ("factor", "state"), [("1.645", "fits"), ("2.4", "fits"), ("2.5", "tight"), ("3", "tight")]
)
def test_the_guard_factor_is_the_firms(house: House, factor: str, state: str) -> None:
    strict = dataclasses.replace(house, guard_factor=type(house.guard_factor)(factor))

    found = compared(ASKED, Measured(10 * MM, 10 * MM, 0.8), strict, least_nm=8 * MM)

    assert found.state == state


def test_a_value_held_between_two_nanometres_is_taken_at_its_worse_end(house: House) -> None:
    value = Measured(10 * MM - 1, 10 * MM, 0.1)

    assert compared(ASKED, value, house, least_nm=10 * MM).state == "fails"
    assert compared(ASKED, value, house, most_nm=10 * MM - 1).state == "fails"
    assert compared(ASKED, value, house, most_nm=10 * MM).state == "tight"


def test_an_exact_value_has_no_chance_and_no_guard_band(house: House) -> None:
    answer = compared(ASKED, Measured(MM, MM, 0.0), house, most_nm=2 * MM).as_json()

    assert (answer["uncertainty"], answer["guard_band"], answer["chance"]) == (None, None, None)


def test_without_a_limit_there_is_nothing_to_compare(house: House) -> None:
    with pytest.raises(ValueError, match="limit"):
        compared(ASKED, Measured(MM, MM, 0.1), house)


@pytest.mark.parametrize(
    ("limits", "sense", "limit"),
    [
        ({"least_nm": 8 * MM}, "least", "8 mm"),
        ({"most_nm": 9 * MM}, "most", "9 mm"),
        ({"least_nm": 8 * MM, "most_nm": 9 * MM}, "most", "9 mm"),
    ],
)
def test_what_was_never_read_is_unknown_but_still_names_its_limit(
    house: House, limits: dict[str, int], sense: str, limit: str
) -> None:
    answer: dict[str, Any] = compared(ASKED, Absent(()), house, **limits).as_json()

    assert (answer["state"], answer["sense"], answer["limit"]["mm"]) == ("unknown", sense, limit)
    assert answer["margin"] is None


@pytest.mark.parametrize(
    ("value", "state", "do"),
    [
        (8, "fits", "Nothing to do: 1/16 in (2.0 mm) to spare."),
        (10, "fits", None),
        (11, "tight", "Mend it."),
    ],
)
def test_advice_never_fails(house: House, value: int, state: str, do: str | None) -> None:
    found = advised(ASKED, value * MM, house, most_nm=10 * MM)

    assert found.state == state
    assert do is None or found.do == do


@pytest.mark.parametrize(
    ("value", "state"), [("wood_stud", "fits"), ("steel_stud", "fails"), ("unknown", "unknown")]
)
def test_a_word_is_allowed_or_not_or_to_be_found_out(value: str, state: str) -> None:
    found = one_of(ASKED, value, ("wood_stud", "unknown"))

    assert found.state == state
    assert found.limit_text == "wood stud, unknown"
