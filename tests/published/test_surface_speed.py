"""Speed at the rim of a drill bit: arithmetic, rpm = 12 v / (pi d), and no standard behind it.

30 ft/min for a wet diamond bit is from memory; only the arithmetic is tested here.
"""

import pytest

from fitcheck.rules.drilling import rim_speed_rpm


@pytest.mark.parametrize(("diameter", "rpm"), [(0.25, 458), (0.3125, 367)])
def test_thirty_feet_a_minute(diameter: float, rpm: int) -> None:
    assert round(rim_speed_rpm(30, diameter)) == rpm
