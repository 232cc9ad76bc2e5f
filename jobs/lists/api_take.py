"""What does each row of a list do, and which are bad? Every row is tried, each by itself.

A dry run does just what taking over does, by the same services, and takes it all back: it knows of
double bookings within the file and of verdicts that stand against a visit.
"""

from dataclasses import dataclass, field
from typing import Any

from django.db import IntegrityError, transaction
from rest_framework.exceptions import APIException

from contractor.api.callers import Caller
from contractor.api.handler import told_of
from contractor.api.problems import ANY_HINT, HINTS, Problem
from jobs.lists.api_rows import CHANGED, LISTS, NEW, SAME
from jobs.lists.table import Row, Table, table_read

CELL_SHOWN = 80
FOR_PROGRAMS = (ANY_HINT, HINTS["invalid"], HINTS["invalid_choice"])
CAMEL = {
    "streetAddress": "street_address",
    "extendedAddress": "extended_address",
    "addressLocality": "address_locality",
    "addressRegion": "address_region",
    "postalCode": "postal_code",
    "addressCountry": "address_country",
}


@dataclass(slots=True)
class Outcome:
    """How many rows are new, changed, the same or bad, and each mistake at its row and column."""

    counts: dict[str, int] = field(default_factory=lambda: {NEW: 0, CHANGED: 0, SAME: 0, "bad": 0})
    problems: list[dict[str, Any]] = field(default_factory=list)


def list_table(kind: str, content: bytes) -> Table:
    """Read a file into rows; refuses a file that is no list of this kind."""
    lines = LISTS[kind]
    return table_read(content, lines.columns, lines.needed)


def rows_take(*, by: Caller, kind: str, table: Table, dry: bool, only_good: bool) -> Outcome:
    """Take rows over; call it inside a transaction.

    Args:
        by: in whose name.
        kind: which list.
        table: its rows.
        dry: write nothing.
        only_good: write the good rows even if some are bad; else all or none.
    """
    outcome = Outcome()
    seen: dict[Any, int] = {}
    with transaction.atomic():
        for row in table.rows:
            _take_one(by, kind, row, outcome, seen)
        if dry or (outcome.problems and not only_good):
            transaction.set_rollback(True)
    return outcome


def _take_one(by: Caller, kind: str, row: Row, outcome: Outcome, seen: dict[Any, int]) -> None:
    try:
        with transaction.atomic():
            _check_spare(row)
            what, made = LISTS[kind].take(by, row.cells)
            if made.pk in seen:
                text = f"Row {seen[made.pk]} speaks of the same."
                raise Problem("row_twice", text, hint="Leave one of the two out.", pointer="")
    except (APIException, IntegrityError) as error:
        outcome.counts["bad"] += 1
        outcome.problems += [_problem(kind, row, one) for one in told_of(error)]
    else:
        seen[made.pk] = row.number
        outcome.counts[what] += 1


def _check_spare(row: Row) -> None:
    if "" in row.cells:
        raise Problem(
            "cell_without_column",
            f"The cell {row.cells['']!r} stands beyond the last column.",
            hint="Put texts with the file's delimiter into quotes.",
            pointer="",
        )


def _problem(kind: str, row: Row, told: dict[str, str]) -> dict[str, Any]:
    parts = [one for one in told["pointer"].split("/") if one]
    column = CAMEL.get(parts[-1], parts[-1]) if parts else ""
    if column not in row.cells:  # a mistake deep inside a cell, such as in a sheet
        column = next((one for one in parts if one in row.cells), "")
    return {
        "row": row.number,
        "column": column,
        "value": row.cells.get(column, "")[:CELL_SHOWN],
        "code": told["code"],
        "detail": told["detail"],
        "hint": _instead(kind, column, told["hint"]),
    }


def _instead(kind: str, column: str, hint: str) -> str:
    """Say what to write; where the usual hint speaks to programs, what the column takes."""
    says = LISTS[kind].says.get(column, "")
    return f"Write {says}." if says and hint in FOR_PROGRAMS else hint
