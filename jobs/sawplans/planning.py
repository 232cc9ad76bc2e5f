"""What does the whole plan say: every profile's bars, what it costs, what is proven?"""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from fitcheck.rules.length import length_parse
from fitcheck.rules.sawing import percent_text
from fitcheck.rules.tables_sawing import SECONDS
from jobs.sawplans.stock import profiles_of, question_of

Report = Callable[[int], None]
FROM, TO = 10, 90
NO_BAR = "no bar of this profile was named"


def plan_worked_out(asked: dict[str, Any], report: Report) -> dict[str, Any]:
    """Lay out every profile in turn, within the time that the rules allow for all of them together.

    Args:
        asked: parts, bars and saw, as frozen.
        report: is told the per cent done after each profile.
    """
    from fitcheck.rules.saw_order import answer

    profiles = profiles_of(asked["pieces"])
    seconds = max(1, SECONDS.value // len(profiles))
    found: list[dict[str, Any]] = []
    for number, profile in enumerate(profiles, 1):
        question = question_of(asked, profile, seconds)
        told: dict[str, Any] = answer(question) if question["stock"] else _no_bar(question)
        found.append({"profile": profile, **told})
        report(FROM + (TO - FROM) * number // len(profiles))
    return _together(found)


def _no_bar(question: dict[str, Any]) -> dict[str, Any]:
    """Tell of parts for which there is no bar, in the words of the rules."""
    from fitcheck.rules.saw_order import answer

    told: dict[str, Any] = answer({**question, "stock": [NOTHING_TO_SAW]})
    uncut = [{**one, "why": NO_BAR} for one in told["uncut"]]
    return {**told, "uncut": uncut}


NOTHING_TO_SAW = {"name": "none", "length": "1 mm", "count": 0}


def _together(found: list[dict[str, Any]]) -> dict[str, Any]:
    bars = [bar for one in found for bar in one["bars"]]
    whole = sum(length_parse(bar["length"]["mm"]).nm for bar in bars)
    lost = sum(length_parse(bar["lost"]).nm for bar in bars)
    money = {
        name: str(sum(Decimal(one[name]) for one in found)) for name in ("cost", "bound", "gap")
    }
    uncut = [one for told in found for one in told["uncut"]]
    return {
        "state": "fails" if uncut else "fits",
        "bar_count": len(bars),
        **money,
        "proven": all(one["proven"] for one in found),
        "waste_percent": percent_text(lost, whole),
        "uncut_count": sum(one["count"] for one in uncut),
        "profiles": found,
        "cautions": found[0]["cautions"],
    }
