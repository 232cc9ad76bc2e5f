"""How does a packet's frozen data become one PDF, the same bytes every time?"""

import io
import json
from collections.abc import Mapping
from datetime import datetime
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import segno

from jobs.packets.paper.content import packet_content
from jobs.packets.paper.glyphs import FONTS

Paper = Literal["a4", "letter"]
TEMPLATE = Path(__file__).parent / "template"
PAGE_SIZES = {"a4": "a4", "letter": "us-letter"}


def packet_render(data: Mapping[str, Any], *, paper: Paper = "a4") -> bytes:
    """Return the packet as a tagged PDF/UA-1.

    Run this in a worker's child process only: the compiler must never have run in a process
    that forks afterwards, because a forked child then hangs in its first compile.

    Raises:
        ValueError: the paper is neither "a4" nor "letter", or `made_at` is no time with a zone.
    """
    import typst  # the web process imports this module and must not carry the compiler

    if paper not in PAGE_SIZES:
        raise ValueError(f"paper is {paper!r}: send 'a4' or 'letter'")
    content = packet_content(data, _qr(str(data.get("code_url") or "")))
    return typst.compile(
        str(TEMPLATE / "packet.typ"),
        root=str(TEMPLATE),
        font_paths=_fonts(),
        format="pdf",
        sys_inputs={"packet": json.dumps(content), "paper": PAGE_SIZES[paper]},
        pdf_standards=["ua-1"],
        timestamp=made_moment(str(data.get("made_at"))),
    )


@lru_cache(maxsize=1)
def _fonts() -> Any:
    """Return the bundled faces only, read once: a machine's own fonts would change the paper."""
    import typst  # as above

    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)]
    )


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
