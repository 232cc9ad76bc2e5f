"""NFPA 70 (NEC) 300.4(A)(1) and (D): 1 1/4 in from the face of a stud; the text was read.

Beyond that depth a screw may meet a cable or pipe that nobody had to protect with a plate.
"""

import pytest

from fitcheck.rules import tables
from fitcheck.rules.length import length_parse
from fitcheck.rules.screws import least_penetration_nm


def test_the_protected_depth_is_one_and_a_quarter_inch() -> None:
    assert tables.PROTECTED_ZONE.value == "1 1/4 in"
    assert tables.PROTECTED_ZONE.source.clause == "300.4(A)(1), (D)"


@pytest.mark.parametrize(("number", "within"), [(8, True), (10, True), (12, False), (14, False)])
def test_number_12_and_14_cannot_go_six_diameters_deep_and_stay_within_it(
    number: int, within: bool
) -> None:
    depth = length_parse(tables.PROTECTED_ZONE.value).nm

    assert (least_penetration_nm(number) <= depth) is within
