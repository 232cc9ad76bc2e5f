"""How do shape, chance, saw marks, loads, panes and sealing stand on a page? As tables in words."""

from collections.abc import Mapping
from typing import Any

from contractor.api.desk import Table
from contractor.api.desk_values import label, shown
from fitcheck.checks.desk_depth import chance_tables, more_table, reading_words

Members = Mapping[str, Any]
# What versions 2 and 3 of the rules add, told in tables.
DEEP = frozenset(
    {"shape", "shape_why", "chance", "saw", "rail", "loads", "panes", "sealing", "made_glass"}
)


def deep_tables(result: Members) -> list[Table]:
    """Write what later versions of the rules add as tables; a verdict of version 1 has none of them."""
    if "shape" not in result:
        return []
    return [
        *shape_tables(result["shape"], result["shape_why"]),
        *chance_tables(result["chance"]),
        _saw(result["saw"]),
        *_loads(result["rail"], result["loads"]),
        _panes(result["panes"]),
        *_sealing(result["sealing"]),
        *_made(result.get("made_glass")),
    ]


def _made(made: Members | None) -> list[Table]:
    """Write glass made to measure: each panel's edges and diagonals, then what to mind."""
    if made is None:
        return []
    heads = (
        "Panel",
        "Foot",
        "Right",
        "Head",
        "Left",
        "Rising diagonal",
        "Falling",
        "Handle",
        "Mass",
    )
    rows = [
        (
            one["name"],
            *(shown(one["edges"][edge]) for edge in ("foot", "right", "head", "left")),
            *map(shown, one["diagonals"]),
            one["handle"] or "",
            one["mass"],
        )
        for one in made["panels"]
    ]
    return [
        Table("Glass made to measure", heads, rows, f"Nothing is cut yet: {made['why']}"),
        Table("Before glass is ordered", ("Mind",), [(one,) for one in made["cautions"]]),
    ]


def shape_tables(shape: Members | None, why: str | None) -> list[Table]:
    """Write the adjusted opening: widths and properties, then what is suspected and what helps most."""
    if shape is None:
        return [Table("Shape of the opening", ("Why it is not told",), [(why,)])]
    rows = [
        (f"width at {one['height']}", shown(one["width"]), one["uncertainty"] or "")
        for one in shape["widths"]
    ]
    rows += [
        (label(one["name"]).lower(), shown(one["value"]), one.get("uncertainty") or "")
        for one in shape["shape"]
    ]
    tables = [
        Table(f"Shape of the opening: {shape['summary']}", ("What", "Adjusted", "Sure to"), rows)
    ]
    doubts = [*_taken_out(shape), *_suspected(shape)]
    if doubts:
        tables.append(Table("Readings in doubt", ("Reading", "Perhaps", "What to do"), doubts))
    return [*tables, *more_table(shape["one_more_reading"])]


def _taken_out(shape: Members) -> list[tuple[str, str, str]]:
    rows = shape.get("taken_out")
    if rows is None:
        rows = [one for one in shape["readings"] if one["state"] == "taken out"]
    return [
        (reading_words(one), (one["mistake"] or {}).get("words", ""), one["do"]) for one in rows
    ]


def _suspected(shape: Members) -> list[tuple[str, str, str]]:
    return [
        (
            f"{len(one['readings'])} reading(s), weight {one['share']}",
            (one["mistake"] or {}).get("words", "a mistake of any size"),
            "Read again.",
        )
        for one in shape["suspected"]
    ]


def _saw(rows: list[Members]) -> Table:
    heads = ("Part", "Mark foretold", "Kerf", "As fixed within", "How", "What to do")
    told = [
        (
            one["part"],
            one["mark"] or "",
            one["kerf"],
            one["agree_within"] or "",
            one["saw"] or "",
            one["do"],
        )
        for one in rows
    ]
    return Table("Saw marks foretold, none released", heads, told, "Nothing is sawn.")


def _loads(rail: Members | None, loads: list[Members]) -> list[Table]:
    heads = ("Where", "Bears", "Worst pull", "Worst shear", "Holds", "Used", "Why it is not told")
    tables = (
        [Table("What each fixing bears", heads, [_load(one) for one in loads])] if loads else []
    )
    if rail:
        row = (rail["span"], rail["reaction"]["lbf"], rail["moment"], shown(rail["sag"]))
        names = ("Span", "Worst end", "Worst moment", "Sag")
        tables.append(Table("Head rail, panels anywhere on it", names, [row]))
    return tables


def _load(one: Members) -> tuple[str, ...]:
    capacity = one["capacity"] or {}
    holds = "; ".join(
        f"{label(name).lower()} {capacity[name]['lbf']}"
        for name in ("withdrawal", "lateral", "shear", "tension")
        if name in capacity
    )
    where = f"{one['place']}, {one['surface'].replace('_', ' ')}, {one['height']}"
    pulls = "; ".join(f"{case['pull']['lbf']} ({case['case']})" for case in one["cases"])
    shears = "; ".join(case["shear"]["lbf"] for case in one["cases"])
    used = " by ".join(filter(None, (one.get("used"), holder(one.get("by")))))
    return where, one["bears"], pulls, shears, holds, used, one["why"] or ""


def holder(by: Members | None) -> str:
    """Name who says what a fixing holds: the document, its edition, clause or page."""
    if not by:
        return ""
    edition = by["edition"] if by["edition"] not in ("-", "as given") else ""
    return ", ".join(filter(None, (by["document"], edition, by.get("clause") or by.get("page"))))


def _panes(rows: list[Members]) -> Table:
    heads = ("Panel", "Handle", "Centre", "Not thinner than", "Mark to look for", "Lift")
    return Table("Panes", heads, [_pane(one) for one in rows])


def _pane(one: Members) -> tuple[Any, ...]:
    safety, centre = one["safety"], one["centre"]
    mark = f"{safety['look_for']}. {safety['refuse']}" if safety else one["why"] or ""
    middle = f"{centre['from_left']['inch']} from the left, {centre['up']['inch']} up"
    lift = f"{one['lift']['do']} (A screen: {one['lift']['posture']}.)"
    return one["name"], one["handle"] or "", middle, one["thickness_least"] or "", mark, lift


def _sealing(sealing: Members | None) -> list[Table]:
    if sealing is None:
        return []
    air = sealing["air"]
    rows = [("Cartridges", sealing["cartridges"] or "not known yet")]
    rows.append(("Content of one, waste", f"{sealing['cartridge']}, {sealing['waste_percent']} %"))
    if sealing["product"]:
        rows.append(("Product", sealing["product"]))
    if air:
        rows.append(("Told for air of", f"{air['celsius']} °C, {air['humidity']} %"))
    rows.append(("Cure", sealing["do"]))
    return [Table("Sealant", ("", ""), rows)]
