"""Is every figure on every kind of paper, in every language, the data's own: value, unit, rounding?

Pages are rendered in a spawned process: a process that has compiled once must never fork after it.
"""

import io
import json
import math
import os
import re
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from itertools import product
from multiprocessing import get_context
from typing import Any

import pypdf
import pytest

from fitcheck.drawings.way_in import panels_carried
from fitcheck.rules.length import inch_text, length_parse, mm_text
from jobs.packets.models import Kind, Language
from jobs.packets.paper.phrases import telephone
from jobs.packets.paper.render import packet_render
from tests.fitcheck.drawings.openings import left_by_kit
from tests.jobs.packets.stories import story_cases, story_paper

Json = dict[str, Any]
LENGTH = re.compile(r"(?<![\d/.])-?\d[\d.]*(?: \d+/\d+|/\d+)? (?:in|mm)\b")
MEASURED = re.compile(r"(?<![\d/.])-?\d[\d.]*(?: \d+/\d+|/\d+)? (?:kg|mL|lbf|N|psi|rpm)\b")
NUMBER = re.compile(r"\d+(?:\.\d+)?")
SMALL = {str(n) for n in range(10)}  # sections, steps, pages, readers
# A slider in inches, a hinged door and a slider in millimetres, a slider on a tub, a screen.
CASES = ("osquith-tillybeck", "pellandrake-quorrel", "brindlefenn-drabbletine",
         "vellumbrook-fennimule", "osquith-sandruffle")  # fmt: skip


def papers() -> Iterator[tuple[str, str, str]]:
    """Every kind in every language for one kit in turn, the install for each; EVERY_PAPER=1 takes all."""
    every = product(Kind.values, Language.values, CASES)
    for number, (kind, language, kit) in enumerate(every):
        turn, own = divmod(number, len(CASES))
        asked = turn % len(CASES) == own or (kind, language) == ("install", "en")
        if asked or os.environ.get("EVERY_PAPER"):
            yield kind, language, kit


@pytest.fixture(scope="module")
def text_of() -> Iterator[Callable[[Json], str]]:
    """Set a paper and return its words, on one line, with what stands on every page taken once."""
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as workers:

        def text(data: Json) -> str:
            pdf = workers.submit(packet_render, data, paper="letter").result(timeout=60)
            pages = [one.extract_text() for one in pypdf.PdfReader(io.BytesIO(pdf)).pages]
            return " ".join(" ".join(pages).split())

        yield text


def case_of(kit: str) -> Json:
    return next(one for one in story_cases() if one["kit"]["name"].startswith(kit))


def both_units(value: Any) -> Iterator[str]:
    """Every computed length under a value, as a paper says it."""
    if isinstance(value, dict):
        if "mm" in value and "inch" in value:
            yield f"{value['inch']} · {value['mm']}"
        else:
            for member in value.values():
                yield from both_units(member)
    elif isinstance(value, list):
        for member in value:
            yield from both_units(member)


def panel_figures(verdict: Json) -> Iterator[str]:
    for panel in verdict["panels"]:
        yield f"{panel['width']} × {panel['height']} × {panel['thickness']}"


def masses(verdict: Json) -> Iterator[str]:
    for panel in verdict["panels"]:
        yield panel["mass"]
        yield pounds(panel["mass"])


def pounds(mass: str) -> str:
    """The pounds of so many kilograms, rounded up to a tenth as the kilograms are."""
    return f"{math.ceil(float(mass.split()[0]) / 0.45359237 * 10) / 10:.1f} lb"


def stocks(verdict: Json) -> Iterator[str]:
    return (cut["stock"] for cut in verdict["cuts"])


def screws(verdict: Json) -> Iterator[str]:
    """Each kind of screw with how many the schedule takes, added up here."""
    counts: dict[str, int] = {}
    for fixing in verdict["fixings"]:
        if fixing["screw"]:
            size = f"{fixing['screw']['size']} × {fixing['screw']['length']}"
            counts[size] = counts.get(size, 0) + fixing["count"]
    return (f"{size}" for size in counts)


def asked_of(case: Json) -> Iterator[str]:
    return (one["height"] for one in case["plan"] if one.get("height"))


def readings(case: Json) -> Iterator[str]:
    for one in case["inputs"]["readings"]:
        yield f"{one['value']} {mm_text(length_parse(one['value']).nm)}"


def promises(case: Json) -> Iterator[str]:
    sheet = case["inputs"]["sheet"]
    yield f"{sheet['claim']['within_days']} "
    yield f"{sheet['warranty']['years']} "
    yield "03 " if case["verdict"]["cure_hours"] else ""


def dry_after(verdict: Json) -> Iterator[str]:
    """The longer of sheet and product, from two days on in days as well."""
    hours = verdict["sealing"]["cure"]["hours"]
    yield f"{hours} "


def must_stand(kind: str, case: Json) -> list[str]:
    """Every figure that a kind of paper owes its reader, from the data alone."""
    verdict = case["verdict"]
    if kind == "survey":
        return list(asked_of(case))
    if kind == "install":
        told = [verdict[name] for name in ("findings", "cuts", "fixings", "sealant")]
        return [*both_units(told), *readings(case), *panel_figures(verdict), *masses(verdict),
                *stocks(verdict), *screws(verdict), *promises(case), *dry_after(verdict)]  # fmt: skip
    if kind == "handover":
        return list(promises(case))
    own = [*panel_figures(verdict)]
    if kind == "claim":
        return [
            *own,
            "CL-0003",
            "2026-12-09",
            f"{case['inputs']['sheet']['claim']['within_days']} ",
        ]
    own += masses(verdict)
    if kind in {"receiving", "labels"}:
        own += [*stocks(verdict), *screws(verdict)]
    return own


def ways_in(data: Json) -> list[Any]:
    """Each panel in its packing, and what the rules say of it at each place of the way in."""
    rows = panels_carried(data["openings"][0]["verdict"]["panels"], data["site"]["way"])
    return [[panel, [step.passage for step in steps]] for panel, steps in rows]


def off_studs(case: Json) -> set[int]:
    """How far the sheet's screws are off each stud that was read."""
    inputs = case["inputs"]
    set_back = [one.get("bracket", {}).get("setback") for one in inputs["sheet"]["fixings"]]
    studs = [one["value"] for one in inputs["readings"] if one["quantity"] == "backing_centre"]
    places = [length_parse(one).nm for one in set_back if one]
    return {abs(place - length_parse(stud).nm) for place in places for stud in studs}


def lengths_held(data: Json) -> set[str]:
    """Every length that the data holds, also in the other unit, and what is worked out from two."""
    told = json.dumps([data, ways_in(data)], ensure_ascii=False)
    held = set(LENGTH.findall(told))
    known = {length_parse(one).nm for one in held}
    case = data["openings"][0]
    holes = {length_parse(one["height"]).nm for one in case["verdict"]["fixings"]}
    ends = ("from_height", "to_height")
    edges = {length_parse(zone[at]).nm for zone in case["inputs"]["zones"] for at in ends}
    for nm in (
        known
        | {abs(edge - hole) for edge in edges for hole in holes}
        | off_studs(case)
        | left_by_kit(case["inputs"], case["verdict"])
    ):
        held |= {mm_text(nm), inch_text(nm, 32), inch_text(nm, 32, "up"), inch_text(nm, 16)}
    return held


@pytest.mark.parametrize(("kind", "language", "kit"), tuple(papers()))
def test_a_paper_prints_every_figure_of_its_data_and_no_other(
    text_of: Callable[[Json], str], kind: str, language: str, kit: str
) -> None:
    data = story_paper(case_of(kit), kind, language)
    text = text_of(data)
    wanted = must_stand(kind, data["openings"][0])
    assert wanted
    assert [figure for figure in wanted if figure not in text] == []
    assert sorted(set(LENGTH.findall(text)) - lengths_held(data)) == []
    dumped = json.dumps(data, ensure_ascii=False)
    measured = {one for one in MEASURED.findall(text) if one not in dumped}
    assert measured <= totals(data), measured
    if kind != "install":
        beside = {one.split()[0] for one in masses(data["openings"][0]["verdict"])}
        numbers = set(NUMBER.findall(dumped)) | SMALL | counts(data) | beside
        assert sorted(set(NUMBER.findall(text)) - numbers) == []


def totals(data: Json) -> set[str]:
    """Sums that a paper works out: the sealant of all runs."""
    volumes = [one["volume_ml"] for one in data["openings"][0]["verdict"]["sealant"]]
    tenths = sum(round(10 * float(one.split()[0])) for one in volumes if one)
    return {f"{tenths / 10} mL"}


def counts(data: Json) -> set[str]:
    """Screws and anchors of all fixings, how many labels there are, a telephone number's groups."""
    fixings = data["openings"][0]["verdict"]["fixings"]
    found: dict[str, int] = {}
    for one in fixings:
        for what in (one["anchor"], json.dumps(one["screw"])):
            found[what] = found.get(what, 0) + one["count"]
    phone = data["customer"]["phone"].removeprefix("+1")
    spoken = {phone[:3], phone[3:6], phone[6:]}
    return {str(n) for n in found.values()} | {"10", "11", "12"} | spoken


@pytest.mark.parametrize(
    ("number", "printed"),
    [
        ("+15555550130", "+1 555 555 0130"),
        ("+1 555 555 0130", "+1 555 555 0130"),
        ("+34910000000", "+34910000000"),  # where a country's code ends cannot be told
        ("+1555555013", "+1555555013"),  # too short to be one of the North American plan
        ("", None),
        (None, None),
    ],
)
def test_a_telephone_number_is_printed_in_groups_where_they_are_known(
    number: str | None, printed: str | None
) -> None:
    assert telephone(number) == printed
