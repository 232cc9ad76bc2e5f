"""Can a reader for the blind, or a printer without fonts, use every kind of paper?

No validator of PDF/UA-1 could be had; the structure is read here. Pages are set in a spawned process.
"""

import io
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import Any

import pypdf
import pytest

from jobs.packets.models import Kind, Language
from jobs.packets.paper.render import packet_render
from jobs.packets.paper.words import say, speaking
from tests.jobs.packets.stories import story_cases, story_paper

OURS = {"SourceSans3", "DejaVuSans", "NotoEmoji"}
SHEETS = {"letter": (612, 792), "a4": (595.28, 841.89), "label": (283.46, 175.75)}


@pytest.fixture(scope="module")
def workers() -> Iterator[ProcessPoolExecutor]:
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        yield pool


def read(workers: ProcessPoolExecutor, kind: str, language: str, paper: str) -> pypdf.PdfReader:
    data = story_paper(story_cases()[0], kind, language)
    pdf = workers.submit(packet_render, data, paper=paper).result(timeout=60)
    return pypdf.PdfReader(io.BytesIO(pdf))


def fonts_of(page: Any) -> Iterator[Any]:
    for font in page["/Resources"].get("/Font", {}).values():
        yield from (one.get_object() for one in font.get_object().get("/DescendantFonts", [font]))


def elements(node: Any) -> Iterator[Any]:
    """Every element of the structure tree, from the root down."""
    node = node.get_object()
    if isinstance(node, list):
        for one in node:
            yield from elements(one)
    elif isinstance(node, dict):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from elements(node["/K"])


@pytest.mark.parametrize("language", Language.values)
@pytest.mark.parametrize("kind", Kind.values)
def test_every_paper_is_tagged_titled_in_its_language_with_its_fonts_inside(
    workers: ProcessPoolExecutor, kind: str, language: str
) -> None:
    reader = read(workers, kind, language, "label" if kind == "labels" else "letter")
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == language
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert b"pdfuaid:part>1<" in root["/Metadata"].get_data().replace(b"\n", b"")
    with speaking(language):
        title = say("Packet {number}, job {job}", number="P-0007", job="J-0031")
    assert reader.metadata is not None
    assert reader.metadata.title == title
    for page in reader.pages:
        assert "/StructParents" in page
        assert page["/Tabs"] == "/S"
    fonts = [font for page in reader.pages for font in fonts_of(page)]
    assert {font["/BaseFont"].split("+")[-1].split("-")[0] for font in fonts} <= OURS
    inside = [{"/FontFile2", "/FontFile3"} & set(font["/FontDescriptor"]) for font in fonts]
    assert inside
    assert all(inside)


@pytest.mark.parametrize("kind", Kind.values)
def test_every_picture_says_what_it_shows_and_tables_have_heads(
    workers: ProcessPoolExecutor, kind: str
) -> None:
    reader = read(workers, kind, "en", "letter")
    root: Any = reader.trailer["/Root"]
    found = list(elements(root["/StructTreeRoot"]["/K"]))
    names = [one["/S"] for one in found]
    assert all(one.get("/Alt") for one in found if one["/S"] == "/Figure")
    if kind == "labels":
        assert "/Figure" in names
        return
    assert "/H1" in names
    if kind == "install":
        assert names.count("/Figure") > 8
    if kind in {"install", "receiving", "claim", "follow_up"}:
        assert names.count("/TH") >= names.count("/Table") > 0


@pytest.mark.parametrize(("paper", "size"), SHEETS.items())
def test_a_paper_has_the_size_of_its_sheet(
    workers: ProcessPoolExecutor, paper: str, size: tuple[float, float]
) -> None:
    box = read(workers, "labels" if paper == "label" else "handover", "en", paper).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.5)
