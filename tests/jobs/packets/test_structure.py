"""Can a reader for the blind, or a printer without fonts, use every kind of paper?

Reads the structure tree as ISO 14289-1 (PDF/UA-1) wants it; the clauses named are those that a PDF's own
checker names. No whole validator could be had, so this claims no conformity. Pages are set in a
spawned process.
"""

import io
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from itertools import pairwise
from multiprocessing import get_context
from typing import Any

import pypdf
import pytest
from pypdf.generic import ContentStream

from jobs.packets.models import Kind, Language
from jobs.packets.paper.render import packet_render
from jobs.packets.paper.words import say, speaking
from tests.jobs.packets.stories import story_cases, story_paper

OURS = {"SourceSans3", "DejaVuSans", "NotoEmoji"}
SHEETS = {"letter": (612, 792), "a4": (595.28, 841.89), "label": (283.46, 175.75)}
PAINTS = {b"Tj", b"TJ", b"'", b'"', b"f", b"f*", b"S", b"s", b"B", b"b", b"B*", b"b*", b"Do", b"sh"}
SMALLEST = 9.0  # points
HEAD, FOOT = 85.0, 51.0  # points: 30 mm and 18 mm
Read = Callable[[str, str, str], pypdf.PdfReader]


@pytest.fixture(scope="module")
def read() -> Iterator[Read]:
    """Set a paper about the story's first opening and read it; each is set once."""
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as workers:

        @cache
        def paper_of(kind: str, language: str, paper: str) -> pypdf.PdfReader:
            data = story_paper(story_cases()[0], kind, language)
            pdf = workers.submit(packet_render, data, paper=paper).result(timeout=60)
            return pypdf.PdfReader(io.BytesIO(pdf))

        yield paper_of


def paper_for(kind: str) -> str:
    return "label" if kind == "labels" else "letter"


def fonts_of(page: Any) -> Iterator[Any]:
    for font in page["/Resources"].get("/Font", {}).values():
        yield from (one.get_object() for one in font.get_object().get("/DescendantFonts", [font]))


def elements(node: Any) -> Iterator[Any]:
    """Every element of the structure tree below a node, in reading order."""
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


def tree_of(reader: pypdf.PdfReader) -> Any:
    root: Any = reader.trailer["/Root"]
    return root["/StructTreeRoot"]


def untagged(page: pypdf.PageObject) -> int:
    """Count what is painted outside of any marked content."""
    depth = bad = 0
    for _, operator in ContentStream(page["/Contents"].get_object(), page.pdf).operations:  # type: ignore[attr-defined]
        depth += (operator in {b"BDC", b"BMC"}) - (operator == b"EMC")
        bad += operator in PAINTS and depth == 0
    return bad


def words_of(page: pypdf.PageObject) -> list[tuple[float, float]]:
    """Every word of a page by its size and its height over the page's foot [pt]; no sign of one letter."""
    found: list[tuple[float, float]] = []

    def seen(text: str, cm: Any, tm: Any, _font: Any, size: float) -> None:
        if len(text.strip()) > 1:
            found.append((abs(size * tm[3] * cm[3]), tm[5] * cm[3] + cm[5]))

    page.extract_text(visitor_text=seen)
    return found


def filled(page: pypdf.PageObject, words: list[tuple[float, float]]) -> float:
    """How much of the page's own room has words in it, from its head down [-]."""
    room = float(page.mediabox.height) - HEAD - FOOT
    return 1 - (min(y for _, y in words if y > FOOT) - FOOT) / room


@pytest.mark.parametrize("language", Language.values)
@pytest.mark.parametrize("kind", Kind.values)
def test_every_paper_is_tagged_titled_in_its_language_with_its_fonts_inside(
    read: Read, kind: str, language: str
) -> None:
    reader = read(kind, language, paper_for(kind))
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]  # 6.2
    assert root["/Lang"] == language  # 7.2
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]  # 7.1
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
def test_every_picture_says_what_it_shows_and_every_table_has_heads(read: Read, kind: str) -> None:
    tree = tree_of(read(kind, "en", paper_for(kind)))
    found = list(elements(tree))
    figures = [one for one in found if one["/S"] == "/Figure"]
    tables = [one for one in found if one["/S"] == "/Table"]
    assert len(figures) >= {"install": 9, "labels": 2}.get(kind, 0)
    assert all(str(one.get("/Alt", "")).strip() for one in figures)  # 7.3
    assert bool(tables) == (kind not in {"labels", "handover"})
    assert all("/TH" in kinds_of(one) for one in tables)  # 7.5


@pytest.mark.parametrize("kind", [one for one in Kind.values if one != "labels"])
def test_headings_come_in_order_and_none_is_left_out(read: Read, kind: str) -> None:
    kinds = kinds_of(tree_of(read(kind, "en", "letter")))
    levels = [int(k[2:]) for k in kinds if k[2:].isdigit() and k[1] == "H"]
    assert levels[0] == 1
    assert levels.count(2) >= 3
    assert all(after - before <= 1 for before, after in pairwise(levels))  # 7.4.2


@pytest.mark.parametrize("kind", Kind.values)
def test_nothing_is_untagged_no_word_too_small_and_no_page_half_empty(
    read: Read, kind: str
) -> None:
    pages = read(kind, "es", paper_for(kind)).pages
    assert [untagged(page) for page in pages] == [0] * len(pages)  # 7.1
    words = [words_of(page) for page in pages]
    assert min(size for page in words for size, _ in page) >= SMALLEST - 0.01
    # The last page of the work is as long as it is; after it the customer's own sheet begins.
    full = [filled(*both) for both in zip(pages, words, strict=True)][
        : -2 if kind == "install" else -1
    ]
    assert all(share > 0.55 for share in full), full


@pytest.mark.parametrize(("paper", "size"), SHEETS.items())
def test_a_paper_has_the_size_of_its_sheet(
    read: Read, paper: str, size: tuple[float, float]
) -> None:
    box = read("labels" if paper == "label" else "handover", "en", paper).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.5)
