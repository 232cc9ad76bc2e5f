"""In which language is a paper written, and what are its words there?

The English words in the code are the keys of the catalogues under `locale/`; a word without a
translation is printed in English. Sentences that a verdict holds are data in English, filled in
already: `told` finds the sentence they were made from and fills its translation in.
"""

import gettext
import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

Noted = TypeVar("Noted")
ROOM = Path(__file__).resolve().parents[1]
LOCALE = ROOM / "locale"
TEMPLATE = Path(__file__).parent / "template"
DOMAIN = "paper"
LANGUAGES = ("en", "es")
SAID_IN_TEMPLATE = re.compile(r'\bt\("((?:[^"\\]|\\.)+)"')
PLACE = re.compile(r"\{(\w+)\}")
_spoken: ContextVar[str] = ContextVar("paper_language", default="en")


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Speak a language for as long as the block runs.

    Raises:
        ValueError: there is no catalogue of that language.
    """
    if language not in LANGUAGES:
        raise ValueError(f"language is {language!r}: send one of {', '.join(LANGUAGES)}")
    before = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(before)


def spoken() -> str:
    """Return the language that is spoken now."""
    return _spoken.get()


@lru_cache(maxsize=len(LANGUAGES))
def catalogue(language: str) -> gettext.NullTranslations:
    """Return the words of a language; English stands in the code itself."""
    if language == "en":
        return gettext.NullTranslations()
    return gettext.translation(DOMAIN, str(LOCALE), [language])


def say(text: str, /, **values: Any) -> str:
    """Return a sentence of ours in the language spoken, its places filled in."""
    said = catalogue(_spoken.get()).gettext(text)
    return said.format(**values) if values else said


def noted(texts: Noted) -> Noted:
    """Return what it is given: marks texts that are said elsewhere, so that catalogues hold them."""
    return texts


def template_words() -> dict[str, str]:
    """Return what the template says, by its English; nothing for English itself."""
    if _spoken.get() == "en":
        return {}
    return {text: say(text) for text in said_in_templates()}


@lru_cache(maxsize=1)
def said_in_templates() -> tuple[str, ...]:
    """Return every text that the templates say, each once."""
    texts = [
        found.replace('\\"', '"')
        for path in sorted(TEMPLATE.glob("*.typ"))
        for found in SAID_IN_TEMPLATE.findall(path.read_text(encoding="utf-8"))
    ]
    return tuple(dict.fromkeys(texts))
