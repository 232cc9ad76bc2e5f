"""A mistake shared by a place's readings, or two mistakes: blamed only where that is clearly told."""

import random
from collections import Counter
from dataclasses import replace

import pytest

from fitcheck.rules.adjustment import AGREE, CORRECTED, UNDECIDED, Shape, shape_adjust
from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM
from fitcheck.rules.one_more_reading import reading_advised
from fitcheck.rules.survey import Reading
from tests.fitcheck.rules.simulated_openings import (
    TOP_NM,
    Opening,
    as_read,
    drawn,
    mistaken,
    perfect,
    reading,
    usual_readings,
)

USUAL = Opening(1481.0, 2.0, 1.0, 1.5)
BURNED = NM_PER_INCH


def twice(*names: str) -> list[Reading]:
    """The usual readings, some of them taken once more."""
    wanted = usual_readings()
    return [*wanted, *(replace(e, id=f"{e.id}'") for e in wanted if e.id in names)]


def off(readings: tuple[Reading, ...], errors: dict[str, int]) -> tuple[Reading, ...]:
    for n, one in enumerate(readings):
        if one.id in errors:
            readings = mistaken(readings, n, errors[one.id])
    return readings


def taken_out(shape: Shape) -> set[str]:
    return {one.observation.id for one in shape.removed}


def test_a_place_burned_twice_is_suspected_and_no_good_reading_is_blamed() -> None:
    readings = off(perfect(USUAL, twice("w0", "w1", "w2")), {"w2": BURNED, "w2'": BURNED})

    shape = shape_adjust(readings)

    assert (shape.state, shape.removed) == (UNDECIDED, ())
    assert shape.suspected[0].readings == ("w2", "w2'")
    assert shape.suspected[0].share > 0.99
    assert shape.suspected[0].mistake is not None
    assert shape.suspected[0].mistake.kind == "burned inch"


def test_a_place_in_doubt_is_read_again_before_anything_else() -> None:
    readings = off(perfect(USUAL, twice("w0", "w1", "w2")), {"w2": BURNED, "w2'": BURNED})

    advice = reading_advised(shape_adjust(readings), (0, TOP_NM))

    assert (advice.need.quantity, advice.need.height, advice.again) == ("width", "72 in", True)
    assert advice.needed


def test_a_third_reading_of_the_place_settles_it() -> None:
    readings = off(perfect(USUAL, twice("w0", "w1", "w2")), {"w2": BURNED, "w2'": BURNED})
    third = perfect(USUAL, [reading("third", "width", height=TOP_NM)])

    shape = shape_adjust((*readings, *third))

    assert shape.state == CORRECTED
    assert taken_out(shape) == {"w2", "w2'"}
    width = shape.width_at(TOP_NM)
    assert width is not None
    assert width.low_nm == pytest.approx(third[0].value.nm, abs=NM_PER_MM)


def test_of_three_at_one_place_two_that_agree_outvote_the_third_where_nothing_else_tells() -> None:
    wanted = [reading(name, "width", height=0) for name in ("a", "b", "c")]

    shape = shape_adjust(mistaken(perfect(USUAL, wanted), 1, BURNED))

    assert (shape.state, taken_out(shape)) == (CORRECTED, {"b"})


def test_two_mistakes_that_no_other_two_explain_are_taken_out() -> None:
    doubled = twice("w0", "w1", "w2", "ll", "lr", "sl", "dl", "dr")

    shape = shape_adjust(off(perfect(USUAL, doubled), {"w0": BURNED, "dr'": -2 * BURNED}))

    assert (shape.state, taken_out(shape)) == (CORRECTED, {"w0", "dr'"})


def test_of_three_mistakes_none_is_blamed() -> None:
    doubled = twice("w0", "w1", "w2", "ll", "lr", "sl", "dl", "dr")
    errors = {"w0": BURNED, "dr'": -2 * BURNED, "w2": 3 * BURNED}
    readings = off(perfect(USUAL, doubled), errors)
    assert len(shape_adjust(readings, rules=4).removed) == 3

    shape = shape_adjust(readings)

    assert (shape.state, shape.removed) == (UNDECIDED, ())
    assert {one for each in shape.suspected for one in each.readings} == set(errors)


def some(seed: int, count: int, *names: str) -> list[tuple[random.Random, tuple[Reading, ...]]]:
    made = []
    for n in range(count):
        chance = random.Random(f"{seed}:{n}")
        made.append((chance, as_read(drawn(chance, 1.0), twice(*names), chance)))
    return made


def sized(chance: random.Random) -> int:
    return chance.choice((-1, 1)) * chance.randint(4, 32) * NM_PER_INCH // 16


def test_a_shared_mistake_blames_no_good_reading() -> None:
    found: Counter[str] = Counter()
    for chance, readings in some(1, 120, "w0", "w1", "w2"):
        name, size = chance.choice(("w0", "w1", "w2")), sized(chance)
        wrong = {name, f"{name}'"}
        made = off(readings, dict.fromkeys(wrong, size))
        shape, before = shape_adjust(made), shape_adjust(made, rules=4)
        found["caught"] += shape.state != AGREE
        found["blames"] += bool(taken_out(shape) - wrong)
        found["blamed before"] += bool(taken_out(before) - wrong)
        found["named"] += bool(shape.suspected) and set(shape.suspected[0].readings) <= wrong

    assert found["blamed before"] > 20, found
    assert found["blames"] == 0, found
    assert found["caught"] >= 110, found
    assert found["named"] >= 105, found


def test_two_mistakes_hardly_ever_blame_a_good_reading() -> None:
    blamed: Counter[int] = Counter()
    for chance, readings in some(2, 150):
        wrong = chance.sample([one.id for one in readings], 2)
        made = off(readings, {one: sized(chance) for one in wrong})
        for rules in (4, 5):
            blamed[rules] += bool(taken_out(shape_adjust(made, rules=rules)) - set(wrong))

    assert blamed[4] > 20, blamed
    assert blamed[5] <= 5, blamed
