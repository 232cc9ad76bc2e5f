"""Is what a sheet contradicts told in every language, with the same figures and no word left in English?"""

from collections.abc import Iterator

import pytest

from fitcheck.rules.sheet_agrees import agree_findings, contradictions
from fitcheck.rules.sheet_parse import sheet_parse
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import LANGUAGES, speaking
from tests.fitcheck.rules.test_sheet_agrees import PUSHED, pushed
from tests.jobs.packets.test_catalogue import unexplained

# The names that a maker gives to holes, notches and anchors stay as the maker writes them.
NAMES = frozenset(
    {"lower clip", "upper clip", "lower handle", "upper handle", "upper hinge", "lower hinge"}
)


def sentences() -> Iterator[str]:
    for kit, changes, _ in PUSHED:
        sheet = sheet_parse(pushed(kit, changes))
        for finding in agree_findings(sheet, contradictions(sheet)):
            yield from (finding.question, finding.do, finding.place, finding.limit_text or "")


def test_every_contradiction_has_its_words() -> None:
    asked = set(sentences())
    assert len(asked) > 100
    assert unexplained(asked, NAMES) == {}


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_a_contradiction_keeps_its_figures(language: str) -> None:
    for text in set(sentences()):
        with speaking(language):
            there = told(text)
        assert there != text
        assert sorted(c for c in there if c.isdigit()) == sorted(c for c in text if c.isdigit())
        assert "{" not in there
