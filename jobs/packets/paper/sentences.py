"""Which sentences can a verdict hold, and what are they in the language spoken?

A verdict is data in English. `SENTENCES` keeps the forms its sentences are made from, so that a
filled-in sentence can be taken apart again and said in another language with the same figures.
"""

import re
from functools import lru_cache

from jobs.packets.paper.words import PLACE, catalogue, spoken

SENTENCES: tuple[str, ...] = ()


def told(text: str) -> str:
    """Return a verdict's words in the language spoken, its figures verbatim; as it is if unknown."""
    language = spoken()
    return text if language == "en" or not text else _told(text, language)


@lru_cache(maxsize=20_000)
def _told(text: str, language: str) -> str:
    words = catalogue(language)
    exact = words.gettext(text)
    if exact != text:
        return exact
    for form, pattern in _forms():
        found = pattern.fullmatch(text)
        if found:
            parts = {name: _told(part, language) for name, part in found.groupdict().items()}
            return words.gettext(form).format(**parts)
    return text


@lru_cache(maxsize=1)
def _forms() -> tuple[tuple[str, re.Pattern[str]], ...]:
    return tuple((form, form_pattern(form)) for form in SENTENCES if "{" in form)


def form_pattern(form: str) -> re.Pattern[str]:
    """Return what a filled-in form looks like; every place holds at least one letter."""
    parts = PLACE.split(form)
    pieces = [f"(?P<{p}>.+?)" if i % 2 else re.escape(p) for i, p in enumerate(parts)]
    return re.compile("".join(pieces), re.DOTALL)
