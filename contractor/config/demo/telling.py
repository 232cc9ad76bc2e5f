"""In which order is the story told? Each row is found by what it is, or made by its own service.

Every step is one transaction of a service, so a kill at any point leaves whole rows; the next run finds
them and goes on with the first that is missing.
"""

from collections.abc import Callable
from typing import Any

from contractor.config.demo.calendar import (
    calendar,
    day_off_tell,
    feed_tell,
    holidays_tell,
    plan_tell,
)
from contractor.config.demo.firm import (
    crew_tell,
    integration_tell,
    member_tell,
    name_of,
    tablet_tell,
)
from contractor.config.demo.goods import goods_tell
from contractor.config.demo.installs import install_tell
from contractor.config.demo.kept import Kept
from contractor.config.demo.messages import messages_tell, rule_tell
from contractor.config.demo.paper import papers_tell
from contractor.config.demo.progress import Progress
from contractor.config.demo.story import kits, story, today
from contractor.config.demo.vans import items_tell, vans_tell
from contractor.config.demo.work import (
    booking_tell,
    customer_tell,
    drawing_tell,
    job_tell,
    kit_tell,
    opening_tell,
    saw_plan_tell,
    site_tell,
    survey_tell,
)
from contractor.people.models import Member


class SomebodyElses(Exception):
    """The database holds people who are not of the story."""


def story_tell(*, kept: Kept, progress: Progress) -> dict[str, Any]:
    """Put the invented story into the database; returns its rows by the story's references.

    Raises:
        SomebodyElses: the database already serves another firm; nothing was written.
    """
    check_ours()
    rows: dict[str, Any] = {}
    first_day = kept.first_day(today())
    for one in progress.over("kits", kits()):
        kit_tell(one)
    _each(progress, "members", rows, lambda one: member_tell(one, kept))
    office: Member = rows["m-imke"]
    for year in progress.over("holidays", [first_day.year, first_day.year + 1]):
        holidays_tell(year)
    _each(progress, "crews", rows, lambda one: crew_tell(one, rows))
    for one in progress.over("days off", calendar()["days_off"]):
        day_off_tell(one, rows, office, first_day)
    _each(progress, "tablets", rows, lambda one: tablet_tell(one, rows, kept))
    for one in progress.over("calendars", calendar()["feeds"]):
        feed_tell(one, rows, kept)
    _each(progress, "integrations", rows, lambda one: integration_tell(one, kept))
    _each(progress, "customers", rows, lambda one: customer_tell(one, office))
    _each(progress, "sites", rows, lambda one: site_tell(one, rows, office))
    _each(progress, "jobs", rows, lambda one: job_tell(one, rows, office))
    _each(progress, "openings", rows, lambda one: opening_tell(one, rows, office))
    for opening, told, earlier in progress.over("surveys", _surveys()):
        survey_tell(told, rows[opening], earlier, first_day)
    rule_tell(office)
    _each(progress, "bookings", rows, lambda one: booking_tell(one, rows, office, first_day))
    for one in progress.over("visits", calendar()["visits"]):
        rows[one["ref"]] = booking_tell(one, rows, office, first_day)
    goods_tell(rows, first_day)
    plan_tell(rows, office, first_day)
    saw_plan_tell(office, first_day)
    drawing_tell(office)
    items_tell(office)
    vans_tell(rows, install_tell(rows, office, first_day), first_day)
    messages_tell(office, first_day)
    papers_tell(rows, office)
    return rows


def check_ours() -> None:
    """Refuse to mix invented rows into a database that a real firm works with."""
    ours = [name_of(one["ref"]) for one in story()["members"]]
    if Member.objects.exists() and not Member.objects.filter(login__in=ours).exists():
        raise SomebodyElses(
            "This database already holds another firm's members; the invented story stays out of it. "
            "Point DATABASE_URL (or DATA_DIR) at an empty one."
        )


def _each(
    progress: Progress, name: str, rows: dict[str, Any], tell: Callable[[dict[str, Any]], Any]
) -> None:
    for one in progress.over(name, story()[name]):
        rows[one["ref"]] = tell(one)


def _surveys() -> list[tuple[str, dict[str, Any], str]]:
    """Every survey with its opening and the survey that it replaces, in the order they were taken."""
    return [
        (opening["ref"], told, opening["surveys"][index - 1]["ref"] if index else "")
        for opening in story()["openings"]
        for index, told in enumerate(opening["surveys"])
    ]
