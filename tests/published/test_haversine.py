"""Is a great circle as long as the published example says?

Source: Rosetta Code, task "Haversine formula" (GNU FDL), read in a stored copy of its page: from
Nashville (36.12, -86.67) to Los Angeles (33.94, -118.40) the radius 6371.0 km gives
2886.44444283798329974715782394574671655 km, and 6372.8 km gives 2887.25995060711033944886005029688505340 km.
"""

import math

import pytest

from jobs.bookings import travel
from jobs.bookings.travel import Place, great_circle_km

NASHVILLE, LOS_ANGELES = Place(36.12, -86.67), Place(33.94, -118.40)
TOLERANCE_KM = 1e-9  # rounding of double precision


@pytest.mark.parametrize(
    ("radius", "kilometres"), [(6371.0, 2886.444442837983), (6372.8, 2887.259950607110)]
)
def test_nashville_to_los_angeles(
    radius: float, kilometres: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(travel, "EARTH_KM", radius)
    assert great_circle_km(NASHVILLE, LOS_ANGELES) == pytest.approx(kilometres, abs=TOLERANCE_KM)
    assert great_circle_km(LOS_ANGELES, NASHVILLE) == pytest.approx(kilometres, abs=TOLERANCE_KM)


def test_from_the_equator_to_the_pole_is_a_quarter_of_the_circle() -> None:
    """Hand calculation: half pi times the radius; to the other side of the world, pi times it."""
    quarter = math.pi / 2 * travel.EARTH_KM
    assert great_circle_km(Place(0, 17), Place(90, 0)) == pytest.approx(quarter)
    assert great_circle_km(Place(0, 0), Place(0, 180)) == pytest.approx(2 * quarter)
    assert great_circle_km(NASHVILLE, NASHVILLE) == 0
