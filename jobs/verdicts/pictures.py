"""Which drawings belong to a verdict, in the order in which somebody reads them?"""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from fitcheck.drawings.cutbars import svg_cut_bars
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.facts import unit_of
from fitcheck.drawings.handing import svg_handing
from fitcheck.drawings.hole_map import surfaces_drilled, svg_hole_map
from fitcheck.drawings.made import made_names, made_pictures
from fitcheck.drawings.margins import svg_margins
from fitcheck.drawings.measures import word
from fitcheck.drawings.order import Release
from fitcheck.drawings.plan import svg_plan
from fitcheck.drawings.section import svg_section
from fitcheck.drawings.way_in import STRAIGHT, panels_carried, svg_way_in
from fitcheck.rules.way_in_told import way_told
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
        "way-in": ("How the tightest panel gets in", partial(_way_in, verdict)),
    }


def _way_in(verdict: Verdict) -> str:
    """Draw the panel that is the tightest in every place of the site's way in, packed all round."""
    mark = int((verdict.inputs.get("house") or {}).get("mark") or 16)
    way = way_told(verdict.opening.job.site.way_in())
    places = [told.as_json() for told in way.places]
    panels: list[Mapping[str, Any]] = verdict.result.get("panels") or [NO_PANEL]
    panel, steps = panels_carried(panels, places, mark)[0]
    return svg_way_in(panel, steps, way.asks or (STRAIGHT,))
