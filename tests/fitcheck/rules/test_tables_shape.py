"""Every constant of the adjusted opening and the catalogue names a source, a unit and a status."""

import importlib
from dataclasses import is_dataclass
from pathlib import Path
from typing import get_args

import pytest

from fitcheck.rules import tables_shape
from fitcheck.rules.mistakes import SLIPS
from fitcheck.rules.sources import DOCUMENTS, Status
from fitcheck.rules.sources_shape import SHAPE_DOCUMENTS
from fitcheck.rules.tables import Constant

CONSTANTS = {n: v for n, v in vars(tables_shape).items() if isinstance(v, Constant)}
MODULES = (
    "least_squares",
    "quadrilateral",
    "mistakes",
    "adjustment",
    "one_more_reading",
    "shape_report",
    "asked_case",
    "whole_chance",
    "packing",
    "least_change",
    "catalogue",
    "which_kits",
)
RULES = Path(tables_shape.__file__).parent


@pytest.mark.parametrize("name", CONSTANTS)
def test_a_constant_of_the_shape_resolves_in_the_sources(name: str) -> None:
    constant = CONSTANTS[name]
    document = SHAPE_DOCUMENTS.get(constant.document) or DOCUMENTS[constant.document]

    assert constant.status in get_args(Status)
    assert constant.unit
    assert constant.source.clause
    assert (constant.source.document, constant.source.status) == (document.title, constant.status)
    if constant.document in {"house", "trade"}:
        assert constant.status != "published"


def test_every_constant_of_the_shape_is_used_by_a_rule() -> None:
    text = "".join(p.read_text() for p in RULES.glob("*.py") if p.name != "tables_shape.py")

    assert [name for name in CONSTANTS if f"tables_shape.{name}" not in text] == []


def test_every_kind_of_mistake_has_a_weight_and_words() -> None:
    assert set(tables_shape.MISTAKE_WEIGHTS.value) == set(SLIPS)
    assert all(weight > 0 for weight in tables_shape.MISTAKE_WEIGHTS.value.values())


@pytest.mark.parametrize("name", MODULES)
def test_what_goes_in_and_comes_out_cannot_be_changed(name: str) -> None:
    module = importlib.import_module(f"fitcheck.rules.{name}")
    own = [v for v in vars(module).values() if is_dataclass(v) and v.__module__ == module.__name__]
    public = [v for v in own if isinstance(v, type) and not v.__name__.startswith("_")]

    for each in public:
        assert each.__dataclass_params__.frozen, each  # type: ignore[attr-defined]
        assert "__slots__" in vars(each), each
