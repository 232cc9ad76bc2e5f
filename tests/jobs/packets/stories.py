"""Every survey of the invented story against its own kit, as the frozen data of any kind of paper."""

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from fitcheck.check import check
from fitcheck.rules.sheet_parse import sheet_parse

ROOT = Path(__file__).parents[3]
WAY = [
    {"kind": "doorway", "name": "Door", "width": "31 1/2 in", "height": "78 in"},
    {"kind": "corner", "name": "Corridor", "from": "37 in", "to": "36 in", "height": "90 in"},
    {"kind": "stairs", "name": "Stair", "width": "36 in", "headroom": "80 in"},
    {"kind": "lift_car", "name": "Lift car", "width": "50 in", "depth": "53 in", "height": "86 in"},
]
CLAIM = {"number": "CL-0003", "about": "chip", "deadline": "2026-12-09", "state": "filed"}


@cache
def story_cases() -> tuple[dict[str, Any], ...]:
    """Every survey of the story with its verdict, as an opening of a packet."""
    story = json.loads((ROOT / "contractor/config/demo/story.json").read_text(encoding="utf-8"))
    cases = []
    for opening in story["openings"]:
        for survey in opening["surveys"]:
            path = ROOT / f"fitcheck/kits/demo/{survey['kit']}.json"
            sheets = json.loads(path.read_text(encoding="utf-8"))["sheets"]
            sheet = sheets[survey["kit_version"] - 1]["body"]
            inputs = {**survey["inputs"], "sheet": sheet}
            verdict = check(inputs).as_json()
            cases.append({
                "number": f"O-{len(cases) + 1:04d}", "name": "Bad", "photos": [],
                "inputs": inputs, "verdict": verdict, "facts": inputs["opening"],
                "kit": {"name": f"{survey['kit']} (invented)", "version": survey["kit_version"],
                        "document": sheet["document"]["title"],
                        "edition": sheet["document"]["edition"]},
                "plan": wanted(inputs, sheet),
                "finishes": sheet["substrates"].get("finishes"),
                "structures": sheet["substrates"].get("structures"),
                "claims": [CLAIM],
                "work": {"bead_at": "2026-12-02T12:00:00-06:00",
                        "cured_at": "2026-12-03T18:00:00-06:00", "zone": "America/Chicago",
                         "snags": ["Cap gone"], "stops": [], "marks": []},
            })  # fmt: skip
    return tuple(cases)


def wanted(inputs: dict[str, Any], sheet: dict[str, Any]) -> list[dict[str, Any]]:
    """What the rules miss of an opening in which nothing has been read."""
    nothing = {"readings": [], "zones": [], "size": None, "house": {"mark": 16}}
    told = check({"opening": inputs["opening"], "sheet": sheet, **nothing}, sheet_parse(sheet))
    missing: Any = told.as_json()["missing"]
    return list(missing)


def story_paper(case: dict[str, Any], kind: str, language: str) -> dict[str, Any]:
    """One paper about one opening of the story, with all that a paper can tell."""
    return {
        "kind": kind,
        "language": language,
        "number": "P-0007",
        "code": "7KQ4-MX2D",
        "code_url": "http://localhost:8000/p/7KQ4-MX2D",
        "made_at": "2026-11-25 09:14 America/Chicago",
        "firm": {"name": "Vidriera Inventada", "phone": "+1 555 555 0100"},
        "job": {"number": "J-0031", "summary": "Mampara"},
        "booking": {
            "number": "B-0112", "visit": "install", "start": "2026-11-30T08:00-06:00",
            "end": "2026-11-30T12:30-06:00", "zone": "America/Chicago", "crew": "Garza",
            "members": ["Ines Okafor", "Pavel Lindqvist"],
        },
        "customer": {"name": "Marguerite Dunmore", "phone": "+15555550142"},
        "site": {
            "address_lines": ["14 Quarry Row"], "access_notes": "Timbre.",
            "way_in": [{"what": one["name"], "value": "31 1/2 in"} for one in WAY], "way": WAY,
            "year_built": 1968,
        },
        "openings": [case],
        "override": None,
        "safety": [],
    }  # fmt: skip


def texts_of(value: Any) -> Iterator[str]:
    """Every text in some content."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for member in value.values():
            yield from texts_of(member)
    elif isinstance(value, list | tuple):
        for member in value:
            yield from texts_of(member)
