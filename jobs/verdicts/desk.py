"""How does a verdict stand on the desk? Its pictures first, then its findings in words."""

from collections.abc import Mapping
from typing import Any

from django.urls import reverse

from contractor.api.desk import Banner, Picture, Show, Table
from contractor.api.desk_values import shown
from fitcheck.drawings.cutbars import svg_cut_bars
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.margins import svg_margins
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_outdated

SENSES = {"least": "at least ", "most": "at most ", "one_of": "one of: ", "equal": "equal to "}
WORST_FIRST = ("fails", "unknown", "tight", "fits")


def verdict_show(verdict: Verdict, *, is_own_page: bool = False) -> Show:
    """Everything that a page says about one verdict."""
    link = {} if is_own_page else {"url": _page(verdict), "link": "The verdict's page"}
    said = verdict.result["summary"]
    banners = [Banner(verdict.state, f"{verdict.sheet.key}: {said}", **link)]
    if verdict_outdated(verdict=verdict):
        text = "The opening was surveyed again, or described otherwise, since: ask for it anew."
        banners.append(Banner("unknown", text))
    return Show(banners, verdict_pictures(verdict), verdict_tables(verdict.result))


def inputs_of(verdict: Verdict) -> dict[str, Any]:
    """The kept inputs with the sheet's body put back where its digest stands."""
    return {**verdict.inputs, "sheet": verdict.sheet.body}


def _page(verdict: Verdict) -> str:
    return reverse("verdict-detail", args=[verdict.pk])


def verdict_pictures(verdict: Verdict) -> list[Picture]:
    """Draw the opening, the margins and the cuts; each stands at its own address too."""
    result = verdict.result
    drawn = {
        "elevation": ("The opening from the front", svg_elevation(inputs_of(verdict), result)),
        "margins": ("How near each limit is", svg_margins(result)),
        "cuts": ("Cuts on their stock", svg_cut_bars(result)),
    }
    return [
        Picture(title, svg, reverse(f"verdict-{name}", args=[verdict.pk]))
        for name, (title, svg) in drawn.items()
    ]


def verdict_tables(result: Mapping[str, Any]) -> list[Table]:
    """Write what the rules said as tables: findings worst first, then what is still to read."""
    findings = sorted(result["findings"], key=lambda one: WORST_FIRST.index(one["state"]))
    heads = ("Says", "Question", "Where", "Read", "Limit", "Margin", "What to do", "Source")
    tables = [Table("Findings", heads, [_finding(one) for one in findings])]
    if result["missing"]:
        rows = [
            (one["quantity"].replace("_", " "), one["side"], one["height"] or "", one["why"])
            for one in result["missing"]
        ]
        tables.append(Table("Readings still to take", ("Reading", "Side", "Height", "Why"), rows))
    questions = [(one["about"], one["text"]) for one in result["questions"]]
    if questions:
        tables.append(Table("Questions, not guessed", ("About", "Question"), questions))
    cautions = [(one["where"], one["text"]) for one in result["cautions"]]
    tables.append(Table("Cautions", ("Where", "Caution"), cautions, "None from these rules."))
    return tables


def _finding(one: Mapping[str, Any]) -> list[Any]:
    return [
        shown(one["state"], "state"),
        one["question"],
        one["place"],
        shown(one["reading"]),
        shown_limit(one),
        shown(one["margin"]) if one["margin"] else "",
        one["do"],
        _source(one["source"]),
    ]


def shown_limit(one: Mapping[str, Any]) -> str:
    """Write a limit with its sense: `at most 5/16 in`."""
    limit = one["limit"]
    text = limit["inch"] if isinstance(limit, Mapping) else str(limit)
    return SENSES.get(one["sense"], "") + text


def _source(source: Mapping[str, Any]) -> str:
    page = f", page {source['page']}" if source.get("page") else ""
    clause = f", {source['clause']}" if source.get("clause") else ""
    return f"{source['document']}{clause}{page}"
