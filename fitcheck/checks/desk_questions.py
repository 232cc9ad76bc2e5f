"""How does any answer stand on a page? State, cautions, findings worst first, lists as tables."""

from collections.abc import Mapping
from typing import Any

from django.utils.html import format_html_join
from django.utils.safestring import mark_safe

from contractor.api.desk import Banner, Show, Table
from contractor.api.desk_values import shown
from fitcheck.checks.desk import FINDING_HEADS, finding_row
from fitcheck.checks.pictures import answer_pictures
from fitcheck.checks.question import Answer, Question
from fitcheck.checks.shapes import STATES
from fitcheck.checks.told import (
    Told,
    called,
    in_short,
    said,
    taken_apart,
    worst_first,
)

BELOW = mark_safe("<br>")


def told_in_tables(question: Question) -> frozenset[str]:
    """Name the members of an answer, none of which the page need repeat as a plain fact."""
    return frozenset(question.tells().fields)


def answer_show(question: Question, asked: Any, told: Answer) -> Show:
    """Show one answer to what was asked."""
    apart = taken_apart(told)
    tables = [*_facts(apart), *_cautions(told), *_findings(told), *_groups(apart), *_lists(apart)]
    pictures = answer_pictures(question.address, asked, told)
    return Show(_banners(told), pictures, [*tables, *_source(told)])


def _banners(told: Answer) -> list[Banner]:
    state, says = told.get("state"), in_short(told)
    if state is None:
        return [Banner("unknown" if told.get("chance", "") is None else "", says)] if says else []
    return [Banner(state if state in dict(STATES) else "", says or dict(STATES).get(state, ""))]


def _cautions(told: Answer) -> list[Table]:
    rows = [(one,) for one in told.get("cautions", [])]
    return [Table("Cautions", ("Mind this",), rows)] if rows else []


def _findings(told: Answer) -> list[Table]:
    rows = [finding_row(one) for one in worst_first(told)]
    return [Table("Findings", FINDING_HEADS, rows)] if rows else []


def _facts(apart: Told) -> list[Table]:
    rows = [(what, _cell(what, value)) for what, value in apart.facts]
    return [Table("Answer", ("What", "Says"), rows)] if rows else []


def _groups(apart: Told) -> list[Table]:
    return [
        Table(name, ("What", "Says"), [(what, _cell(what, value)) for what, value in rows])
        for name, rows in apart.groups
    ]


def _lists(apart: Told) -> list[Table]:
    return [
        Table(
            name,
            [called(one) if one else "" for one in heads],
            [[_cell(head, one) for head, one in zip(heads, row, strict=True)] for row in rows],
        )
        for name, heads, rows in apart.lists
    ]


def _source(told: Answer) -> list[Table]:
    rows = [(said(told["source"]),)] if told.get("source") else []
    return [Table("Source", ("By",), rows)] if rows else []


def _cell(name: str, value: Any) -> Any:
    """Plain texts with their links and signs; a list of things one below the other; else words."""
    if isinstance(value, list) and value and isinstance(value[0], Mapping):
        return format_html_join(BELOW, "{}", ((said(one),) for one in value))
    if isinstance(value, Mapping | list):
        return said(value)
    if value is None:
        return ""
    is_sheet = name == "kit" and ":" in str(value)
    return shown(value, {"Says": "state"}.get(name, "sheet" if is_sheet else name.lower()))
