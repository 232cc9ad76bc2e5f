"""What time is it on site, whatever the clocks did in between?"""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
EARLIEST_YEAR = 1986
LATEST_YEAR = 2200


def zone_parse(name: str) -> ZoneInfo:
    """Return the time zone of a site.

    Source: IANA time zone database.

    Args:
        name: such as "America/New_York" [-].

    Returns:
        The zone [-].

    Raises:
        ValueError: no such zone.
    """
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError) as error:
        raise ValueError(f'{name} is no time zone; write "America/New_York"') from error


def moment_parse(text: str, zone: ZoneInfo) -> tuple[datetime, str | None]:
    """Read a moment: with its offset, or as the clock on site showed it.

    A clock time that came twice is taken as the second, so that nothing is called dry too
    early; one that was skipped was never shown by any clock.

    Source: RFC 5545, 3.3.5 knows both cases; taking the second is a house setting.

    Args:
        text: "2026-11-01T01:30" or with an offset [-].
        zone: the zone of the site [-].

    Returns:
        The moment, and a remark when the clock time came twice [-].

    Raises:
        ValueError: no moment, a skipped clock time, or a year outside 1986 to 2200.
    """
    moment = datetime.fromisoformat(text)
    if not EARLIEST_YEAR <= moment.year <= LATEST_YEAR:
        raise ValueError(f"years {EARLIEST_YEAR} to {LATEST_YEAR} are known")
    if moment.tzinfo is not None:
        return moment.astimezone(UTC), None
    first, second = (moment.replace(tzinfo=zone, fold=fold) for fold in (0, 1))
    if first.utcoffset() == second.utcoffset():
        return first.astimezone(UTC), None
    back = first.astimezone(UTC).astimezone(zone).replace(tzinfo=None)
    if back != moment:
        raise ValueError(f"{text} was skipped when the clocks went forward")
    return second.astimezone(UTC), f"{text} came twice; the second is meant."


def later(moment: datetime, span: timedelta) -> datetime:
    """Return a moment after a real span of time, whatever the clocks do.

    Args:
        moment: with its zone [-].
        span: time that passes [-].

    Returns:
        The moment in UTC [-].
    """
    return moment.astimezone(UTC) + span


def rounded_up(moment: datetime, zone: ZoneInfo, minutes: int) -> datetime:
    """Return the next moment at which the clock on site shows a whole step.

    Args:
        moment: with its zone [-].
        zone: the zone of the site [-].
        minutes: the step; it divides an hour [min].

    Returns:
        The moment on the site's clock, never earlier [-].
    """
    local = moment.astimezone(zone)
    past = timedelta(
        minutes=local.minute % minutes, seconds=local.second, microseconds=local.microsecond
    )
    wait = timedelta(minutes=minutes) - past if past else timedelta(0)
    return later(moment, wait).astimezone(zone)


def end_of_day(day: date, zone: ZoneInfo) -> datetime:
    """Return the midnight that ends a day on site.

    Args:
        day: the day [-].
        zone: the zone of the site [-].

    Returns:
        The first moment of the next day [-].
    """
    midnight = datetime.combine(day + timedelta(days=1), time(0), zone)
    return midnight.astimezone(UTC).astimezone(zone)


def day_text(day: date) -> str:
    """Print a day in words.

    Args:
        day: the day [-].

    Returns:
        A text such as "Thursday 5 March 2026" [-].
    """
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]} {day.year}"


def moment_text(moment: datetime) -> str:
    """Print a moment on site in words.

    Args:
        moment: with the zone of the site [-].

    Returns:
        A text such as "9:15 am on Sunday 8 March 2026 (EDT)" [-].
    """
    hour = moment.hour % 12 or 12
    half = "am" if moment.hour < 12 else "pm"
    return f"{hour}:{moment.minute:02d} {half} on {day_text(moment)} ({moment.tzname()})"


def clocks_moved(start: datetime, end: datetime, zone: ZoneInfo) -> timedelta:
    """Return how far the site's clocks were put forward between two moments.

    Args:
        start: the earlier moment [-].
        end: the later moment [-].
        zone: the zone of the site [-].

    Returns:
        More than zero for forward, less for back [-].
    """
    before, after = (m.astimezone(zone).utcoffset() or timedelta(0) for m in (start, end))
    return after - before
