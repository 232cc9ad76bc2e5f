"""Names and notes in thirteen scripts, endless words, emoji, hostile text: all mere words on the page?

All people are invented. Pages are rendered in a spawned process: one that has compiled must never fork.
"""

import io
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pypdf
import pytest
from fontTools.ttLib import TTFont

from jobs.packets.paper.glyphs import FONTS, covered, font_folders, printable
from jobs.packets.paper.render import MOST_LETTERS, packet_render

Render = Callable[..., bytes]
PEOPLE = {
    "Latin": ("Żaneta Ðorđević-Ñandú", "Klingeln bei „Weiß“; façade à gauche"),
    "Greek": ("Ελένη Παπαδοπούλου", "Χτυπήστε δύο φορές, ο σκύλος δαγκώνει"),
    "Cyrillic": ("Надежда Щукина", "Домофон 12К, второй подъезд"),
    "Hebrew": ("שלום בן־דוד", "הקש פעמיים (קומה 3)"),
    "Arabic": ("محمد عبد الرحمن", "اطرق الباب مرتين"),
    "Devanagari": ("अनीता शर्मा", "दो बार घंटी बजाएँ"),
    "Bengali": ("রহিমা খাতুন", "দুবার বেল বাজান"),
    "Tamil": ("தமிழ்ச்செல்வி", "இரண்டு முறை மணி அடிக்கவும்"),
    "Telugu": ("సీత రెడ్డి", "రెండుసార్లు గంట కొట్టండి"),
    "Thai": ("สมชาย ใจดี", "กดกริ่งสองครั้ง"),
    "Chinese": ("王小明 李國強", "请按两次门铃，不要敲门"),
    "Japanese": ("山田はなこ", "二回ベルを鳴らしてください。ガレージは右"),
    "Korean": ("김영희", "초인종을 두 번 눌러 주세요"),
    "none of ours": ("\U00013000\U00013001", "\U00013002"),  # Egyptian hieroglyphs
}
NOTES = [
    '#import "look.typ": *',
    "#read(sys.inputs.packet) $ x^2 $ *bold* = Heading @ref <label>",
    "<script>alert(1)</script> & \\u{1F600}",
    "W" * 300,
    "=HYPERLINK(http://evil.example.com/)",
    "/etc/passwd file:///etc/passwd ../../secret.key",
    "🚿 🛁 👨‍👩‍👧",
]


def paper_for(name: str, note: str, **more: Any) -> dict[str, Any]:
    return {
        "kind": "survey",
        "number": "P-0007",
        "code": "7KQ4-MX2D",
        "made_at": "2026-11-25 09:14 America/Chicago",
        "job": {"number": "J-0031", "summary": name},
        "customer": {"name": name},
        "site": {"access_notes": note, "address_lines": [note[:60]]},
        "openings": [{"number": "O-0044", "name": name}],
    } | more


@pytest.fixture(scope="module")
def render() -> Iterator[Render]:
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as workers:
        yield lambda data, **more: workers.submit(packet_render, data, **more).result(timeout=60)


def text_of(pdf: bytes) -> str:
    return " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def letters(text: str) -> set[str]:
    return {one for one in text if one.isalpha()}


@pytest.mark.parametrize("script", PEOPLE)
def test_a_name_of_any_script_is_printed_or_its_codes_are(render: Render, script: str) -> None:
    name, note = PEOPLE[script]
    printed = text_of(render(paper_for(name, note)))
    if script == "none of ours":
        assert "‹U+13000›" in printed.replace(" ", "")
        assert not letters(name) & letters(printed)
        return
    assert {ord(one) for one in name + note} - covered() == set()
    assert "‹U+" not in printed
    # A shaped letter is read back as itself or as what it was joined from.
    assert len(letters(name) & letters(printed)) >= len(letters(name)) * 0.6


def test_hostile_notes_are_printed_letter_for_letter_and_reach_nothing(render: Render) -> None:
    pdf = render(paper_for(NOTES[2], "\n".join(NOTES)))
    printed = "".join(text_of(pdf).split())
    for note in NOTES[:-1]:
        assert "".join(note.split()) in printed
    assert "🚿" in printed
    annotations = [page.get("/Annots") for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]
    assert annotations == [None] * len(annotations)
    assert b"/URI" not in pdf
    assert b"/JavaScript" not in pdf


def test_marks_that_turn_the_direction_of_text_are_shown_and_never_obeyed() -> None:
    assert printable("\U00013000 a\x00b \u202egnp.exe") == "‹U+13000› a‹U+0000›b ‹U+202E›gnp.exe"


def test_words_from_right_to_left_lose_no_letter(render: Render) -> None:
    assert {"שלום", "עולם"} <= set(text_of(render(paper_for("שלום עולם", "."))).split())


def font_with(character: str, folder: Path) -> None:
    """Make a font of another name out of a bundled one, with a letter that no bundled one has."""
    font = TTFont(FONTS / "NotoSansThai-Regular.ttf")
    for table in font["cmap"].tables:
        table.cmap[ord(character)] = "uni0E01"
    for record in font["name"].names:
        font["name"].setName(str(record).replace("Noto", "Invented"), *_of(record))
    font.save(folder / "invented.ttf")


def _of(record: Any) -> tuple[int, int, int, int]:
    return record.nameID, record.platformID, record.platEncID, record.langID


def test_a_folder_of_fonts_adds_the_letters_that_ours_lack(render: Render, tmp_path: Path) -> None:
    font_with("㐂", tmp_path)  # of the extension that the bundled face lacks
    assert "‹U+3402›" in text_of(render(paper_for("㐂 Kida", ".")))
    printed = text_of(render(paper_for("㐂 Kida", "."), fonts=str(tmp_path)))
    assert "㐂" in printed
    assert "‹U+3402›" not in printed
    assert font_folders(str(tmp_path)) == [FONTS, tmp_path]
    with pytest.raises(ValueError, match="no such folder"):
        font_folders(str(tmp_path / "gone"))


def test_a_paper_of_too_many_letters_or_pages_is_refused_with_the_reason(render: Render) -> None:
    long = paper_for("Bram", "x" * MOST_LETTERS)
    with pytest.raises(ValueError, match="letters, more than"):
        render(long)
    many = [{"number": f"O-{n}", "name": "Bath"} for n in range(80)]
    with pytest.raises(Exception, match="pages, more than 150"):
        render(paper_for("Bram", ".", openings=many))
