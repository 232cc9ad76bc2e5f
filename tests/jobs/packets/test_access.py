"""Can somebody who does not see the paper have it read out: tags, headings, heads of tables, pictures' words?

Reads the structure tree as ISO 14289-1 (PDF/UA-1) wants it; the clauses named are those that a
PDF's own checker names. No whole validator could be had, so this claims no conformity.
"""

import io
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pypdf
import pytest
from pypdf.generic import ContentStream

from jobs.packets.models import Packet
from jobs.packets.services import packet_set

PAINTS = {b"Tj", b"TJ", b"'", b'"', b"f", b"f*", b"S", b"s", b"B", b"b", b"B*", b"b*", b"Do", b"sh"}


def elements(node: Any) -> Iterator[Any]:
    """Yield every structure element below a node, in reading order."""
    node = node.get_object()
    if isinstance(node, list):
        for one in node:
            yield from elements(one)
    elif isinstance(node, dict):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from elements(node["/K"])


def kinds_of(tree: Any) -> list[str]:
    return [str(one["/S"]) for one in elements(tree)]


def untagged(page: pypdf.PageObject) -> int:
    """Count what is painted outside of any marked content."""
    depth = bad = 0
    for _, operator in ContentStream(page["/Contents"].get_object(), page.pdf).operations:  # type: ignore[attr-defined]
        depth += (operator in {b"BDC", b"BMC"}) - (operator == b"EMC")
        bad += operator in PAINTS and depth == 0
    return bad


@pytest.fixture(params=["receiving", "survey", "labels"])
def reader(request: Any, asked: Any) -> pypdf.PdfReader:
    packet = asked(kind=request.param, language="es")
    assert packet_set(key=packet.pk)
    with Packet.objects.get(pk=packet.pk).file.open() as file:
        return pypdf.PdfReader(io.BytesIO(file.read()))


def test_everything_is_tagged_titled_and_in_its_language(reader: pypdf.PdfReader) -> None:
    root: Any = reader.trailer["/Root"]
    tree = root["/StructTreeRoot"]
    kinds = kinds_of(tree)
    figures = [one for one in elements(tree) if one["/S"] == "/Figure"]
    tables = [one for one in elements(tree) if one["/S"] == "/Table"]
    assert root["/Lang"] == "es"  # 7.2
    assert root["/MarkInfo"]["/Marked"]  # 6.2
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]  # 7.1
    assert reader.metadata is not None
    assert reader.metadata.title.startswith("Paquete P-")
    assert all(str(one.get("/Alt", "")).strip() for one in figures)  # 7.3
    assert all("/TH" in kinds_of(one) for one in tables)  # 7.5
    assert kinds.count("/Table") == len(tables)
    assert [untagged(page) for page in reader.pages] == [0] * len(reader.pages)  # 7.1


def test_headings_come_in_order_and_none_is_left_out(asked: Any) -> None:
    packet = asked(kind="receiving")
    assert packet_set(key=packet.pk)
    with Packet.objects.get(pk=packet.pk).file.open() as file:
        root: Any = pypdf.PdfReader(io.BytesIO(file.read())).trailer["/Root"]
        levels = [
            int(k[2:]) for k in kinds_of(root["/StructTreeRoot"]) if k[2:].isdigit() and k[1] == "H"
        ]
    assert levels[0] == 1
    assert levels.count(2) == 4
    assert all(after - before <= 1 for before, after in pairwise(levels))  # 7.4.2
