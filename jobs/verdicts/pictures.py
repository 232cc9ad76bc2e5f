"""Which drawings belong to a verdict, in the order in which somebody reads them?"""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from contractor.customers.models import Site
from fitcheck.drawings.cutbars import svg_cut_bars
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.facts import unit_of
from fitcheck.drawings.handing import svg_handing
from fitcheck.drawings.hole_map import surfaces_drilled, svg_hole_map
from fitcheck.drawings.made import made_names, made_pictures
from fitcheck.drawings.margins import svg_margins
from fitcheck.drawings.measures import length_mm, word
from fitcheck.drawings.order import Release
from fitcheck.drawings.plan import svg_plan
from fitcheck.drawings.section import svg_section
from fitcheck.drawings.way_in import steps_of, svg_way_in
from jobs.verdicts.models import Verdict

Drawn = Callable[[], str]
NO_PANEL: Mapping[str, Any] = {}
NAMES = (
    "elevation",
    "margins",
    "plan",
    "section",
    "holes-left",
    "holes-right",
    "holes-sill",
    "handing",
    *made_names(),
    "cuts",
    "way-in",
)


def inputs_of(verdict: Verdict) -> dict[str, Any]:
    """The kept inputs with the sheet's body put back where its digest stands."""
    return {**verdict.inputs, "sheet": verdict.sheet.body}


def drawings_of(verdict: Verdict) -> dict[str, tuple[str, Drawn]]:
    """Name each drawing of a verdict with its title and how it is drawn; none is drawn yet."""
    inputs, result = inputs_of(verdict), verdict.result
    drilled = surfaces_drilled(result)
    holes: dict[str, tuple[str, Drawn]] = {
        f"holes-{surface.removesuffix('_wall')}": (
            f"Holes in the {word(surface)}",
            partial(svg_hole_map, inputs, result, surface),
        )
        for surface in ("left_wall", "right_wall", "sill")
        if surface in drilled
    }
    return {
        "elevation": ("The opening from the front", partial(svg_elevation, inputs, result)),
        "margins": ("How near each limit is", partial(svg_margins, result)),
        "plan": ("The curb from above", partial(svg_plan, inputs, result)),
        "section": ("The opening from the side", partial(svg_section, inputs, result)),
        **holes,
        "handing": ("Panels and the side of their handles", partial(svg_handing, inputs, result)),
        **made_pictures(result, unit_of(inputs), Release(about=verdict.opening.number)),
        "cuts": ("Cuts on their stock", partial(svg_cut_bars, result)),
        "way-in": ("How the largest panel gets in", partial(_way_in, verdict)),
    }


def _way_in(verdict: Verdict) -> str:
    """Draw the largest panel in every place of the site's way in, as far as sizes were told."""
    panels: list[Mapping[str, Any]] = verdict.result.get("panels") or []
    largest = max(
        panels,
        key=lambda p: (length_mm(p["width"]) or 0) * (length_mm(p["height"]) or 0),
        default={},
    )
    mark = int((verdict.inputs.get("house") or {}).get("mark") or 16)
    return svg_way_in(largest, steps_of(largest, way_of(verdict.opening.job.site), mark))


def _area(panel: Mapping[str, Any]) -> float:
    return (length_mm(panel["width"]) or 0.0) * (length_mm(panel["height"]) or 0.0)


def way_of(site: Site) -> list[dict[str, str]]:
    """Tell the way in of a site as places; a size that the site does not hold stays out."""
    told = [
        {
            "kind": "doorway",
            "name": "door",
            "width": site.door_width,
            "height": site.door_height,
        },
        {
            "kind": "corner",
            "name": "corner of the corridor",
            "from": site.corridor_width,
            "to": site.corridor_width,
        },
        {"kind": "stair_turn", "name": "turn of the stair", "flight": site.stair_width},
        {
            "kind": "lift_car",
            "name": "lift car",
            "width": site.lift_width,
            "depth": site.lift_depth,
            "height": site.lift_height,
        },
    ]
    known = [{name: size for name, size in place.items() if size} for place in told]
    return [place for place in known if len(place) > 2]
