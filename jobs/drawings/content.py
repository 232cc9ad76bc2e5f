"""What does a drawing show? Worked out from what was frozen when it was asked for."""

from collections.abc import Mapping
from typing import Any
from zoneinfo import ZoneInfo

from fitcheck.drawings.elevation import elevation
from fitcheck.drawings.made import made_handles
from fitcheck.drawings.model import Drawing as Sheet
from fitcheck.drawings.order import Order, Release, order_of
from fitcheck.drawings.order_front import order_front
from fitcheck.drawings.pane import pane_drawing
from fitcheck.rules.length import NM_PER_INCH, LengthError, length_parse
from jobs.drawings.age import verdict_drawn
from jobs.drawings.models import Drawing, What
from jobs.verdicts.pictures import inputs_of


def sheets_of(drawing: Drawing, *, true: bool = False) -> list[Sheet]:
    """Draw everything that the file holds, in its order; `true` with leans at their size."""
    if drawing.what == What.ELEVATION:
        verdict = drawing.verdict
        if verdict is None:
            raise ValueError("an elevation is drawn from a verdict")
        return [elevation(inputs_of(verdict), verdict.result, true=true)]
    verdict = verdict_drawn(drawing)
    handles = made_handles(verdict.result) if verdict else {}
    order, release = order_of(drawing.order, handles), release_of(drawing)
    unit = unit_of(drawing.order)
    panes = [pane_drawing(order, i, release, unit) for i in range(len(order.panes))]
    return [order_front(order, release, unit), *panes]


def names_of(drawing: Drawing) -> list[str]:
    """Name the sheets without drawing them."""
    if drawing.what == What.ELEVATION:
        return ["elevation"]
    panels = drawing.order.get("panels") or []
    return ["front", *(f"panel-{i + 1}" for i in range(len(panels)))]


def release_of(drawing: Drawing) -> Release:
    """Tell who asked and who signed, as the drawing itself says it, on the site's own clock."""
    signed = ""
    if drawing.signed_at is not None:
        zone = drawing.opening.job.site.time_zone
        signed = f"{drawing.signed_at.astimezone(ZoneInfo(zone)):%Y-%m-%d %H:%M} {zone}"
    return Release(
        drawing.number, drawing.asked_by, drawing.signed_by, signed, drawing.opening.number
    )


def unit_of(order: Mapping[str, Any]) -> str:
    """Tell which unit comes first: inches where the glass is named in whole parts of an inch."""
    try:
        thickness = length_parse(order.get("thickness"))
    except LengthError:
        return "inch"
    return "inch" if thickness.nm % (NM_PER_INCH // 32) == 0 else "mm"


def order_read(order: Mapping[str, Any]) -> Order:
    """Work an order out, to learn whether it makes sense and what the rules say of it.

    Raises:
        InputErrors: it does not; one entry per mistake.
    """
    return order_of(order)
