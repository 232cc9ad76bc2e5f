"""Every constant of loads, panes and the saw names a document, a unit, a clause and a status."""

from pathlib import Path
from typing import get_args

import pytest

from fitcheck.rules import tables_agrees, tables_fixings, tables_hazards, tables_pane, tables_saw
from fitcheck.rules.sources import DOCUMENTS, Status
from fitcheck.rules.sources_structure import STRUCTURE_DOCUMENTS, structure_source
from fitcheck.rules.tables_structure import Sourced, trade

MODULES = (tables_agrees, tables_fixings, tables_hazards, tables_pane, tables_saw)
CONSTANTS = {
    name: value
    for module in MODULES
    for name, value in vars(module).items()
    if isinstance(value, Sourced)
}
RULES = Path(tables_pane.__file__).parent


@pytest.mark.parametrize("name", CONSTANTS)
def test_a_constant_resolves_in_the_sources(name: str) -> None:
    constant = CONSTANTS[name]

    titles = {**DOCUMENTS, **STRUCTURE_DOCUMENTS}
    assert constant.status in get_args(Status)
    assert constant.unit
    assert constant.source.clause
    assert constant.source.document == titles[constant.document].title
    assert constant.source.status == constant.status


@pytest.mark.parametrize("name", CONSTANTS)
def test_what_the_firm_or_the_trade_says_is_never_called_published(name: str) -> None:
    constant = CONSTANTS[name]

    allowed = {"house": "house setting", "trade": "common practice, no source"}
    if constant.document in allowed:
        assert constant.status == allowed[constant.document]
    else:
        assert constant.status in {"published", "from memory", "derived"}


def test_every_constant_is_used_by_a_rule_or_tested_against_its_source() -> None:
    rules = [p for p in RULES.glob("*.py") if not p.name.startswith("tables_")]
    published = (RULES.parents[1] / "tests" / "published").glob("*.py")
    text = "".join(path.read_text() for path in [*rules, *published])

    assert [name for name in CONSTANTS if name not in text] == []


def test_every_document_stands_behind_a_constant_or_a_rule() -> None:
    used = {constant.document for constant in CONSTANTS.values()}
    text = "".join(
        path.read_text() for path in RULES.glob("*.py") if not path.name.startswith("sources")
    )

    assert [key for key in STRUCTURE_DOCUMENTS if key not in used and f'"{key}"' not in text] == []


def test_no_document_has_two_meanings() -> None:
    assert set(DOCUMENTS) & set(STRUCTURE_DOCUMENTS) == set()


def test_a_source_names_document_edition_clause_and_status() -> None:
    found = structure_source("s100", "published", "J4")

    assert found.as_json() == {
        "document": "AISI S100, Cold-formed steel structural members",
        "edition": "2016",
        "clause": "J4",
        "status": "published",
    }
    assert structure_source("nds", "published").document.startswith("National Design")


def test_a_habit_of_the_trade_is_told_as_one() -> None:
    habit = trade(3, "mm")

    assert (habit.value, habit.unit, habit.document) == (3, "mm", "trade")
    assert habit.source.clause == "common practice"
    assert habit.source.status == "common practice, no source"
