"""Which moment does a wall clock at the site mean? Gap hours are refused, fold hours asked."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from contractor.api.problems import Problem

EARLIER, LATER, NONE = "earlier", "later", "none"


def moment_of_wall_time(wall: datetime, zone_name: str, which: str, pointer: str) -> datetime:
    """Find the moment of a wall time at the site.

    Args:
        wall: the clock's reading, without an offset.
        zone_name: the site's IANA time zone.
        which: for an hour that comes twice, `earlier` or `later`.

    Raises:
        Problem: the clocks skip this hour, or it comes twice and `which` does not say.
    """
    zone = ZoneInfo(zone_name)
    first, second = wall.replace(tzinfo=zone), wall.replace(tzinfo=zone, fold=1)
    if first.utcoffset() == second.utcoffset():
        return first.astimezone(UTC)
    if not _exists(first):
        raise _skipped(wall, zone_name, pointer)
    if which == NONE:
        raise Problem(
            "time_comes_twice",
            f"On that night {wall:%H:%M} comes twice in {zone_name}: at {first:%z} and at {second:%z}.",
            hint="Send `fold`: `earlier` or `later`.",
            pointer=pointer,
        )
    return (first if which == EARLIER else second).astimezone(UTC)


def check_not_skipped(moment: datetime, zone_name: str, pointer: str) -> datetime:
    """Refuse a time whose offset is the site's own but whose hour the clocks skip.

    An offset of elsewhere names its moment without doubt and passes; so does UTC, even where the
    site's own clock has that offset in winter.

    Raises:
        Problem: no clock at the site ever shows this time.
    """
    wall = moment.replace(tzinfo=None)
    here = wall.replace(tzinfo=ZoneInfo(zone_name))
    sites = {here.utcoffset(), here.replace(fold=1).utcoffset()}
    own = moment.utcoffset() in sites and moment.utcoffset() != timedelta(0)
    if len(sites) == 2 and not _exists(here) and own:
        raise _skipped(wall, zone_name, pointer)
    return moment.astimezone(UTC)


def _exists(local: datetime) -> bool:
    back = local.astimezone(UTC).astimezone(local.tzinfo)
    return back.replace(tzinfo=None) == local.replace(tzinfo=None)


def _skipped(wall: datetime, zone_name: str, pointer: str) -> Problem:
    return Problem(
        "time_skipped",
        f"On {wall:%Y-%m-%d} the clocks in {zone_name} skip {wall:%H:%M}.",
        hint="Choose a time before or after the skipped hour.",
        pointer=pointer,
    )
