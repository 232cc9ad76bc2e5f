"""Is a second person at a hold point sure, or only said? Common practice for two people, no source."""

from datetime import datetime
from types import SimpleNamespace
from typing import Any

import pytest

from jobs.installs import forms
from jobs.installs.models import Mark
from tests.clients import Caller, assert_problem
from tests.site import FIRST, SECOND, Site, fresh

STOP = "brackets_fixed"
ALONE = {"second_person": "", "typed_why": ""}


@pytest.fixture
def other(site: Site, helper: Caller) -> Caller:
    """Another of the crew, who signs in for themselves."""
    site.booking.crew.places.create(member=helper.member)
    site.until(STOP)
    return helper


def look(caller: Caller, site: Site, **more: Any) -> Any:
    """Put that one looked as well."""
    body = {"install": site.id, "kind": "looked", "stop": STOP, "taken_at": site.now(), **more}
    return caller.put(f"/api/v1/install-records/{fresh()}/", body)


def test_a_second_person_who_looks_afterwards_settles_the_stop(site: Site, other: Caller) -> None:
    first = site.record(STOP, **ALONE).json()
    assert (first["state"], site.stop(STOP)["state"]) == ("incomplete", "open")
    assert first["outcome"]["second"]["how"] == "none"
    assert "from their own sign-in" in site.stop(STOP)["do"][0]

    told = look(other, site).json()
    assert (told["state"], told["outcome"]["confirms"]) == ("done", first["id"])
    stop = site.stop(STOP)
    assert (stop["state"], stop["fact"]) == ("done", told["id"])
    assert stop["by"] == f"{FIRST}, looked at by {other.member.name}"


def test_a_look_that_came_before_counts_for_the_record_of_the_stop(
    site: Site, other: Caller
) -> None:
    assert look(other, site).json()["state"] == "noted"
    told = site.record(STOP, **ALONE).json()
    second = told["outcome"]["second"]
    assert (told["state"], second["how"]) == ("done", "own")
    assert (second["name"], second["member"]) == (other.member.name, other.member.number)


def test_what_was_read_at_the_brackets_is_still_held_against_the_mark(
    site: Site, other: Caller
) -> None:
    body = site.body(STOP, **ALONE)
    body["readings"][0]["value"] = "40 in"
    site.put_record(body)
    look(other, site)
    told = site.mark("head rail").json()
    assert told["state"] == "held"
    asked = {one["id"]: one["value"] for one in Mark.objects.get().result["asked"]["as_fixed"]}
    assert asked["at the brackets 1"] == "40 in"


@pytest.mark.parametrize(("why", "state"), [("", "incomplete"), ("Their phone is off.", "done")])
def test_a_typed_name_settles_only_with_a_reason(site: Site, why: str, state: str) -> None:
    site.until(STOP)
    told = site.record(STOP, second_person=SECOND, typed_why=why).json()
    assert (told["state"], told["outcome"]["second"]["how"]) == (state, "typed")
    assert any(SECOND in one and "`typed_why`" in one for one in told["outcome"]["missing"]) == (
        not why
    )


def test_a_typed_name_without_a_reason_is_made_sure_by_a_look(site: Site, other: Caller) -> None:
    site.record(STOP, second_person=other.member.name, typed_why="")
    assert look(other, site).json()["state"] == "done"
    assert site.stop(STOP)["state"] == "done"


def test_who_recorded_the_stop_is_no_second_person(site: Site, other: Caller) -> None:
    site.record(STOP, **ALONE)
    told = look(site.tablet, site).json()
    assert told["state"] == "noted"
    assert "You recorded this stop yourself" in told["outcome"]["do"][0]
    assert site.stop(STOP)["state"] == "open"


def test_one_s_own_look_before_does_not_count_for_one_s_own_record(
    site: Site, other: Caller
) -> None:
    look(site.tablet, site)
    assert site.record(STOP, **ALONE).json()["outcome"]["second"]["how"] == "none"
    look(other, site)
    told = site.record(STOP, said_by=other.member.name, **ALONE).json()  # on a borrowed tablet
    assert told["outcome"]["second"]["how"] == "none"


def test_a_look_does_not_stand_for_what_else_is_missing(site: Site, other: Caller) -> None:
    site.record(STOP, photos=[], **ALONE)
    told = look(other, site).json()
    assert (told["state"], len(told["outcome"]["missing"])) == ("noted", 1)
    assert "photo" in told["outcome"]["missing"][0]
    assert site.record(STOP, **ALONE).json()["state"] == "done"


def test_a_look_before_the_stop_was_held_says_nothing_of_what_was_put_right(
    site: Site, other: Caller
) -> None:
    look(other, site)
    held = site.record(STOP, found="not_right", note="A screw turns.", **ALONE).json()
    assert (held["state"], held["outcome"]["second"]["how"]) == ("held", "own")
    again = site.record(STOP, **ALONE).json()
    assert (again["state"], again["outcome"]["second"]["how"]) == ("incomplete", "none")
    assert look(other, site).json()["state"] == "done"


def test_a_look_at_a_held_stop_says_what_to_do(site: Site, other: Caller) -> None:
    site.record(STOP, found="not_right", note="A screw turns.", **ALONE)
    told = look(other, site).json()
    assert (told["state"], told["outcome"]["do"]) == ("noted", ["A screw turns."])


def test_only_the_crew_that_is_there_looks_and_only_where_it_is_asked(
    site: Site, other: Caller, office: Caller
) -> None:
    assert_problem(look(office, site), 409, "not_of_crew", "/kind")
    assert_problem(look(other, site, stop="seals_on"), 400, "not_a_look", "/stop")


def test_in_a_browser_the_second_person_says_so_on_the_install_s_page(
    site: Site, other: Caller, lead: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = SimpleNamespace(now=lambda: datetime.fromisoformat(site.now()))
    monkeypatch.setattr(forms, "timezone", clock)
    site.booking.crew.places.create(member=lead.member, is_lead=True)
    page, html = f"/api/v1/installs/{site.id}/", {"Accept": "text/html"}
    button = "Say that you looked as well"
    assert button in other.get(page, headers=html).content.decode()
    site.record(STOP, said_by=lead.member.name, **ALONE)
    assert_problem(lead.post(f"{page}looked/"), 409, "same_person", "/stop")
    assert other.post(f"{page}looked/").json()["state"] == "done"
    assert button not in other.get(page, headers=html).content.decode()  # nothing to look at now
