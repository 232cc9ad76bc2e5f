"""Which bars may a part be sawn from, and what is put to the rules for each profile?"""

from typing import Any

from contractor.api.problems import Problem

PIECE = ("job", "part", "length", "count")
BAR = ("name", "kind", "length", "cost", "count")


def stock_merged(
    bar_length: str | None, bar_cost: Any, stock: list[dict[str, Any]]
) -> list[dict[str, Any]]:
    """Put the form's one kind of bar before the listed ones.

    Raises:
        Problem: no bar at all was named.
    """
    bars = [dict(one) for one in stock]
    if bar_length:
        cost = {} if bar_cost is None else {"cost": f"{bar_cost:.2f}"}
        bars.insert(0, {"name": "bought", "kind": "new", "length": bar_length, **cost})
    if not bars:
        raise Problem(
            "no_stock",
            "No bar was named to saw from.",
            hint="Send `bar_length` for bars that can be bought, or list `stock`.",
            pointer="/bar_length",
        )
    return bars


def check_counted(stock: list[dict[str, Any]], profiles: list[str], shift: int) -> None:
    """Refuse a counted bar that does not say which profile it is, where there are several.

    Args:
        stock: bars as merged.
        profiles: the profiles of the parts.
        shift: how many bars stand before the listed ones.

    Raises:
        Problem: the bar could be counted twice.
    """
    for index, bar in enumerate(stock):
        counted = bar.get("kind") == "offcut" or bar.get("count") is not None
        if counted and not bar.get("profile") and len(profiles) > 1:
            raise Problem(
                "profile_missing",
                "An offcut or a counted bar exists once: say of which profile it is.",
                hint=f"Send `profile`: {', '.join(profiles[:6])}.",
                pointer=f"/stock/{index - shift}/profile",
            )


def profiles_of(pieces: list[dict[str, Any]]) -> list[str]:
    """Name the profiles of the parts, each once, in their order."""
    return list(dict.fromkeys(one["profile"] for one in pieces))


def question_of(asked: dict[str, Any], profile: str, seconds: int) -> dict[str, Any]:
    """Put one profile's parts and bars as the rules ask for them."""
    pieces = [_only(one, PIECE) for one in asked["pieces"] if one["profile"] == profile]
    stock = [_only(one, BAR) for one in asked["stock"] if one.get("profile", profile) == profile]
    return {"pieces": pieces, "stock": stock, "saw": asked["saw"], "seconds": seconds}


def whole_question(asked: dict[str, Any]) -> dict[str, Any]:
    """Put everything as one question, to have it read and refused before a worker is asked."""
    pieces = [_only(one, PIECE) for one in asked["pieces"]]
    return {
        "pieces": pieces,
        "stock": [_only(one, BAR) for one in asked["stock"]],
        "saw": asked["saw"],
    }


def _only(thing: dict[str, Any], names: tuple[str, ...]) -> dict[str, Any]:
    return {name: thing[name] for name in names if thing.get(name) is not None}
