"""Which corners has an opening, when an order leaves them to the readings?"""

from collections.abc import Mapping
from typing import Any

from contractor.api.problems import Problem
from fitcheck.rules.length import LengthError, length_parse, mm_text

TRUSTED = ("agree", "corrected")
Told = Mapping[str, Any]


def order_filled(order: dict[str, Any], readings: list[Any] | None) -> dict[str, Any]:
    """Put the adjusted opening into an order that names none; `top` says up to which height.

    The corners are those that all readings together give at the sill and at the top of the panels,
    with the largest of their uncertainties. Nothing is told beyond the highest station read.

    Raises:
        Problem: the readings do not give the corners; what is missing is said.
    """
    if "opening" in order or not readings:
        return order
    top = _top(order)
    # Late: the adjustment's library is loaded by the first order that needs it.
    from fitcheck.rules.shape_report import answer

    told = answer({"readings": readings, "heights": ["0 mm", mm_text(top)]})
    return {**order, "opening": _corners(told, top)}


def _top(order: Told) -> int:
    try:
        return length_parse(order.get("top")).nm
    except LengthError as error:
        raise Problem(
            "top_needed",
            "An order without corners needs the height of the panels' top.",
            hint='Send `top` as a length over the sill, or `opening` with its corners: "75 in".',
            pointer="/order/top",
        ) from error


def _corners(told: Told, top: int) -> dict[str, Any]:
    named = {one["name"]: one for one in told["shape"]}
    foot, head = told["widths"]
    rows = [foot["width"], head["width"], named["lean_left"]["value"]]
    over = length_parse(told["over"]).nm
    if told["state"] not in TRUSTED or told["consistency"]["bow_fitted"] or None in rows:
        _refuse(f"{told['summary']} Widths, both leans and what checks them are needed.")
    if top > over:
        _refuse(f"Nothing was read above {mm_text(over)}, and the panels reach {mm_text(top)}.")
    wide, narrow = (_nm(one["width"]) for one in (foot, head))
    into = _nm(named["lean_left"]["value"]) * top // over
    level = named["out_of_level"]["value"]
    return {
        "left_foot": _place(0, 0),
        "right_foot": _place(wide, _nm(level) if level else 0),
        "right_head": _place(into + narrow, top),
        "left_head": _place(into, top),
        "uncertainty": max(
            (one["uncertainty"] for one in (foot, head, named["lean_left"])),
            key=lambda text: length_parse(text).nm,
        ),
    }


def _nm(value: Any) -> int:
    return length_parse(value).nm


def _place(right: int, up: int) -> dict[str, str]:
    return {"right": mm_text(right), "up": mm_text(up)}


def _refuse(detail: str) -> None:
    raise Problem(
        "corners_not_known",
        detail,
        status=409,
        hint="Read what is missing, or send `opening` with its corners in the order.",
        pointer="/order/opening",
    )
