"""How is an install told: its stops as a list, and what is next in one sentence?"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import timezone

from fitcheck.rules.site_time import moment_text
from jobs.installs.models import Install, Kind
from jobs.installs.order import Standing, first_open
from jobs.installs.stand import still_open


def stops_told(walked: Sequence[Standing]) -> list[dict[str, Any]]:
    """Each stop with what it asks for and where it stands."""
    return [
        {
            **one.stop,
            "state": "open" if one.state == "incomplete" else one.state,
            "by": one.fact.by if one.fact else "",
            "at": one.fact.at if one.fact else None,
            "fact": one.fact.key if one.fact else "",
            "do": [] if one.state in {"done", "skipped"} else one.wants,
            "out_of_order": [fact.key for fact in one.out_of_order],
        }
        for one in walked
    ]


def what_next(install: Install, walked: Sequence[Standing]) -> str:
    """Say in one sentence what the crew, or the customer, does next."""
    wanting = still_open(list(walked))
    if wanting is not None:
        held = "held; " if wanting.state == "held" else ""
        return f"Next: {wanting.stop['title']} – {held}{' '.join(wanting.wants)}"
    if install.finished_at is None:
        return "Every stop is settled: say that the work is finished."
    wanting = first_open(walked)
    handover = f" Then: {wanting.stop['title'].lower()}." if wanting else ""
    return f"{_dry(install)}{handover}"


def _dry(install: Install) -> str:
    if install.earliest_use is None:
        return str(install.cure.get("do") or "Ask the maker of the sealant when it may be used.")
    if install.cured_at is not None or install.earliest_use <= timezone.now():
        return "Dry: it may be used."
    return f"Keep it dry until {site_time(install, install.earliest_use)}."


def site_time(install: Install, moment: datetime) -> str:
    """A moment by the clock on site, in words."""
    return moment_text(moment.astimezone(ZoneInfo(install.booking.job.site.time_zone)))


def short_time(install: Install, moment: datetime) -> str:
    """A moment by the clock on site, for a column: Sun 29 Nov, 7:08 am."""
    wall = moment.astimezone(ZoneInfo(install.booking.job.site.time_zone))
    half = "am" if wall.hour < 12 else "pm"
    return f"{wall:%a} {wall.day} {wall:%b}, {wall.hour % 12 or 12}:{wall:%M} {half}"


def said_kind(kind: str) -> str:
    """A record's kind in words."""
    return str(Kind(kind).label)
