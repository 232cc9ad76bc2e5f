"""What are a verdict's and a drawing's own sentences in the language spoken?

They are data in English. `sentences.txt` keeps the forms they are made from, a line each, so that a filled-in
sentence is taken apart again and said in another language with the same figures. What has no form
is taken apart at its stops and commas; a piece that nobody has translated stays English.
"""

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from jobs.packets.paper.words import PLACE, catalogue, spoken

SENTENCES = tuple(
    Path(__file__).with_name("sentences.txt").read_text(encoding="utf-8").splitlines()
)
AND, LISTED = " and ", "{some} and {last}"
STOPS = (
    re.compile(r"((?<=[.?!]) +|(?<=\)) +(?=[A-Z])|\n)"),
    re.compile(r"((?<=:) +)"),
    re.compile(r"(; )"),
    re.compile(r"( · )"),
    re.compile(r"(, )"),
    re.compile(f"({AND})"),
    re.compile(r"( (?=-?\d))"),
    re.compile(r"([.:]$)"),
)
# A form with few words of its own must not swallow half a list.
WORDY = 10
WIDE, NARROW = r"(?:(?![.?!] |\n).)+?", r"(?:(?![.?!;,] | · |\n).)+?"


class Form(NamedTuple):
    """A sentence with places, what it looks like filled in, and a piece it must hold."""

    text: str
    pattern: re.Pattern[str]
    holds: str


def told(text: str) -> str:
    """Return data's words in the language spoken, figures verbatim; what is unknown as it is."""
    language = spoken()
    return text if language == "en" or not text else _told(text, language)


@lru_cache(maxsize=20_000)
def _told(text: str, language: str) -> str:
    if not text:
        return ""  # a catalogue keeps its own head under the empty text
    words = catalogue(language)
    exact = words.gettext(text)
    if exact != text:
        return exact
    found = _filled(text)
    if found:
        form, places = found
        return words.gettext(form).format(**{k: _told(v, language) for k, v in places.items()})
    return (
        "".join(
            _joint(piece, language) if i % 2 else _told(piece, language)
            for i, piece in enumerate(apart(text))
        )
        if apart(text)
        else text
    )


def _filled(text: str) -> tuple[str, dict[str, str]] | None:
    """Find the form that a text is made from, and what stands in its places."""
    for form in forms():
        found = form.holds in text and form.pattern.fullmatch(text)
        if found:
            return form.text, found.groupdict()
    return None


def apart(text: str) -> list[str]:
    """Return a text's pieces with what joins them in between; nothing when it is one piece."""
    for stop in STOPS:
        pieces = stop.split(text)
        if len(pieces) > 1:
            return pieces
    return []


def _joint(stop: str, language: str) -> str:
    if stop != AND:
        return stop
    return catalogue(language).gettext(LISTED).format(some="", last="")


@lru_cache(maxsize=1)
def forms() -> tuple[Form, ...]:
    """Return the sentences with places, those with most words of their own first."""
    made = [_form(text) for text in SENTENCES if PLACE.search(text)]
    return tuple(sorted(made, key=_rank))


def _rank(form: Form) -> int:
    own = PLACE.sub("", form.text)
    return -len(own) if own != "()" else -len(form.pattern.pattern) * WORDY


def _form(text: str) -> Form:
    parts = PLACE.split(text)
    own = "".join(parts[::2])
    whole = own == "()" or (own[:1].isupper() and own[-1:] in ".?")
    inner = WIDE if whole or len(own) >= WORDY else NARROW
    pieces = [f"(?P<{p}>{inner})" if i % 2 else re.escape(p) for i, p in enumerate(parts)]
    return Form(text, re.compile("".join(pieces)), max(parts[::2], key=len))


def unknown_in(text: str) -> Iterator[str]:
    """Yield the smallest pieces of a text that no sentence or word here explains."""
    if text in SENTENCES:
        return
    found = _filled(text)
    pieces = list(found[1].values()) if found else apart(text)[::2]
    for piece in pieces:
        yield from unknown_in(piece)
    if not pieces:
        yield text
