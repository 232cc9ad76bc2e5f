"""40 CFR 745, subpart E (lead), read: target housing is housing built before 1978; 745.83 leaves minor
repairs out, to 6 ft2 of painted surface in a room and 20 ft2 outside, with no demolition of it.
"""

import math

import pytest

from fitcheck.rules.cautions import cautions, lead_suspected
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import Opening, Survey, house_read
from fitcheck.rules.tables_hazards import LEAD_MINOR_REPAIR


@pytest.mark.parametrize(("year", "suspected"), [(1940, True), (1977, True), (1978, False)])
def test_a_house_of_1978_is_no_longer_target_housing(year: int, suspected: bool) -> None:
    assert lead_suspected(year) is suspected


def test_745_83_beyond_6_square_feet_in_a_room_or_20_outside_it_is_a_certified_renovators_work() -> (
    None
):
    survey = Survey(Opening("alcove", "curb", "left", 1977), (), ())
    told = {one.code: one.text for one in cautions(survey, house_read(Strict({})))}

    assert "More than 6 ft2 of paint disturbed in a room, or 20 ft2 outside" in told["lead"]
    assert "demolition of a painted surface" in told["lead"]


def test_745_83_twelve_holes_of_5_16_in_are_0_0064_square_feet_computed() -> None:
    holes = 12 * math.pi * (5 / 16) ** 2 / 4 / 144

    assert holes == pytest.approx(0.0064, abs=5e-5)
    assert holes < LEAD_MINOR_REPAIR.value["room"]
