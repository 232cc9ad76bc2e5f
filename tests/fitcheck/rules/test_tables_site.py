"""Every constant of carrying, sealing, sawing and the clocks names its document and status."""

from typing import get_args

import pytest

from fitcheck.rules import tables_carrying, tables_clocks, tables_sawing, tables_sealing
from fitcheck.rules.sources import DOCUMENTS, Status
from fitcheck.rules.sources_site import SITE_DOCUMENTS, site_source
from fitcheck.rules.tables_site import Sited

MODULES = (tables_carrying, tables_sealing, tables_sawing, tables_clocks)
CONSTANTS = {
    f"{module.__name__.rsplit('.', 1)[1]}.{name}": value
    for module in MODULES
    for name, value in vars(module).items()
    if isinstance(value, Sited)
}


@pytest.mark.parametrize("name", CONSTANTS)
def test_a_constant_resolves_in_the_sources(name: str) -> None:
    constant = CONSTANTS[name]
    document = SITE_DOCUMENTS.get(constant.document) or DOCUMENTS[constant.document]

    assert constant.status in get_args(Status)
    assert constant.unit
    assert constant.source.clause
    assert constant.source.document == document.title
    assert constant.source.edition == document.edition


@pytest.mark.parametrize("name", CONSTANTS)
def test_what_the_firm_or_the_trade_says_is_never_called_published(name: str) -> None:
    constant = CONSTANTS[name]

    ours = {"house": "house setting", "trade": "common practice, no source"}
    if constant.document in ours:
        assert constant.status == ours[constant.document]
    else:
        assert constant.status in {"published", "from memory", "derived"}


def test_what_was_only_remembered_is_never_called_published() -> None:
    for name, constant in CONSTANTS.items():
        if "from memory" in constant.source.edition:
            assert constant.status != "published", name


def test_a_document_of_neither_list_is_refused() -> None:
    with pytest.raises(KeyError):
        site_source("nowhere", "published")
