"""How much of what each fixing holds is used, and who says what it holds?"""

from typing import Any

from jobs.packets.paper.phrases import Json, source_of
from jobs.packets.paper.words import say


def with_loads(verdict: Json) -> list[dict[str, Any]]:
    """Return the fastener schedule, each row with the share that is used and by whose word, where told."""
    loads = {
        _place(one): {"used": one.get("used"), "by": one.get("by")}
        for one in verdict.get("loads") or []
    }
    return [{**one, "load": loads.get(_place(one))} for one in verdict.get("fixings") or []]


def share_used(fixing: Json) -> str:
    """Return the share that is used of what the fixing holds, or nothing where that is not told."""
    used = (fixing.get("load") or {}).get("used")
    return say("{share} of what it holds", share=used) if used else ""


def held_by(fixing: Json) -> str:
    """Return who says what the fixing holds, or nothing where no share is told."""
    load = fixing.get("load") or {}
    return source_of({"source": load.get("by")}) if load.get("used") else ""


def _place(one: Json) -> tuple[Any, Any, Any]:
    return one.get("place"), one.get("surface"), one.get("height")
