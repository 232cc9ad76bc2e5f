"""NIST Handbook 44, section 5.52, metal tapes: tolerances as quoted on a page that was read.

The rows name whole feet; a length between two rows takes the wider tolerance.
"""

import pytest

from fitcheck.rules.length import length_parse
from fitcheck.rules.uncertainty import tape_error_handbook_44


@pytest.mark.parametrize(
    ("length", "tolerance"),
    [
        ("3 ft", "1/32 in"),
        ("6 ft", "1/32 in"),
        ("6 ft 1/64 in", "1/16 in"),
        ("30 ft", "1/16 in"),
        ("31 ft", "1/8 in"),
        ("55 ft", "1/8 in"),
        ("80 ft", "3/16 in"),
        ("100 ft", "1/4 in"),
    ],
)
def test_tolerance_in_excess_or_deficiency(length: str, tolerance: str) -> None:
    error = tape_error_handbook_44(length_parse(length).nm)

    assert error == length_parse(tolerance).nm / 1e6
