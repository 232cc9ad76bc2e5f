"""Is this a moment that anybody can mean? Years far away break every clock's arithmetic."""

from datetime import datetime

FIRST_YEAR, LAST_YEAR = 1900, 2200


def of_our_age(moment: datetime) -> bool:
    """Tell whether a moment lies in years in which every time zone can print it."""
    return FIRST_YEAR <= moment.year <= LAST_YEAR
