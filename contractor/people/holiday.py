"""Which public holidays has a region in a year? As the `holidays` library lists them, to be proposed."""

from datetime import date


class RegionUnknown(Exception):
    """The library knows no such region."""


def holidays_of(region: str, year: int) -> list[tuple[date, str]]:
    """List a region's public holidays in order.

    Source: the data of the `holidays` library, which changes from release to release; that is why
    the days are proposed and kept as rows of our own.

    Args:
        region: an ISO 3166-1 code, or with a subdivision of ISO 3166-2: `US`, `US-IL`, `CA-ON`.
        year: the year [-].

    Raises:
        RegionUnknown: the library has no such country or subdivision.
    """
    import holidays  # half a second and ten megabytes: only when somebody asks

    country, _, part = region.partition("-")
    try:
        found = holidays.country_holidays(
            country, subdiv=part or None, years=year, language="en_US"
        )
    except (NotImplementedError, KeyError, AttributeError) as error:
        raise RegionUnknown(region) from error
    return sorted(found.items())
