"""Which drawings belong to a verdict, in the order in which somebody reads them?"""

from collections.abc import Callable
from functools import partial
from typing import Any

from fitcheck.drawings.cutbars import svg_cut_bars
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.handing import svg_handing
from fitcheck.drawings.hole_map import surfaces_drilled, svg_hole_map
from fitcheck.drawings.margins import svg_margins
from fitcheck.drawings.measures import word
from fitcheck.drawings.plan import svg_plan
from fitcheck.drawings.section import svg_section
from jobs.verdicts.models import Verdict

Drawn = Callable[[], str]
NAMES = (
    "elevation",
    "margins",
    "plan",
    "section",
    "holes-left",
    "holes-right",
    "holes-sill",
    "handing",
    "cuts",
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
        "cuts": ("Cuts on their stock", partial(svg_cut_bars, result)),
    }
