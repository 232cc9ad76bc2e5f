"""How does a saw plan stand on the desk? What is proven, each bar drawn, then the lists."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from django.conf import settings
from django.urls import reverse
from django.utils import timezone

from contractor.api.desk import Banner, Picture, Show, Table
from contractor.api.desk_values import shown
from fitcheck.drawings.bars import svg_bars
from fitcheck.rules.length import computed, length_parse
from jobs.sawplans.models import State

WATCHED = timedelta(minutes=5)
MOST_PICTURES = 60


def bars_of(result: Mapping[str, Any] | None) -> list[dict[str, Any]]:
    """Number the bars of all profiles in the order in which they are sawn."""
    found = [
        {**bar, "profile": profile["profile"]}
        for profile in (result or {}).get("profiles", [])
        for bar in profile["bars"]
    ]
    return [{**bar, "number": number} for number, bar in enumerate(found, 1)]


def plan_show(row: Mapping[str, Any]) -> Show:
    """Show one plan; the page asks again by itself until it is done or failed."""
    result = row["result"]
    if result is None:
        told = f"{row['stage']}, {row['percent']} %. {row['trouble']}"
        age = timezone.now() - datetime.fromisoformat(row["asked_at"])
        waits = row["state"] != State.FAILED and age < WATCHED
        return Show([Banner(row["state"], told)], tables=[_pieces(row)], refresh=waits)
    tables = [*_uncut(result), _pieces(row), *_left_out(row), _rack(result), _cautions(result)]
    return Show([Banner(result["state"], _proof(result))], _pictures(row), tables)


def _proof(result: Mapping[str, Any]) -> str:
    bars = f"{result['bar_count']} bar{'' if result['bar_count'] == 1 else 's'}"
    told = f"{bars}, cost {result['cost']}, {result['waste_percent']} lost."
    if result["uncut_count"]:
        told += f" {result['uncut_count']} parts have no bar: order more or longer stock."
    if result["proven"]:
        return f"{told} Proven: no plan is cheaper."
    return f"{told} Not proven: at most {result['gap']} could be saved by a better plan."


def _pictures(row: Mapping[str, Any]) -> list[Picture]:
    address = reverse("saw-plan-bars", args=[row["id"]])
    return [
        Picture(
            f"Bar {bar['number']}: {bar['profile']}",
            svg_bars([bar]),
            f"{address}?bar={bar['number']}",
        )
        for bar in bars_of(row["result"])[:MOST_PICTURES]
    ]


def _pieces(row: Mapping[str, Any]) -> Table:
    heads = ("Job", "Opening", "Part", "Profile", "Count", "Length", "Where it comes from")
    rows = [
        [
            shown(one["job"]),
            shown(one["opening"]) if one["opening"] else "",
            *(one["part"], one["profile"], one["count"], _both(one["length"])),
            one["because"],
        ]
        for one in row["pieces"]
    ]
    return Table("Parts to saw", heads, rows)


def _both(length: str) -> Any:
    return shown(computed(length_parse(length).nm, "down", settings.INCH_MARK))


def _left_out(row: Mapping[str, Any]) -> list[Table]:
    rows = [
        (shown(one["job"]), shown(one["opening"]), one["part"], one["why"])
        for one in row["left_out"]
    ]
    return [Table("Not sawn yet", ("Job", "Opening", "Part", "Why"), rows)] if rows else []


def _uncut(result: Mapping[str, Any]) -> list[Table]:
    rows = [
        (one["job"], one["part"], one["count"], shown(one["length"]), one["why"])
        for profile in result["profiles"]
        for one in profile["uncut"]
    ]
    heads = ("Job", "Part", "Count", "Length", "Why")
    return [Table("No bar for these", heads, rows)] if rows else []


def _rack(result: Mapping[str, Any]) -> Table:
    rows = [
        (bar["number"], bar["profile"], shown(bar["rest"]))
        for bar in bars_of(result)
        if bar["offcut_kept"]
    ]
    return Table("Offcuts for the rack", ("From bar", "Profile", "Length"), rows, "None.")


def _cautions(result: Mapping[str, Any]) -> Table:
    return Table("Cautions", ("Mind this",), [(one,) for one in result["cautions"]])
