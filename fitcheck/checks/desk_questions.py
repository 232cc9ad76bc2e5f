"""How does any answer stand on a page? State, cautions, findings worst first, lists as tables."""

from collections.abc import Mapping
from typing import Any

from rest_framework import serializers

from contractor.api.desk import Banner, Picture, Show, Table
from contractor.api.desk_values import label, shown
from fitcheck.checks.desk import FINDING_HEADS, WORST_FIRST, finding_row
from fitcheck.checks.question import Answer, Question
from fitcheck.checks.shapes import STATES
from fitcheck.drawings.margins import svg_margins

ALWAYS_TOLD = frozenset({"findings", "cautions", "state", "summary"})


def told_in_tables(question: Question) -> frozenset[str]:
    """Name the members of an answer that stand in tables and need not be repeated as facts."""
    lists = {
        name
        for name, field in question.tells().fields.items()
        if isinstance(field, serializers.ListSerializer)
    }
    return ALWAYS_TOLD | lists


def answer_show(question: Question, told: Answer) -> Show:
    """Show one answer."""
    pictures = []
    if told.get("findings"):
        pictures.append(Picture("How near each limit is", svg_margins(told)))
    return Show(
        _banners(told), pictures, [*_cautions(told), *_findings(told), *_lists(question, told)]
    )


def _banners(told: Answer) -> list[Banner]:
    state, said = told.get("state"), told.get("summary") or _first_to_do(told)
    if state is None:
        return []
    known = state in dict(STATES)
    return [Banner(state if known else "", said or dict(STATES).get(state, str(state)))]


def _first_to_do(told: Answer) -> str:
    """What the worst finding asks for."""
    findings = sorted(told.get("findings", []), key=_worst_first)
    return str(findings[0]["do"]) if findings else str(told.get("do") or "")


def _worst_first(finding: Mapping[str, Any]) -> int:
    return WORST_FIRST.index(finding["state"])


def _cautions(told: Answer) -> list[Table]:
    rows = [(one,) for one in told.get("cautions", [])]
    return [Table("Cautions", ("Mind this",), rows)] if rows else []


def _findings(told: Answer) -> list[Table]:
    rows = [finding_row(one) for one in sorted(told.get("findings", []), key=_worst_first)]
    return [Table("Findings", FINDING_HEADS, rows)] if rows else []


def _lists(question: Question, told: Answer) -> list[Table]:
    """Every other list of things as a table of the members that any of them fills."""
    tables = []
    for name in told:
        if name in ALWAYS_TOLD or name not in told_in_tables(question):
            continue
        heads, rows = columns(told[name])
        tables.append(Table(label(name), [label(one) for one in heads], rows, "None."))
    return tables


def columns(things: list[Mapping[str, Any]]) -> tuple[list[str], list[list[Any]]]:
    """Give the members that any thing fills, and what each thing says of them."""
    heads = [
        name
        for name in dict.fromkeys(key for one in things for key in one)
        if name != "source" and any(one.get(name) not in (None, "", [], {}) for one in things)
    ]
    return heads, [[_cell(one.get(name), name) for name in heads] for one in things]


def _cell(value: Any, name: str) -> Any:
    return "" if value in (None, "", [], {}) else shown(value, name)
