"""Which day is a moment at a site?"""

from datetime import date, datetime
from zoneinfo import ZoneInfo


def day_at(moment: datetime, zone_name: str) -> date:
    """Tell the day on the site's own calendar.

    Args:
        moment: a time with offset.
        zone_name: the site's IANA time zone.
    """
    return moment.astimezone(ZoneInfo(zone_name)).date()
