"""Can every word on paper be said in every language, with the same figures in the same places?"""

import json
import re
import runpy
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from fitcheck.check import check
from fitcheck.drawings.svg import saying
from jobs.packets.paper.content import PAGES, packet_content
from jobs.packets.paper.sentences import told, unknown_in
from jobs.packets.paper.words import LANGUAGES, PLACE, say, speaking

ROOT = Path(__file__).parents[3]
OTHERS = LANGUAGES[1:]
# What stays as it is in every language: figures with their units, and names of documents.
KEPT = re.compile(r"\b(in|mm|kg|mL|x|CFR|NFPA|ISO|HSE|table|vii|[A-Z]*\d+[A-Z]*)\b|[\d\W_]")


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


@cache
def story_cases() -> tuple[dict[str, Any], ...]:
    """Every survey of the invented story against its own kit, as an opening of a packet."""
    story = json.loads((ROOT / "contractor/config/demo/story.json").read_text(encoding="utf-8"))
    cases = []
    for opening in story["openings"]:
        for survey in opening["surveys"]:
            path = ROOT / f"fitcheck/kits/demo/{survey['kit']}.json"
            sheets = json.loads(path.read_text(encoding="utf-8"))["sheets"]
            sheet = sheets[survey["kit_version"] - 1]["body"]
            inputs = {**survey["inputs"], "sheet": sheet}
            verdict = check(inputs).as_json()
            cases.append({"inputs": inputs, "verdict": verdict, "facts": inputs["opening"]})
    return tuple(cases)


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
    left = {text for text in asked if any(KEPT.sub("", one) for one in unknown_in(text))}
    assert len(asked) > 300
    # A sentence that a rule has just learned is printed in English until its form is added.
    assert len(left) <= len(asked) / 50, sorted(left)


def test_a_translated_sentence_keeps_every_figure() -> None:
    for case in story_cases():
        for text in sentences_of(case["verdict"]):
            with speaking("es"):
                there = told(text)
            digits = sorted(c for c in text if c.isdigit())
            assert sorted(c for c in there if c.isdigit()) == digits, text


def test_a_drawing_speaks_the_language_of_its_paper() -> None:
    case = story_cases()[0] | {"number": "O-0001", "name": "Bad", "photos": []}
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
