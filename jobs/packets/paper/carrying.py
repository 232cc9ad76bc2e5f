"""How do the panels get in: the tightest place of each, and the picture of the one that is tightest?"""

from collections.abc import Mapping, Sequence
from typing import Any

from fitcheck.drawings.way_in import Step, panels_carried, svg_way_in, tightest
from jobs.packets.paper.phrases import Json, word, words
from jobs.packets.paper.words import say


def carrying_page(data: Json) -> dict[str, Any] | None:
    """Say of every panel which place is its tightest, and draw the worst; None without places or panels."""
    way = (data.get("site") or {}).get("way") or []
    verdicts = [o.get("verdict") or {} for o in data.get("openings") or []]
    panels = [p for v in verdicts for p in v.get("panels") or []]
    if not way or not panels:
        return None
    named = [{**place, "name": word(place["name"])} for place in way]
    rows = panels_carried(panels, named)
    return {"picture": svg_way_in(*rows[0]), "panels": [_row(*row) for row in rows]}


def _row(panel: Mapping[str, Any], steps: Sequence[Step]) -> dict[str, Any]:
    """Say how one panel passes its tightest place, as far as places are told."""
    tight = tightest(steps)
    size = " × ".join(str(panel[name]) for name in ("width", "height") if panel.get(name))
    row = {"panel": word(panel.get("name") or ""), "size": size, "fails": False}
    if tight is None:
        return row | {"place": None, "says": say("not known: the way in is to be measured")}
    passage = tight.passage or {}
    if tight.state == "fails":
        short = {k: str(v).lstrip("-") for k, v in passage["margin"].items() if k in ("mm", "inch")}
        says = say("does not get in: short by {length}", length=words(short))
        return row | {"place": tight.name, "says": says, "fails": True}
    says = say(
        "{length} to spare, {pose}", length=words(passage["margin"]), pose=word(passage["pose"])
    )
    return row | {"place": tight.name, "says": says}
