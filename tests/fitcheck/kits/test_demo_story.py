"""Does the demo's story hold together: people, places, hands and hours?"""

import json
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from fitcheck.check import check

ROOT = Path(__file__).resolve().parents[3]
STORY = json.loads((ROOT / "contractor/config/demo/story.json").read_text(encoding="utf-8"))
LISTS = (
    *("members", "crews", "tablets", "integrations", "customers", "sites"),
    *("jobs", "openings", "bookings", "follow_ups"),
)
BY_REF: dict[str, dict[str, Any]] = {each["ref"]: each for name in LISTS for each in STORY[name]}
INSTALLS = [each for each in STORY["bookings"] if each["visit"] == "install"]
LINKS = {
    "crews": ("lead",),
    "tablets": ("member",),
    "sites": ("customer",),
    "jobs": ("site",),
    "openings": ("job",),
    "bookings": ("job", "crew"),
    "follow_ups": ("job",),
}


def openings_of(job: str) -> list[dict[str, Any]]:
    return [opening for opening in STORY["openings"] if opening["job"] == job]


def span(booking: dict[str, Any], today: date) -> tuple[datetime, datetime]:
    site = BY_REF[BY_REF[booking["job"]]["site"]]
    day = today + timedelta(days=booking["days_from_now"])
    wall = time.fromisoformat(booking["wall_time"])
    start = datetime.combine(day, wall, ZoneInfo(site["time_zone"])).astimezone(UTC)
    return start, start + timedelta(hours=float(booking["hours"]))


def hands_for(opening: dict[str, Any]) -> int:
    survey = opening["surveys"][-1]
    path = ROOT / f"fitcheck/kits/demo/{survey['kit']}.json"
    sheets = json.loads(path.read_text(encoding="utf-8"))["sheets"]
    body = sheets[survey["kit_version"] - 1]["body"]
    return check({**survey["inputs"], "sheet": body}).hands_needed


def test_the_story_is_as_large_as_a_small_firm() -> None:
    assert len(STORY["members"]) == 10
    assert len(STORY["crews"]) == 3
    assert len(STORY["customers"]) >= 8
    assert len(STORY["sites"]) >= 10
    assert len(STORY["jobs"]) >= 10
    assert len(STORY["openings"]) >= 12
    assert sum(len(STORY[name]) for name in LISTS) == len(BY_REF)


@pytest.mark.parametrize("name", LINKS)
def test_every_link_of_the_story_leads_somewhere(name: str) -> None:
    for each in STORY[name]:
        assert all(each[link] in BY_REF for link in LINKS[name]), each["ref"]


def test_the_story_names_nobody_real() -> None:
    people = STORY["members"] + STORY["customers"] + [STORY["firm"]]
    assert all(each["email"].endswith("@example.com") for each in people)
    assert all(each["phone"].startswith("+155555501") for each in people)
    assert len({each["phone"] for each in people}) == len(people)


def test_a_crew_has_a_lead_and_nobody_rides_with_two_crews() -> None:
    riders = [member for crew in STORY["crews"] for member in crew["members"]]
    assert len(riders) == len(set(riders))
    for crew in STORY["crews"]:
        assert crew["lead"] in crew["members"]
        assert BY_REF[crew["lead"]]["role"] == "lead"


@pytest.mark.parametrize("today", [date(2026, 1, 12), date(2026, 3, 5), date(2026, 10, 30)])
def test_no_crew_is_promised_twice_whatever_the_day(today: date) -> None:
    for crew in STORY["crews"]:
        mine = [b for b in STORY["bookings"] if b["crew"] == crew["ref"]]
        spans = sorted(span(booking, today) for booking in mine)
        assert all(end <= start for (_, end), (start, _) in pairwise(spans))


@pytest.mark.parametrize("booking", INSTALLS, ids=lambda each: str(each["ref"]))
def test_an_install_over_a_verdict_that_does_not_fit_names_who_allowed_it(
    booking: dict[str, Any],
) -> None:
    states = {o["surveys"][-1]["expect"] for o in openings_of(booking["job"])}
    allowed = booking["override"]
    assert (allowed is None) == (states == {"fits"})
    assert allowed is None or (allowed["name"] and allowed["reason"])


@pytest.mark.parametrize("booking", INSTALLS, ids=lambda each: str(each["ref"]))
def test_a_booked_crew_has_hands_enough(booking: dict[str, Any]) -> None:
    needed = max(hands_for(BY_REF[ref]) for ref in booking["openings"])
    assert len(BY_REF[booking["crew"]]["members"]) >= needed


def test_a_survey_knows_the_age_of_its_house() -> None:
    for opening in STORY["openings"]:
        site = BY_REF[BY_REF[opening["job"]]["site"]]
        for survey in opening["surveys"]:
            assert survey["inputs"]["opening"]["year_built"] == site["year_built"]
