"""Do the panels of a job get in? What the way in of its site has against an install."""

from collections.abc import Iterable
from typing import Any

from contractor.customers.models import Site
from fitcheck.rules.finding import worst
from fitcheck.rules.way_in_panels import PanelWay, panels_in
from fitcheck.rules.way_in_told import Way, way_told
from jobs.jobs.models import Job
from jobs.openings.models import Opening
from jobs.verdicts.many import verdicts_standing
from jobs.verdicts.models import Verdict

TOO_TIGHT, UNKNOWN = "way_in_too_tight", "way_in_unknown"
Judged = Iterable[tuple[Opening, Verdict]]


def way_in_against(site: Site, judged: Judged) -> list[dict[str, str]]:
    """Tell which panels do not get in, and in one row what nobody has told of the way.

    Without panels nothing is asked: then the verdict itself is against the visit.

    Args:
        site: the site with its way in.
        judged: the openings with the verdicts that stand.
    """
    way = way_told(site.way_in())
    ways = [(opening, one) for opening, one in panels_of(way, judged)]
    rows = [
        {"opening": opening.number, "state": TOO_TIGHT, "says": one.says}
        for opening, one in ways
        if one.state == "fails"
    ]
    asks = [*way.asks, *(one.says for _, one in ways if one.is_unsized)]
    if ways and asks:
        says = f"The way in of {site.number}: {' '.join(asks)}"
        rows.append({"opening": "", "state": UNKNOWN, "says": says})
    return rows


def way_in_of(job: Job) -> dict[str, Any]:
    """Tell how every panel of a job gets in, by the verdicts that stand, and what is to be asked."""
    openings = list(job.openings.filter(dropped_why="").select_related("kit", "job__site"))
    standing = verdicts_standing(openings=openings)
    way = way_told(job.site.way_in())
    found = panels_of(way, [(one, standing[one.pk]) for one in openings if one.pk in standing])
    return {
        "job": job.number,
        "site": job.site.number,
        "state": worst(one.state for _, one in found),
        "asks": list(way.asks),
        "places": [{"name": one.name, "missing": list(one.missing)} for one in way.places],
        "panels": [{"opening": opening.number, **one.as_json()} for opening, one in found],
    }


def panels_of(way: Way, judged: Judged) -> list[tuple[Opening, PanelWay]]:
    """Hold every panel of every verdict against the way."""
    return [
        (opening, one)
        for opening, verdict in judged
        for one in panels_in(verdict.result.get("panels") or [], way, _mark(verdict))
    ]


def _mark(verdict: Verdict) -> int:
    house: Any = verdict.inputs.get("house") or {}
    return int(house.get("mark") or 16)
