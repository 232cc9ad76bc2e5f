"""Can every word on paper be said in every language, with the same figures in the same places?"""

import re
import runpy
from collections.abc import Iterable, Iterator, Set
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from fitcheck.drawings.svg import saying
from fitcheck.rules.impossible import doubts_of, impossible_finding, impossible_readings
from fitcheck.rules.mistakes import SLIPS
from jobs.packets.models import Kind
from jobs.packets.paper import sentences
from jobs.packets.paper.content import PAGES, packet_content
from jobs.packets.paper.sentences import told, unknown_in
from jobs.packets.paper.words import LANGUAGES, PLACE, say, speaking
from tests.fitcheck.rules.test_impossible import CANNOT, survey_of
from tests.jobs.packets.stories import story_cases, story_paper

ROOT = Path(__file__).parents[3]
OTHERS = LANGUAGES[1:]
# What stays as it is in every language: figures with their units, and names of documents.
KEPT = re.compile(
    r"\b(in|mm|kg|mL|N|lbf|psi|u|x|CFR|NFPA|ISO|HSE|table|vii|[A-Z]|[A-Z]*\d+[A-Z]*)\b|[\d\W_]"
)


@cache
def tool() -> dict[str, Any]:
    return runpy.run_path(str(ROOT / ".ci" / "words.py"))


@pytest.mark.parametrize("language", OTHERS)
def test_a_catalogue_holds_what_the_code_says_and_nothing_else(language: str) -> None:
    texts = {one.id for one in tool()["read"](language) if one.id}
    assert texts == set(tool()["said"]())
    assert len(texts) > 800


@pytest.mark.parametrize("language", OTHERS)
def test_a_catalogue_is_complete_and_nothing_in_it_is_a_guess(language: str) -> None:
    catalog = tool()["read"](language)
    assert [one.id for one in catalog if one.id and not str(one.string).strip()] == []
    assert [one.id for one in catalog if one.id and one.fuzzy] == []
    assert list(catalog.obsolete) == []


@pytest.mark.parametrize("language", OTHERS)
def test_every_place_to_fill_in_is_kept(language: str) -> None:
    for one in tool()["read"](language):
        if one.id:
            assert sorted(PLACE.findall(one.id)) == sorted(PLACE.findall(one.string)), one.id


@pytest.mark.parametrize("language", OTHERS)
def test_the_compiled_catalogue_is_what_stands_in_the_readable_one(language: str) -> None:
    compiled = tool()["po_of"](language).with_suffix(".mo").read_bytes()
    assert compiled == tool()["mo_bytes"](tool()["read"](language))


def sentences_of(verdict: Any) -> Iterator[str]:
    for finding in verdict["findings"]:
        yield from (finding["question"], finding["do"], finding["place"])
    for caution in verdict["cautions"]:
        yield from (caution["text"], caution["where"])
    for fixing in verdict["fixings"]:
        yield from (*fixing["cautions"], *fixing["questions"], fixing["place"], fixing["seal"])
        yield from filter(None, (fixing["bit"], fixing["speed"], fixing["cooling"]))
    for question in verdict["questions"]:
        yield from (question["about"], question["text"])
    yield from (panel["handing"] for panel in verdict["panels"])
    yield from (one["why"] for one in verdict["missing"])
    yield verdict["summary"]


def test_the_sentences_of_the_storys_verdicts_are_known() -> None:
    asked = {text for case in story_cases() for text in sentences_of(case["verdict"])}
    assert len(asked) > 300
    assert unexplained(asked) == {}


def unexplained(texts: Iterable[str], known: Set[str] = frozenset()) -> dict[str, list[str]]:
    """The pieces of some texts that would be printed in English, by their texts."""
    left = {
        text: [one for one in unknown_in(text) if KEPT.sub("", one) and one not in known]
        for text in texts
    }
    return {text: pieces for text, pieces in left.items() if pieces}


def test_every_slip_and_every_span_that_is_no_run_can_be_said() -> None:
    texts = {f"Perhaps {words}." for words in SLIPS.values()}
    texts |= {
        f"It was read over 96 in (2438.4 mm), but the sill is only 58 in (1473.2 mm) {word}."
        for word in ("long", "deep")
    }

    assert len(texts) > 15
    assert unexplained(texts) == {}


@pytest.mark.parametrize("name", CANNOT)
def test_what_no_reading_can_be_is_said_in_every_language(name: str) -> None:
    found = impossible_readings(survey_of(*CANNOT[name][0]).readings)
    finding = impossible_finding(found)

    texts = {finding.do, finding.question, *doubts_of(found).values()}

    assert unexplained(texts) == {}


# How many different texts of data each kind of paper is sure to hold; a handover's are all our own.
LEAST = {
    "survey": 60, "install": 1500, "follow_up": 15, "receiving": 30, "handover": 0, "claim": 6,
    "labels": 20,
}  # fmt: skip


class Heard:
    """Hears every whole text that a paper asks to have said, and what was answered."""

    def __init__(self) -> None:
        self.asked: set[str] = set()
        self.answers: set[str] = set()
        self.deep, self.own = 0, sentences._told

    def __call__(self, text: str, language: str) -> str:
        self.deep += 1
        answer = self.own.__wrapped__(text, language)
        self.deep -= 1
        if not self.deep:
            self.asked.add(text)
            self.answers.add(answer)
        return answer


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("kind", Kind.values)
def test_no_word_of_any_paper_of_the_story_stays_english(
    kind: str, language: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    heard = Heard()
    monkeypatch.setattr(sentences, "_told", heard)
    for case in story_cases():
        packet_content(story_paper(case, kind, language), None)
    assert len(heard.asked) >= LEAST[kind]
    # A place of the way in is named in the language before its number is set before it.
    assert unexplained(heard.asked, heard.answers) == {}


def test_a_translated_sentence_keeps_every_figure() -> None:
    for case in story_cases():
        for text in sentences_of(case["verdict"]):
            with speaking("es"):
                there = told(text)
            digits = sorted(c for c in text if c.isdigit())
            assert sorted(c for c in there if c.isdigit()) == digits, text


def test_a_drawing_speaks_the_language_of_its_paper() -> None:
    case = story_cases()[0]
    with speaking("es"), saying(told):
        page = PAGES["install"](case)
    assert "Visto desde afuera, mirando" in page["elevation"]
    assert "Seen from outside" not in page["elevation"]
    with speaking("en"):
        assert "Seen from outside" in PAGES["install"](case)["elevation"]


def test_a_language_without_a_catalogue_is_refused() -> None:
    with pytest.raises(ValueError, match="'xx'"), speaking("xx"):
        pass
    with pytest.raises(ValueError, match="send one of en, es"):
        packet_content({"language": "xx"}, None)


def test_a_word_that_nobody_translated_is_printed_in_english() -> None:
    with speaking("es"):
        assert say("a word of no catalogue") == "a word of no catalogue"
        assert told("the frobnicator, left wall") == "the frobnicator, pared izquierda"
        assert told("") == ""
