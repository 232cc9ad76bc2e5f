"""Which day is a moment at a site, and how is it told there?"""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from fitcheck.rules.site_time import moment_text


def day_at(moment: datetime, zone_name: str) -> date:
    """Tell the day on the site's own calendar.

    Args:
        moment: a time with offset.
        zone_name: the site's IANA time zone.
    """
    return moment.astimezone(ZoneInfo(zone_name)).date()


def told_at(moment: datetime, zone_name: str) -> str:
    """Tell a moment in words by the clock at the site: 9:15 am on Sunday 8 March 2026 (EDT).

    Args:
        moment: a time with offset.
        zone_name: the site's IANA time zone.
    """
    return moment_text(moment.astimezone(ZoneInfo(zone_name)))
