"""Is the quick look at an opening the whole adjustment, where nothing is suspected?"""

import random
import subprocess
import sys
from dataclasses import replace

import pytest

from fitcheck.rules.adjustment import shape_adjust
from fitcheck.rules.length import NM_PER_INCH, NM_PER_MM, Length, length_parse
from fitcheck.rules.shape_glance import shape_glance
from fitcheck.rules.shape_report import described
from fitcheck.rules.survey import Reading
from fitcheck.rules.uncertainty import reading_uncertainty
from tests.fitcheck.rules.simulated_openings import TOP_NM, drawn, reading, usual_readings

HEIGHTS = (0, TOP_NM // 2, TOP_NM, TOP_NM + 2 * NM_PER_INCH)
MICROMETRE_MM = 0.0011


def read(chance: random.Random, plan: list[Reading], error: float = 1.0) -> tuple[Reading, ...]:
    """Readings of one invented opening, each off by a drawn share of its own uncertainty."""
    opening = drawn(chance)
    told = []
    for each in plan:
        off = chance.gauss(0, error * reading_uncertainty(each))
        nm = round((opening.truth(each) + off) * NM_PER_MM)
        told.append(replace(each, value=Length(nm, f"{nm / NM_PER_MM:.6f} mm")))
    return tuple(told)


def some_of(chance: random.Random) -> list[Reading]:
    plan = [*usual_readings(), reading("cl", "ceiling_height", "left")]
    plan += [reading("c2", "ceiling_height", "left"), reading("w3", "width", height=TOP_NM // 2)]
    kept = [each for each in plan[1:] if chance.random() < 0.8]
    return [plan[0], *kept]


@pytest.mark.parametrize("seed", range(40))
def test_it_tells_what_the_whole_adjustment_tells(seed: int) -> None:
    chance = random.Random(seed)
    readings = read(chance, some_of(chance))
    whole, glance = shape_adjust(readings), shape_glance(readings, HEIGHTS)

    if glance is None:  # a closer look is asked for: the sum of squares, a bow, a barely told lean
        return
    assert whole.state == ("agree" if glance.freedom else "unchecked")
    assert glance.freedom == whole.solved.fit.freedom
    assert glance.chi_square == pytest.approx(whole.chi_square, abs=1e-5)
    for height, told in zip(HEIGHTS, glance.widths, strict=True):
        known = whole.width_at(height)
        assert (told is None) == (known is None), height
        if told and known:
            assert told.value == pytest.approx(known.low_nm / NM_PER_MM, abs=MICROMETRE_MM)
            assert told.u == pytest.approx(known.u_mm, abs=1e-5)
    for one in described(whole):
        told = glance.properties[one.name]
        if one.value:  # the whole adjustment may leave untold what hangs on a level nobody read
            assert told, one.name
            assert told.value == pytest.approx(one.value.low_nm / NM_PER_MM, abs=MICROMETRE_MM)
            assert told.u == pytest.approx(one.value.u_mm, abs=1e-5)


def test_most_clean_surveys_need_no_closer_look() -> None:
    chance = random.Random(11)
    looks = [shape_glance(read(chance, usual_readings()), HEIGHTS) for _ in range(60)]

    assert sum(look is not None for look in looks) > 50


@pytest.mark.parametrize("seed", range(25))
def test_it_passes_no_survey_that_the_whole_adjustment_would_not(seed: int) -> None:
    chance = random.Random(1000 + seed)
    readings = list(read(chance, usual_readings()))
    n = chance.randrange(len(readings))
    off = Length(readings[n].value.nm + chance.choice((1, -1)) * NM_PER_INCH // 2, "wrong")
    readings[n] = replace(readings[n], value=off)
    whole = shape_adjust(tuple(readings))

    if whole.state in ("corrected", "undecided"):
        assert shape_glance(readings, HEIGHTS) is None


def test_a_perfect_survey_is_left_as_it_was_read() -> None:
    readings = read(random.Random(5), usual_readings(), error=0.0)
    glance = shape_glance(readings, HEIGHTS[:3])

    assert glance
    assert glance.chi_square == pytest.approx(0, abs=1e-6)
    for told, each in zip(glance.widths, readings[:3], strict=True):
        assert told
        assert told.value == pytest.approx(each.value.nm / NM_PER_MM, abs=1e-4)


def test_no_width_no_glance() -> None:
    assert shape_glance([reading("ll", "lean", "left")], HEIGHTS) is None


def test_a_clean_survey_loads_no_arrays() -> None:
    script = (
        "import json, sys; from fitcheck.check import check; "
        "check(json.load(open('tests/fitcheck/data/inputs_bypass.json'))); "
        "print('numpy' in sys.modules)"
    )
    told = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )

    assert told.stdout.strip() == "False"


def test_what_leads_to_no_shape_wants_a_closer_look() -> None:
    far_off = [
        replace(one, value=length_parse(value))
        for one, value in (
            (reading("w", "width", height=TOP_NM), "36 in"),
            (reading("l", "sill_level"), "24 in"),
            (reading("d", "diagonal", "left", TOP_NM), "94 in"),
        )
    ]

    assert shape_glance(far_off, (0,), 4) is not None
    assert shape_glance(far_off, (0,)) is None
