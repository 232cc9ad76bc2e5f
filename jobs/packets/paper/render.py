"""How does a packet's frozen data become one PDF, the same bytes every time?"""

import io
import json
import os
import threading
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import segno

from jobs.packets.paper.content import packet_content
from jobs.packets.paper.glyphs import font_folders
from jobs.packets.paper.words import TEMPLATE

Paper = Literal["a4", "letter", "label"]
PAGE_SIZES = {"a4": "a4", "letter": "us-letter", "label": "label"}
MOST_LETTERS = 2_000_000
MOST_PAGES = 150


def untold(stage: str) -> None:
    """Tell nobody how far a paper is."""


def packet_render(
    data: Mapping[str, Any],
    *,
    paper: Paper = "a4",
    tell: Callable[[str], None] = untold,
    fonts: str = "",
) -> bytes:
    """Return the packet as a tagged PDF/UA-1; `tell` hears of each stage as it begins.

    `fonts` is a folder with more fonts than the bundled ones, for letters that those lack.

    Run this in a worker's child process only: the compiler must never have run in a process
    that forks afterwards, because a forked child then hangs in its first compile.

    Raises:
        ValueError: the paper is none of ours, `made_at` is no time with a zone, the language has
            no catalogue, or the data is too much for one paper.
    """
    if paper not in PAGE_SIZES:
        raise ValueError(f"paper is {paper!r}: send 'a4', 'letter' or 'label'")
    tell("drawing")
    content = json.dumps(packet_content(data, _qr(str(data.get("code_url") or "")), fonts))
    if len(content) > MOST_LETTERS:
        raise ValueError(f"the content has {len(content)} letters, more than {MOST_LETTERS}")
    made_at = made_moment(str(data.get("made_at")))
    tell("setting")
    return _typeset(content, PAGE_SIZES[paper], made_at, fonts)


def _typeset(content: str, paper: str, made_at: datetime, fonts: str) -> bytes:
    pdf: bytes = _compiler(fonts).compile(
        format="pdf",
        sys_inputs={"packet": content, "paper": paper, "most": str(MOST_PAGES)},
        pdf_standards=["ua-1"],
        timestamp=made_at,
    )
    return pdf


class _Own(threading.local):
    """What one thread keeps: a compiler must not be shared by two."""

    def __init__(self) -> None:
        self.compilers: dict[str, Any] = {}


_own = _Own()


def _compiler(folder: str) -> Any:
    """Return this thread's compiler, which keeps the template parsed and the faces read.

    It knows the bundled faces and those of the folder, and no others: a machine's own fonts would
    change the paper.
    """
    # One paper, one core: the worker's other children set other papers meanwhile.
    os.environ.setdefault("RAYON_NUM_THREADS", "1")
    import typst  # the web process imports this module and must not carry the compiler

    if folder not in _own.compilers:
        faces = typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(one) for one in font_folders(folder)],
        )
        _own.compilers[folder] = typst.Compiler(
            str(TEMPLATE / "packet.typ"), root=str(TEMPLATE), font_paths=faces
        )
    return _own.compilers[folder]


def made_moment(made_at: str) -> datetime:
    """Return the moment behind "2026-11-25 09:14 America/Chicago", for the file's own date."""
    try:
        clock, zone = made_at.rsplit(" ", 1)
        local = datetime.fromisoformat(clock).replace(tzinfo=ZoneInfo(zone))
    except (ValueError, ZoneInfoNotFoundError) as error:
        hint = "send '2026-11-25 09:14 America/Chicago'"
        raise ValueError(f"made_at is {made_at!r}: {hint}") from error
    return datetime.fromtimestamp(local.timestamp(), tz=ZoneInfo("UTC"))


def _qr(url: str) -> str | None:
    if not url:
        return None
    picture = io.BytesIO()
    segno.make_qr(url, error="m").save(picture, kind="svg", border=2, xmldecl=False)
    return picture.getvalue().decode()
