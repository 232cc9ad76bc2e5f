"""How long does a van take from one place to another? As the crow flies, unless a provider knows better.

`TRAVEL_PROVIDER` names a function by its dotted path; it is given all legs of a question at once and
answers whole minutes for each, so that one that asks a routing service asks it once.
"""

import logging
import math
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import NamedTuple

from django.conf import settings
from django.utils.module_loading import import_string

from contractor.customers.models import Site

log = logging.getLogger(__name__)
# Mean radius of the WGS 84 ellipsoid, (2a + b) / 3 [km].
EARTH_KM = 6371.0088


class Place(NamedTuple):
    """Latitude and longitude in decimal degrees."""

    latitude: float
    longitude: float


Leg = tuple[Place, Place]


def site_place(site: Site) -> Place | None:
    """Tell where a site is; None when nobody has told it."""
    return place_of(site.latitude, site.longitude)


def place_of(latitude: Decimal | None, longitude: Decimal | None) -> Place | None:
    """Make a place of two columns; None when nobody has told it."""
    if latitude is None or longitude is None:
        return None
    return Place(float(latitude), float(longitude))


def great_circle_km(one: Place, other: Place) -> float:
    """Measure the great circle between two places by the haversine formula.

    Returns:
        The distance on a sphere of the Earth's mean radius [km].
    """
    lat1, lon1, lat2, lon2 = (math.radians(degrees) for degrees in (*one, *other))
    half = (
        math.sin((lat2 - lat1) / 2) ** 2
        + math.cos(lat1) * math.cos(lat2) * math.sin((lon2 - lon1) / 2) ** 2
    )
    return 2 * EARTH_KM * math.asin(math.sqrt(min(1.0, half)))


def great_circle_minutes(legs: Sequence[Leg]) -> list[int]:
    """Reckon each leg by its great circle and `TRAVEL_SPEED_KMH`, rounded up to a minute."""
    speed = float(settings.TRAVEL_SPEED_KMH)
    return [math.ceil(great_circle_km(*leg) / speed * 60) for leg in legs]


class Travel:
    """The legs of one question, asked of the provider once; places nobody has told cost nothing."""

    def __init__(self) -> None:
        self._known: dict[Leg, int] = {}

    def learn(self, legs: Iterable[tuple[Place | None, Place | None]]) -> "Travel":
        """Ask for all legs that are not known yet."""
        wanted = {(a, b) for a, b in legs if a and b and a != b} - self._known.keys()
        if wanted:
            ordered = sorted(wanted)
            self._known.update(zip(ordered, _asked(ordered), strict=True))
        return self

    def minutes(self, one: Place | None, other: Place | None) -> int:
        """Tell one leg [min]; 0 when a place is not known or both are the same."""
        return self._known[one, other] if one and other and one != other else 0


def _asked(legs: list[Leg]) -> list[int]:
    """Ask the provider; one that does not answer must not keep the office from booking."""
    try:
        found: list[int] = import_string(settings.TRAVEL_PROVIDER)(legs)
        if len(found) == len(legs):
            return found
        log.warning("The travel provider answered %s of %s legs.", len(found), len(legs))
    except Exception as error:
        log.warning("The travel provider does not answer (%s); reckoned as the crow flies.", error)
    return great_circle_minutes(legs)
