"""Is a second reader of a saw mark sure, or only said? Common practice for two readers, no source."""

from typing import Any

import pytest

from fitcheck.rules.length import length_parse
from jobs.installs.models import Record
from tests.clients import Caller, assert_problem
from tests.site import FIRST, SECOND, TAPE, Site, fresh

RAIL = "cut_head_rail"


@pytest.fixture
def other(site: Site, helper: Caller) -> Caller:
    """Another of the crew, who signs in for themselves."""
    site.booking.crew.places.create(member=helper.member)
    return helper


def read_by(caller: Caller, site: Site, value: str = "", part: str = RAIL) -> Any:
    """Put one's own reading for the rail."""
    value = value or site.distance("head rail")
    body = {
        "install": site.id,
        "kind": "as_fixed",
        "stop": part,
        "values": [{"name": "as_fixed", "value": value, "tool": TAPE}],
        "taken_at": site.now(),
    }
    return caller.put(f"/api/v1/install-records/{fresh()}/", body)


def ask(site: Site, *rows: dict[str, Any], **more: Any) -> Any:
    """Ask for the rail's mark with these readings."""
    body = site.mark_body("head rail") | {"as_fixed": list(rows), **more}
    return site.tablet.put(f"/api/v1/marks/{fresh()}/", body)


def own(site: Site, **changes: Any) -> dict[str, Any]:
    """What the holder of the tablet read."""
    return {"value": site.distance("head rail"), "read_by": FIRST, "tool": TAPE, **changes}


def test_two_of_the_crew_by_their_own_sign_ins_release_the_mark(site: Site, other: Caller) -> None:
    site.until(RAIL)
    record = read_by(other, site)
    assert (record.status_code, record.json()["state"]) == (201, "noted")

    told = ask(site, own(site), {"record": record.json()["id"]}, typed_why="").json()
    assert (told["state"], told["second_reader"], told["typed_why"]) == ("released", "own", "")
    assert [(one["name"], one["member"], one["how"]) for one in told["readers"][:2]] == [
        (FIRST, site.tablet.member.number, "own"),
        (other.member.name, other.member.number, "own"),
    ]


def test_a_typed_name_alone_is_held_and_says_what_to_do(site: Site) -> None:
    site.until(RAIL)
    told = ask(site, own(site), own(site, read_by=SECOND), typed_why="").json()
    assert (told["state"], told["mark"], told["second_reader"]) == ("held", "", "typed")
    assert any(SECOND in one and "`typed_why`" in one for one in told["hold"])


def test_a_typed_name_with_a_reason_is_released_and_told_as_typed(site: Site) -> None:
    site.until(RAIL)
    told = ask(site, own(site), own(site, read_by=SECOND), typed_why="No signal, no phone.").json()
    assert (told["state"], told["second_reader"]) == ("released", "typed")
    assert told["typed_why"] == "No signal, no phone."
    assert told["readers"][1] == {"name": SECOND, "member": "", "how": "typed"}


def test_the_same_member_twice_is_no_second_reader(site: Site) -> None:
    site.until(RAIL)
    mine = read_by(site.tablet, site).json()["id"]
    told = ask(site, own(site), {"record": mine}, typed_why="a reason").json()
    assert (told["state"], told["second_reader"]) == ("held", "none")
    assert any("another person" in one for one in told["hold"])


def test_somebody_at_the_office_is_not_of_the_crew(site: Site, office: Caller) -> None:
    site.until(RAIL)
    record = read_by(office, site).json()["id"]
    told = ask(site, own(site), {"record": record}, typed_why="").json()
    assert (told["state"], told["second_reader"]) == ("held", "typed")
    assert told["readers"][1]["how"] == "not_of_crew"


def test_another_value_under_a_record_s_id_is_not_that_reader_s(site: Site, other: Caller) -> None:
    site.until(RAIL)
    key = read_by(other, site, "40 in").json()["id"]
    forged = own(site, id=key, read_by=other.member.name)
    told = ask(site, own(site), forged, typed_why="").json()
    assert (told["state"], told["second_reader"]) == ("held", "typed")


def test_the_two_must_agree_whoever_they_are(site: Site, other: Caller) -> None:
    site.until(RAIL)
    off = length_parse(site.distance("head rail")).nm + 25_400_000
    sixteenths = off * 16 // 25_400_000
    record = read_by(other, site, f"{sixteenths // 16} {sixteenths % 16}/16 in").json()["id"]
    assert ask(site, own(site), {"record": record}).json()["state"] == "held"


def test_a_record_of_another_part_or_install_is_not_there(site: Site, other: Caller) -> None:
    site.until(RAIL)
    strip = read_by(other, site, part="cut_threshold_strip").json()["id"]
    for key in (strip, fresh(), "x"):
        assert_problem(
            ask(site, own(site), {"record": key}), 400, "does_not_exist", "/as_fixed/1/record"
        )


def test_a_reading_belongs_to_a_cut_and_is_one_length(site: Site, other: Caller) -> None:
    assert_problem(read_by(other, site, part="seals_on"), 400, "not_a_reading", "/stop")
    body = {"install": site.id, "kind": "as_fixed", "stop": RAIL, "taken_at": site.now()}
    answer = other.put(f"/api/v1/install-records/{fresh()}/", body)
    assert_problem(answer, 400, "required", "/values")
    values = [{"name": "as_fixed", "value": "58 in", "tool": TAPE}] * 2
    answer = other.put(f"/api/v1/install-records/{fresh()}/", {**body, "values": values})
    assert_problem(answer, 400, "one_reading", "/values")
    assert not Record.objects.exists()


def test_in_a_browser_each_reads_for_themselves(site: Site, other: Caller, lead: Caller) -> None:
    site.booking.crew.places.create(member=lead.member, is_lead=True)
    site.until(RAIL)
    path = f"/api/v1/installs/{site.id}"
    mine = {"part": "head rail", "first_value": site.distance("head rail")}
    assert_problem(lead.post(f"{path}/mark/", mine), 409, "second_reading_missing")
    value = {"part": "head rail", "value": site.distance("head rail")}
    assert other.post(f"{path}/read/", value).status_code == 201

    told = lead.post(f"{path}/mark/", mine).json()
    assert (told["state"], told["second_reader"]) == ("released", "own")
