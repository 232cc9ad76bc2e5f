"""A reading that strays: chance, or a mistake that matters?"""

import math
import random

import numpy as np
import pytest

from fitcheck.rules.adjustment import AGREE, shape_adjust
from fitcheck.rules.least_squares import Fit, fit
from fitcheck.rules.length import NM_PER_INCH, Length
from fitcheck.rules.mistakes import Mistake
from fitcheck.rules.shape_report import shape_json
from fitcheck.rules.strays import mistake_log_odds
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read
from tests.fitcheck.rules.simulated_openings import as_read, drawn, mistaken, usual_readings

QUARTER_MM = 6.35


def twice(apart: float, sigma: float = 1.0) -> tuple[Fit, tuple[str, str]]:
    """One length read twice, so far apart: r is a half, w = apart / (sigma sqrt 2)."""
    design = np.ones((2, 1))
    return fit(design, np.array([0.0, apart]), np.array([sigma, sigma])), ("a", "b")


@pytest.mark.parametrize("apart", [0.0, 2.0, 4.0])
def test_the_odds_are_those_of_a_quarter_inch_either_way(apart: float) -> None:
    adjusted, ids = twice(apart)
    w, shift = apart / math.sqrt(2), QUARTER_MM * math.sqrt(0.5)
    density = [math.exp(-((w - sign * shift) ** 2) / 2) for sign in (1, -1)]

    odds = sum(density) / 2 / math.exp(-(w**2) / 2)

    assert mistake_log_odds(adjusted, ids, []) == pytest.approx(math.log(odds))


def test_a_reading_that_strays_further_than_a_quarter_inch_is_held_against_what_explains_it_best() -> (
    None
):
    adjusted, ids = twice(20.0)
    w = 20 / math.sqrt(2)

    assert mistake_log_odds(adjusted, ids, []) == pytest.approx(w * w / 2 - math.log(2))


def test_swapped_sides_are_held_against_chance_beside_each_reading() -> None:
    adjusted, ids = twice(10.0, sigma=2.0)
    swap = Mistake("left for right", {"a": -5_000_000, "b": 5_000_000}, "")
    of_another = Mistake("left for right", {"a": -5_000_000, "elsewhere": 5_000_000}, "")
    alone = mistake_log_odds(adjusted, ids, [])
    gain = (10 / (2 * math.sqrt(2))) ** 2 / 2

    together = mistake_log_odds(adjusted, ids, [swap, of_another])

    assert math.exp(together) == pytest.approx((2 * math.exp(alone) + math.exp(gain)) / 3)


def test_nothing_is_likelier_where_no_reading_checks_another() -> None:
    adjusted = fit(np.ones((1, 1)), np.array([1.0]), np.array([1.0]))

    assert mistake_log_odds(adjusted, ("a",), []) == -math.inf


def test_a_stray_taken_for_chance_is_told_and_one_believed_is_not_passed_over() -> None:
    chance, strays = random.Random(20), []
    for n in range(400):
        readings = mistaken(
            as_read(drawn(chance, 1.0), usual_readings(), chance), n % 8, NM_PER_INCH // 5
        )
        shape = shape_adjust(readings)
        if shape.strayed is not None:
            strays.append(shape)
            assert shape.state == AGREE
            assert shape_adjust(readings, rules=4).state != AGREE

    assert strays
    house = house_read(Strict({}))
    said = str(shape_json(strays[0], [Length(0, "0 in")], None, house)["summary"])
    assert "reading it once more would settle it" in said
