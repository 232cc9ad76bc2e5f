"""How does a day look as booked and as proposed? Two strips, and each move in words."""

from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from fitcheck.drawings.week import svg_week
from jobs.plans.models import DayPlan

Shape = dict[str, Any]


def day_pictures(plan: DayPlan) -> list[tuple[str, str]]:
    """Draw the day as it was booked and, when anything would move, as it is proposed."""
    moved = {one["booking"]: one for one in plan.moves}
    found = [("As booked", _strip(plan, {}))]
    return [*found, ("As proposed", _strip(plan, moved))] if moved else found


def _strip(plan: DayPlan, moved: dict[str, Shape]) -> str:
    rows: dict[str, list[Shape]] = {van["crew"]: [] for van in plan.asked["crews"]}
    for visit in plan.asked["visits"]:
        own = moved.get(visit["booking"])
        start = datetime.fromisoformat(own["starts_after"] if own else visit["starts_at"])
        end = start + timedelta(minutes=visit["minutes"])
        rows.setdefault(own["crew_after"] if own else visit["crew"], []).append(
            {
                "start": _wall(start, visit["time_zone"]),
                "end": _wall(end, visit["time_zone"]),
                "label": f"{visit['booking']} {visit['visit'].replace('_', '-')}, {visit['job']}"
                + (", stays" if visit["fixed"] else ""),
            }
        )
    days = [plan.day.isoformat()]
    strips = [{"crew": crew, "visits": visits} for crew, visits in rows.items()]
    return svg_week(f"{plan.day:%A} {plan.day.isoformat()}", days, strips)


def move_words(one: Shape) -> tuple[str, str, str, str]:
    """Tell one move by the clock of its site."""
    crews = (
        one["crew_after"]
        if one["crew_before"] == one["crew_after"]
        else f"{one['crew_before']} → {one['crew_after']}"
    )
    zone = one["time_zone"]
    before = f"{_wall(datetime.fromisoformat(one['starts_before']), zone)[11:]}"
    after = f"{_wall(datetime.fromisoformat(one['starts_after']), zone)[11:]}"
    return one["booking"], crews, before, after


def _wall(moment: datetime, zone: str) -> str:
    local = moment.astimezone(ZoneInfo(zone)).replace(tzinfo=None)
    return local.isoformat(timespec="minutes")
