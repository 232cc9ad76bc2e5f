"""Do the panels of a job get in? What the way in of its site has against an install."""

from collections.abc import Iterable
from typing import Any

from contractor.customers.models import Site
from fitcheck.rules.way_in_told import PanelWay, Way, panels_in, way_told
from jobs.openings.models import Opening
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
