"""Which drawings go with an answer? Those of the panels, of the way in, of the limits."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from contractor.api.desk import Picture
from fitcheck.drawings.margins import svg_margins

Body = Mapping[str, Any]


def answer_pictures(address: str, asked: Body, told: Body) -> list[Picture]:
    """Draw what was asked and answered; nothing here is kept, so no picture has an address."""
    drawn = {"panels": _panels, "carrying": _way_in}.get(address)
    pictures = drawn(asked, told) if drawn else []
    if told.get("findings"):
        pictures.append(Picture("How near each limit is", svg_margins(told)))
    return pictures


def _panels(asked: Body, told: Body) -> list[Picture]:
    """Each panel with every dimension, as a draft that nobody has signed; none that is no one pane."""
    if any(panel["net_area"] is None for panel in told["panels"]):
        return []
    from fitcheck.drawings.order import Release, order_of
    from fitcheck.drawings.order_front import svg_order_front
    from fitcheck.drawings.pane import svg_pane

    order, nobody = order_of(asked), Release()
    front = Picture("The panels in their opening", svg_order_front(order, nobody))
    return [front] + [
        Picture(f"Panel {pane.name}", svg_pane(order, index, nobody))
        for index, pane in enumerate(order.panes)
    ]


def _way_in(asked: Body, told: Body) -> list[Picture]:
    """Each place with what the answer says of it, which goes by the room that was asked for."""
    from fitcheck.drawings.way_in import steps_of, svg_way_in

    found = steps_of(asked["panel"], asked.get("way") or [])
    steps = [replace(step, passage=one) for step, one in zip(found, told["way"], strict=True)]
    return [Picture("The way in", svg_way_in(asked["panel"], steps))] if steps else []
