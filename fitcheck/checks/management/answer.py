"""How does the answer to a question look in a terminal? As facts and plain tables."""

from collections.abc import Mapping
from typing import Any

from fitcheck.checks.management.table import Page
from fitcheck.checks.told import called, in_short, said, taken_apart, worst_first

FINDING = ("Says", "Question", "Where", "Read", "Limit", "What to do")


def answer_page(title: str, answer: Mapping[str, Any], width: int) -> str:
    """Lay an answer out: what it says, its facts and lists, what speaks against it, what to mind.

    Args:
        title: the question in words.
        answer: the answer as plain JSON.
        width: the window's width [characters].
    """
    page, told = Page(width), taken_apart(answer)
    says = ": ".join(filter(None, (str(answer.get("state") or "").upper(), in_short(answer))))
    page.text(f"{title} {says}".strip())
    page.table("Answer", ("What", "Says"), [(name, said(one)) for name, one in told.facts])
    page.table("Findings", FINDING, [_finding(one) for one in worst_first(answer)])
    for name, facts in told.groups:
        page.table(name, ("What", "Says"), [(what, said(one)) for what, one in facts])
    for name, heads, rows in told.lists:
        cells = [tuple(said(one) for one in row) for row in rows]
        page.table(name, tuple(called(head) for head in heads), cells)
    page.listing("Cautions", answer.get("cautions", []))
    if answer.get("source"):
        page.listing("Source", [said(answer["source"])])
    return "\n".join(page.lines)


def _finding(one: Mapping[str, Any]) -> tuple[str, ...]:
    sense = {"least": "at least ", "most": "at most "}.get(one["sense"], "")
    limit = f"{sense}{said(one['limit'])}" if isinstance(one["limit"], Mapping) else one["limit"]
    return (one["state"], one["question"], one["place"], said(one["reading"]), limit, one["do"])
