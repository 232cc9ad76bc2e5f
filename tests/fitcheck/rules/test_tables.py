"""Every constant of the rules names a document that exists, a unit, a clause and a status."""

import ast
import sys
from pathlib import Path
from typing import get_args

import pytest

from fitcheck.rules import tables
from fitcheck.rules.sources import DOCUMENTS, Status

CONSTANTS = {
    name: value for name, value in vars(tables).items() if isinstance(value, tables.Constant)
}
RULES = Path(tables.__file__).parent


@pytest.mark.parametrize("name", CONSTANTS)
def test_a_constant_resolves_in_the_sources(name: str) -> None:
    constant = CONSTANTS[name]

    assert constant.document in DOCUMENTS
    assert constant.status in get_args(Status)
    assert constant.unit
    assert constant.source.clause
    assert constant.source.document == DOCUMENTS[constant.document].title


@pytest.mark.parametrize("name", CONSTANTS)
def test_what_the_firm_or_the_trade_says_is_never_called_published(name: str) -> None:
    constant = CONSTANTS[name]

    if constant.document in {"house", "trade"}:
        assert constant.status != "published"
    else:
        assert constant.status in {"published", "from memory", "derived"}


def test_every_document_is_used_by_a_constant_or_a_rule() -> None:
    used = {constant.document for constant in CONSTANTS.values()}
    text = "".join(path.read_text() for path in RULES.glob("*.py") if path.name != "sources.py")

    cited = {key for key, document in DOCUMENTS.items() if document.title.split(",")[0] in text}

    assert set(DOCUMENTS) - used - cited == set()


def test_every_constant_is_used_by_a_rule_or_tested_against_its_source() -> None:
    rules = [p for p in RULES.glob("*.py") if p.name != "tables.py"]
    published = (RULES.parents[1] / "tests" / "published").glob("*.py")
    text = "".join(path.read_text() for path in [*rules, *published])

    assert [name for name in CONSTANTS if f"tables.{name}" not in text and name not in text] == []


@pytest.mark.parametrize("path", sorted(RULES.glob("*.py")), ids=lambda path: path.name)
def test_a_rule_imports_no_framework(path: Path) -> None:
    allowed = sys.stdlib_module_names | {"fitcheck", "numpy", "highspy"}
    tree = ast.parse(path.read_text())
    names = {
        (node.module or "").split(".")[0]
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom)
    } | {
        alias.name.split(".")[0]
        for node in ast.walk(tree)
        if isinstance(node, ast.Import)
        for alias in node.names
    }

    assert names <= allowed
    assert len(path.read_text().splitlines()) <= 400
