"""How does what was worked out at length stand on a page: readings judged, chance, least change?"""

from collections.abc import Mapping
from typing import Any

from contractor.api.desk import Table
from contractor.api.desk_values import label, shown

Members = Mapping[str, Any]


def depth_tables(depth: Members) -> list[Table]:
    """Write what was worked out at length: every reading judged, the chance drawn, the least change."""
    shape = depth["shape"]
    tables = chance_tables(depth["chance"], "Chance with what the readings share")
    if shape:
        heads = ("Reading", "Says", "Residual", "Checked by others", "Could hide")
        rows = [
            (
                reading_words(one),
                one["state"],
                one.get("residual") or one.get("off") or "",
                one.get("redundancy") or "",
                one.get("least_detectable") or "",
            )
            for one in shape["readings"]
        ]
        tables.append(Table("Every reading judged by the others", heads, rows))
        tables += more_table(shape["one_more_reading"])
    return [*tables, *_change(depth["least_change"])]


def _change(change: Members | None) -> list[Table]:
    if change is None:
        return []
    places: dict[tuple[str, str], list[str]] = {}
    for one in change["changes"]:
        places.setdefault((one["do"], label(one["kind"]).lower()), []).append(one["place"])
    rows = [("; ".join(dict.fromkeys(where)), how, do) for (do, how), where in places.items()]
    tables = [Table("What would make it fit", ("Where", "How", "What to do"), rows)]
    if change["packing"]:
        tables.append(Table("Packing", ("What to do",), [(change["packing"]["do"],)]))
    sizes = [
        (one["size"], shown(one["state"], "state"), shown(one["least_margin"] or ""))
        for one in change["other_sizes"]
    ]
    if sizes:
        tables.append(Table("Other sizes of this kit", ("Size", "Says", "Least margin"), sizes))
    return tables


def chance_tables(chance: Members, title: str = "Chance that every limit is kept") -> list[Table]:
    """Write how likely it is that every limit is truly kept, and what weakens that most."""
    rows = [("At least, whatever goes together", chance["at_least"])]
    if chance.get("chance"):
        rows.append(("Drawn with what the readings share", chance["chance"]))
    rows.append(("At most, by the weakest limit", chance["at_most"]))
    if chance["weakest"]:
        weakest = chance["weakest"]
        rows.append(("Weakest limit", f"{weakest['rule']}, {weakest['place']}"))
    if chance["unknown"]:
        rows.append(("Not known", f"{chance['unknown']} findings or fixings"))
    return [Table(title, ("What", "Chance"), rows)]


def reading_words(one: Members) -> str:
    """Name a reading: `width at 36 in`."""
    side = "" if one["side"] == "none" else f" {one['side']}"
    at = f" at {one['height']}" if one["height"] else ""
    return f"{one['quantity'].replace('_', ' ')}{side}{at}"


def more_table(more: Members | None) -> list[Table]:
    """Write which one more reading helps most, and why."""
    if not more:
        return []
    name, heads = "The one more reading that helps most", ("Take this reading", "Why")
    return [Table(name, heads, [(more["do"], more["why"])])]
