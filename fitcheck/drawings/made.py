"""Which pictures has the glass made to measure of a verdict, and what is the order that is drawn?"""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from fitcheck.drawings.order import Order, Release, order_of
from fitcheck.drawings.order_front import svg_order_front
from fitcheck.drawings.pane import svg_pane
from fitcheck.rules.pane_taken import one_pane
from fitcheck.rules.panel_order import order_panes

Json = Mapping[str, Any]
MOST_PANELS = 12


def made_order(verdict_json: Json) -> dict[str, Any] | None:
    """Return the order of a verdict's glass; None when it cuts none, or none that is one pane."""
    order: dict[str, Any] | None = (verdict_json.get("made_glass") or {}).get("order")
    if order is None or not all(map(one_pane, order_panes(order)[1])):
        return None
    return order


def made_handles(verdict_json: Json) -> dict[str, str]:
    """Return the side of the handle holes of each panel of a verdict's glass that has some."""
    panels = (verdict_json.get("made_glass") or {}).get("panels") or []
    return {one["name"]: one["handle"] for one in panels if one["handle"] in ("left", "right")}


def made_pictures(
    verdict_json: Json, unit: str, release: Release
) -> dict[str, tuple[str, Callable[[], str]]]:
    """Name each picture of a verdict's glass with its title and how it is drawn; none is drawn yet."""
    asked = made_order(verdict_json)
    if asked is None:
        return {}
    found: list[Order] = []

    def order() -> Order:
        if not found:
            found.append(order_of(asked, made_handles(verdict_json)))
        return found[0]

    def panel(index: int) -> str:
        return svg_pane(order(), index, release, unit)

    front = ("The panels in their opening", lambda: svg_order_front(order(), release, unit))
    each = {
        f"glass-{i + 1}": (f"Panel {one['name']}, made to measure", partial(panel, i))
        for i, one in enumerate(asked["panels"])
    }
    return {"glass": front, **each}


def made_names() -> tuple[str, ...]:
    """Return the name of every picture that a verdict's glass may have."""
    return ("glass", *(f"glass-{n}" for n in range(1, MOST_PANELS + 1)))
