"""What does a job ask of the crew that is sent? Hands, qualifications, a rack, and what is against it."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from contractor.people.models import Qualification
from fitcheck.rules.cautions import lead_suspected
from fitcheck.rules.quantity import mass_parse
from jobs.bookings.doors import goods_of
from jobs.bookings.models import Visit
from jobs.bookings.way_in import way_in_against
from jobs.jobs.models import Job
from jobs.jobs.models import State as JobState
from jobs.openings.models import Opening
from jobs.verdicts.many import verdicts_outdated, verdicts_standing
from jobs.verdicts.models import State, Verdict

ALWAYS_TWO = 2
STONE, STEEL = "natural_stone", "steel_stud"


@dataclass(frozen=True, slots=True)
class Standing:
    """What the verdicts, the house and the goods of a job say together.

    `against` can be answered for by name, `blocked` cannot.
    """

    hands: int = 1
    against: list[dict[str, str]] = field(default_factory=list)
    qualifications: dict[str, str] = field(default_factory=dict)
    mass_ug: int = 0
    blocked: tuple[str, ...] = ()


def standing_of(job: Job, visit: str) -> Standing:
    """Ask every opening of the job, its house, way in and goods; only an install needs any of it."""
    if visit != Visit.INSTALL:
        return Standing()
    openings = list(job.openings.filter(dropped_why="").select_related("kit", "job__site"))
    standing = verdicts_standing(openings=openings)
    verdicts = [standing[one.pk] for one in openings if one.pk in standing]
    gone = verdicts_outdated(verdicts=verdicts)
    found = [_against(one, standing.get(one.pk), is_old=one.pk in gone) for one in openings]
    against = [why for why in found if why]
    if not openings:
        text = "The job has no opening yet."
        against.append({"opening": "", "state": State.UNKNOWN.value, "says": text})
    goods = goods_of(job)
    # A kit that is decided on and not ordered cannot be here; before that its verdict is what is asked.
    not_ordered = not goods.expected and job.state == JobState.DECIDED
    if not_ordered or (goods.expected and not goods.received and not goods.damaged):
        against.append({"opening": "", "state": "goods_not_received", "says": goods.why})
    judged = [(one, standing[one.pk]) for one in openings if one.pk in standing]
    against += way_in_against(job.site, judged)
    return Standing(
        hands=max([ALWAYS_TWO, *(verdict.result["hands_needed"] for verdict in verdicts)]),
        against=against,
        qualifications=qualifications_of(
            [zone for verdict in verdicts for zone in verdict.inputs["zones"]],
            job.site.year_built,
        ),
        mass_ug=sum(_mass_ug(verdict) for verdict in verdicts),
        blocked=goods.damaged,
    )


def qualifications_of(zones: Iterable[dict[str, Any]], year_built: int | None) -> dict[str, str]:
    """Tell which qualifications the walls and the house ask for, each with what asks for it.

    An unknown finish, structure or year asks for nothing here: the verdict says that it is unknown.

    Args:
        zones: build-ups of the walls as surveyed.
        year_built: the year of the house [-]; 40 CFR 745 takes housing before 1978.
    """
    found: dict[str, str] = {}
    for zone in zones:
        where = str(zone.get("surface", "")).replace("_", " ")
        if zone.get("finish") == STONE:
            found.setdefault(Qualification.STONE.value, f"natural stone on the {where}")
        if zone.get("structure") == STEEL:
            found.setdefault(Qualification.STEEL_STUD.value, f"steel studs behind the {where}")
    if year_built is not None and lead_suspected(year_built):
        found[Qualification.OLD_HOUSE.value] = f"a house built in {year_built}"
    return found


def _mass_ug(verdict: Verdict) -> int:
    """Add up the panels of one opening [ug]; a panel whose mass is not known adds nothing."""
    total = 0
    for panel in verdict.result.get("panels", []):
        try:
            total += mass_parse(panel.get("mass"))
        except ValueError:
            continue
    return total


def _against(opening: Opening, verdict: Verdict | None, *, is_old: bool) -> dict[str, str] | None:
    if verdict is None:
        text = "No verdict yet: survey it, or ask for a verdict with its kit."
        return {"opening": opening.number, "state": State.UNKNOWN.value, "says": text}
    if is_old:
        text = "Surveyed again, or described otherwise, since the verdict: ask for it anew."
        return {"opening": opening.number, "state": State.UNKNOWN.value, "says": text}
    if verdict.state != State.FITS:
        return {
            "opening": opening.number,
            "state": verdict.state,
            "says": verdict.result["summary"],
        }
    return None
