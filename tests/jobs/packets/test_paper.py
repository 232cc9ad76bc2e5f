"""Does the packet print every figure of the verdict verbatim, and every note as mere words?

Pages are rendered in a spawned process: a process that has compiled once must never fork after it.
"""

import copy
import io
import json
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pypdf
import pytest

from fitcheck.check import check
from fitcheck.rules.length import length_parse, mm_text
from jobs.packets.paper.loading import load_list
from jobs.packets.paper.render import made_moment, packet_render
from jobs.packets.paper.steps import KINDS, steps_for

DATA = Path(__file__).parents[2] / "fitcheck" / "data"
LENGTH = re.compile(r"(?<![\d/.])-?\d[\d.]*(?: \d+/\d+|/\d+)? (?:in|mm)\b")
Packet = dict[str, Any]
Render = Callable[..., bytes]


def pool() -> ProcessPoolExecutor:
    return ProcessPoolExecutor(1, mp_context=get_context("spawn"))


@pytest.fixture(scope="module")
def render() -> Iterator[Render]:
    with pool() as workers:
        yield lambda data, **more: workers.submit(packet_render, data, **more).result(timeout=60)


@pytest.fixture(scope="module")
def survey() -> Packet:
    inputs: Packet = json.loads((DATA / "inputs_bypass.json").read_text())
    return inputs | {"sheet": json.loads((DATA / "sheet_bypass.json").read_text())}


def packet_of(inputs: Packet, **more: Any) -> Packet:
    kit = {"name": "Harbour bypass (invented)", "version": 3}
    document = inputs["sheet"]["document"]
    opening = {
        "number": "O-0044",
        "name": "Upstairs bathroom",
        "inputs": inputs,
        "verdict": check(inputs).as_json(),
        "kit": kit | {"document": document["title"], "edition": document["edition"]},
        "photos": [],
    }
    return {
        "number": "P-0007",
        "code": "7KQ4-MX2D",
        "code_url": "http://localhost:8000/p/7KQ4-MX2D",
        "made_at": "2026-11-25 09:14 America/Chicago",
        "firm": {"name": "Halyard Glass (invented)", "phone": "+15555550100", "note": "Invented."},
        "job": {"number": "J-0031", "summary": "Bypass slider upstairs"},
        "booking": {
            "number": "B-0112",
            "visit": "install",
            "start": "2026-11-30T14:00:00Z",
            "end": "2026-11-30T18:30:00Z",
            "zone": "America/Chicago",
            "crew": "Crew Heron",
            "members": ["Ines Okafor", "Pavel Lindqvist"],
        },
        "customer": {"name": "Marguerite Dunmore", "phone": "+15555550142"},
        "site": {
            "address_lines": ["14 Quarry Row", "Little Fenwick"],
            "access_notes": "Ring twice.",
            "way_in": [{"what": "front door", "value": "35 1/2 in"}],
            "year_built": 1968,
        },
        "openings": [opening],
        "override": None,
        "safety": [],
    } | more


def pages(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def cover(pdf: bytes) -> str:
    return " ".join(pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text().split())


def flat(pdf: bytes) -> str:
    return " ".join(" ".join(pages(pdf)).split())


@pytest.fixture(scope="module")
def packet(survey: Packet) -> Packet:
    return packet_of(survey)


@pytest.fixture(scope="module")
def pdf(render: Render, packet: Packet) -> bytes:
    return render(packet)


@pytest.fixture(scope="module")
def texts(pdf: bytes) -> list[str]:
    """The words of every page; reading them takes longer than setting them, so it is done once."""
    return pages(pdf)


@pytest.fixture(scope="module")
def text(texts: list[str]) -> str:
    """All words of the paper on one line."""
    return " ".join(" ".join(texts).split())


def figures_of(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if "mm" in value and "inch" in value:
            yield f"{value['inch']} · {value['mm']}"
        else:
            for member in value.values():
                yield from figures_of(member)
    elif isinstance(value, list):
        for member in value:
            yield from figures_of(member)


def test_every_computed_length_of_the_verdict_is_printed_verbatim(
    packet: Packet, text: str
) -> None:
    verdict = packet["openings"][0]["verdict"]
    figures = set(figures_of([verdict[k] for k in ("findings", "cuts", "fixings", "sealant")]))

    assert len(figures) > 40
    assert sorted(f for f in figures if f not in text) == []


def test_every_finding_is_printed_with_its_question_state_and_trust(
    packet: Packet, text: str
) -> None:
    for finding in packet["openings"][0]["verdict"]["findings"]:
        assert finding["question"] in text
        if finding["state"] != "fits":
            assert finding["do"] in text
        if finding["uncertainty"]:
            assert f"± {finding['uncertainty']} · guard band {finding['guard_band']}" in text
            assert f"chance {finding['chance']}" in text


def test_every_reading_stands_as_entered_and_in_exact_millimetres(
    packet: Packet, text: str
) -> None:
    for reading in packet["openings"][0]["inputs"]["readings"]:
        assert f"{reading['value']} {mm_text(length_parse(reading['value']).nm)}" in text


def test_every_page_says_packet_job_code_page_and_when_it_was_made(texts: list[str]) -> None:
    for n, text in enumerate(texts, start=1):
        for words in ("P-0007", "J-0031", "7KQ4-MX2D", "2026-11-25 09:14 America/Chicago"):
            assert words in text
        assert f"page {n} of {len(texts)}" in text


def test_the_cover_says_when_on_the_clock_of_the_site(texts: list[str]) -> None:
    assert "Mon 30 Nov 2026, 08:00 to 12:30" in texts[0]


def test_the_same_data_gives_the_same_bytes_in_another_process(packet: Packet, pdf: bytes) -> None:
    with pool() as other:
        assert other.submit(packet_render, packet).result(timeout=60) == pdf


def test_what_nobody_knows_is_a_boxed_question(render: Render) -> None:
    bare = {"made_at": "2026-11-25 09:14 UTC", "openings": [{"number": "O-1", "name": "bath"}]}

    text = flat(render(bare))

    assert text.count("QUESTION") > 12
    assert "QUESTION booking: No visit is booked" in text
    assert "No width has been read yet." in text
    assert "STOP The verdict does not pass" in text


def test_an_unknown_wall_names_no_bit_and_stops_the_step(survey: Packet) -> None:
    inputs = copy.deepcopy(survey)
    for zone in inputs["zones"]:
        if zone["surface"] == "right_wall":
            zone["finish"] = "unknown"
    verdict = check(inputs).as_json()

    said = " ".join(s["text"] for s in steps_for(inputs, verdict))

    assert "rail bracket, right wall at 73 in: 2 holes, but STOP" in said
    assert "rail bracket, left wall at 73 in: 2 holes, carbide spear or diamond bit" in said


def test_a_verdict_that_does_not_pass_needs_a_name_on_the_cover(
    render: Render, survey: Packet
) -> None:
    failing = copy.deepcopy(survey)
    for reading in failing["readings"]:
        if reading["quantity"] == "curb_depth":
            reading["value"] = "1 in"
    data = packet_of(failing)
    released = data | {"override": {"name": "Tobias Renner", "reason": "The curb is rebuilt."}}

    assert data["openings"][0]["verdict"]["state"] == "fails"
    assert "nobody has released it by name" in cover(render(data))
    assert "OVERRIDE Released by Tobias Renner: The curb is rebuilt." in cover(render(released))


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_door_begins_with_the_glass_and_ends_with_the_customer(
    survey: Packet, kind: str
) -> None:
    inputs = survey | {"sheet": survey["sheet"] | {"kind": kind}}
    steps = steps_for(inputs, check(survey).as_json())
    holds = [s["text"].split(". ")[0] for s in steps if s["hold"]]

    assert holds[:3] == [
        "Hold: glass inspected",
        "Hold: opening agrees with the survey",
        "Hold: backing marked both sides, services located",
    ]
    assert holds[-1] == "Hold: label and care handed over"
    assert all(s["record"] for s in steps if s["hold"])


def test_the_slider_reads_before_it_saws_and_hangs_before_it_strips(
    survey: Packet, packet: Packet
) -> None:
    said = [s["text"] for s in steps_for(survey, packet["openings"][0]["verdict"])]

    def at(words: str) -> int:
        return next(i for i, text in enumerate(said) if words in text)

    assert at("as-fixed distance read") < at("head rail cut released") < at("rollers on the rail")
    assert at("threshold cut released") < at("Hang inner") < at("Hang outer") < at("side strips")
    assert at("seals on") < at("gasket between metal and glass, on the left") < at("Water test")


def test_a_cut_without_a_prediction_is_not_released_from_this_paper(survey: Packet) -> None:
    inputs = copy.deepcopy(survey)
    inputs["readings"] = [r for r in inputs["readings"] if r["quantity"] != "width"]

    steps = steps_for(inputs, check(inputs).as_json())
    cuts = [s["text"] for s in steps if "cut released" in s["text"]]

    assert cuts
    assert all("QUESTION: the survey predicts no length" in text for text in cuts)


def test_a_fixed_screen_has_no_handle_to_fit(survey: Packet, packet: Packet) -> None:
    inputs = survey | {"sheet": survey["sheet"] | {"kind": "fixed_screen"}}

    said = [s["text"] for s in steps_for(inputs, packet["openings"][0]["verdict"])]

    assert not [text for text in said if "handle" in text.lower() and "Handle holes" not in text]
    assert any("before anyone lets go" in text for text in said)


def test_the_fixed_panel_of_a_single_slider_is_set_not_hung(survey: Packet) -> None:
    inputs = survey | {"sheet": survey["sheet"] | {"kind": "single_slider"}}
    panels = [{"name": "fixed", "order": 1}, {"name": "sliding", "order": 2}]

    said = " ".join(s["text"] for s in steps_for(inputs, {"panels": panels}))

    assert "Set fixed (" in said
    assert "Hang sliding (" in said


def test_no_water_reaches_a_fresh_bead(survey: Packet, packet: Packet) -> None:
    steps = steps_for(survey, packet["openings"][0]["verdict"])
    (test,) = [s for s in steps if s["text"].startswith("Water test")]

    assert "as soon as the sealant's own sheet allows water" in test["text"]
    assert test["caution"].startswith("No water on a fresh bead")


def test_a_width_may_not_move_further_than_the_least_that_is_spare(
    survey: Packet, packet: Packet
) -> None:
    reread = steps_for(survey, packet["openings"][0]["verdict"])[2]["text"]

    # Widths: 3/16 in of difference to spare; end covers: 1/8 in and 1/4 in. The least is 1/8 in.
    assert "if a width has changed by as much as 1/8 in:" in reread


def test_a_door_of_no_known_kind_has_no_order_of_work() -> None:
    (only,) = steps_for({}, {})

    assert only["hold"]
    assert "QUESTION: what kind of door is this?" in only["text"]


def test_the_load_list_counts_holes_screws_and_anchors(packet: Packet) -> None:
    verdict = packet["openings"][0]["verdict"]
    load = load_list([verdict], people=3)
    parts = {row["what"]: row["count"] for row in load["parts"]}

    assert parts["screw #10 × 2 in"] == "4"  # two brackets on either wall
    assert parts["tile anchor"] == "6"  # three heights on either wall
    assert {"count": "1", "what": "bit for wood 7/64 in (4 holes)"} in load["bits"]
    assert load["tools"][0]["count"] == "3"
    assert load["consumables"][0]["count"] == "58.4 mL"  # 21.1 + 21.1 + 16.2, by hand
    unknown = {"sealant": [{"volume_ml": "21.1 mL"}, {"volume_ml": None}]}
    assert load_list([unknown], people=2)["consumables"][0]["count"] == "? mL"


def test_letter_and_a4_are_the_only_papers(render: Render, packet: Packet) -> None:
    letter = pypdf.PdfReader(io.BytesIO(render(packet, paper="letter"))).pages[0].mediabox

    assert (letter.width, letter.height) == (612, 792)
    with pytest.raises(ValueError, match="'a4', 'letter' or 'label'"):
        packet_render(packet, paper="a5")  # type: ignore[arg-type]


def test_a_time_without_a_zone_is_refused() -> None:
    assert (
        made_moment("2026-11-25 09:14 America/Chicago").isoformat().startswith("2026-11-25T15:14")
    )
    with pytest.raises(ValueError, match="made_at"):
        made_moment("2026-11-25 09:14")


def test_the_web_process_never_carries_the_compiler() -> None:
    asked = "import sys, jobs.packets.paper.render; print('typst' in sys.modules)"

    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "False"
