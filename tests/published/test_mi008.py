"""Directive 2014/32/EU annex X (MI-008), chapter I, as enacted in UK SI 2016/1153 schedule 1I,
paragraph 2: the text was read. The error is a + bL, L rounded up to the next whole metre.
"""

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.uncertainty import tape_error_mi008


@pytest.mark.parametrize(
    ("length", "class_1", "class_2", "class_3", "class_2_hooked"),
    [
        ("1 m", 0.2, 0.5, 1.0, 0.7),
        ("1524 mm", 0.3, 0.7, 1.4, 0.9),
        ("2 m", 0.3, 0.7, 1.4, 0.9),
        ("3 m", 0.4, 0.9, 1.8, 1.1),
        ("5 m", 0.6, 1.3, 2.6, 1.5),
    ],
)
def test_maximum_permissible_errors(
    length: str, class_1: float, class_2: float, class_3: float, class_2_hooked: float
) -> None:
    nm = length_parse(length).nm

    assert tape_error_mi008("I", nm, hook=False) == pytest.approx(class_1)
    assert tape_error_mi008("II", nm, hook=False) == pytest.approx(class_2)
    assert tape_error_mi008("III", nm, hook=False) == pytest.approx(class_3)
    assert tape_error_mi008("II", nm, hook=True) == pytest.approx(class_2_hooked)


def test_a_hair_over_two_metres_counts_as_three() -> None:
    assert tape_error_mi008("II", length_parse("2 m").nm + 1, hook=False) == pytest.approx(0.9)
