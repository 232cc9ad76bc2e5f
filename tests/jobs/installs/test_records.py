"""Are stops recorded in their order, without ever losing what was recorded out of it?"""

from datetime import datetime, timedelta
from typing import Any

import pytest

from contractor.notices.models import Notice
from fitcheck.rules.length import length_parse
from jobs.installs.models import Install, Record
from jobs.surveys.models import Refused
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory, MemberFactory, tablet_made
from tests.goods import InspectionFactory, LineFactory, OrderFactory
from tests.site import START, Site, cure_told, fresh, site_of

SLIDER = [
    "glass_inspected",
    "opening_reread",
    "backing_located",
    "brackets_fixed",
    "cut_head_rail",
    "cut_threshold_strip",
    "catches_in",
    "doors_aligned",
    "seals_on",
    "bead_run",
    "leak_check",
    "final_photos",
    "handed_over",
]


@pytest.mark.parametrize(
    ("like", "cuts"), [("s-12", ["cut_threshold_strip"]), ("s-14", ["cut_stay_bar"])]
)
def test_the_list_fits_the_kind_of_door(
    tablet: Caller, measurer: Caller, like: str, cuts: list[str]
) -> None:
    """Hinged and fixed glass have no head-rail cut; a fixed screen has no door to align."""
    site = site_of(tablet, measurer, like)
    keys = [one["key"] for one in site.start().json()["stops"]]
    assert [one for one in keys if one.startswith("cut_")] == cuts
    assert "catches_in" not in keys
    assert keys[-1] == "handed_over"


def test_a_slider_s_stops_are_those_of_the_trade_in_order(site: Site) -> None:
    assert [one["key"] for one in site.install["stops"]] == SLIDER


def test_the_whole_list_is_walked_and_the_cure_is_told(site: Site) -> None:
    site.until("handed_over")
    bead = site.stop("bead_run")["at"]
    answer = site.plain("finish")
    assert (answer.status_code, answer.json()["state"]) == (201, "done")

    told = site.read()
    assert told["state"] == "curing"
    dry, ran = datetime.fromisoformat(told["earliest_use"]), datetime.fromisoformat(bead)
    hours = cure_told(site)
    assert timedelta(hours=hours) <= dry - ran < timedelta(hours=hours, minutes=15)
    assert told["cure"]["window"]["source"]["page"]
    assert "Keep it dry until" in told["next"]
    notices = list(Notice.objects.filter(about=site.id).values_list("type", flat=True))
    assert notices[-2:] == ["install.finished", "install.cured_at_known"]


def test_the_cure_is_in_real_hours_when_the_clocks_go_forward(
    tablet: Caller, measurer: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    """New York, 14 March 2027, 2:00 becomes 3:00."""
    monkeypatch.setattr("tests.site.START", datetime.fromisoformat("2027-03-13T10:00:00-05:00"))
    site = site_of(tablet, measurer, job__site__time_zone="America/New_York")
    site.start()
    site.until("handed_over")
    site.plain("finish")
    told = site.read()
    ran = datetime.fromisoformat(site.stop("bead_run")["at"])
    dry = datetime.fromisoformat(told["earliest_use"])
    hours = cure_told(site)
    assert timedelta(hours=hours) <= dry - ran < timedelta(hours=hours, minutes=15)
    assert "The clocks go forward" in told["cure"]["do"]
    assert "(EDT)" in told["next"]


def test_a_record_before_its_turn_is_kept_marked_and_counts_for_nothing(site: Site) -> None:
    answer = site.record("seals_on")
    told = answer.json()
    assert (answer.status_code, told["counts"]) == (201, False)
    assert told["first"].startswith("Glass inspected comes first. ")
    assert "Every panel is sound" in told["first"]
    assert site.stop("seals_on")["out_of_order"] == [told["id"]]
    assert site.stop("seals_on")["state"] == "open"


def test_facts_that_arrive_the_wrong_way_round_count_by_their_own_times(site: Site) -> None:
    early = [site.body(key) for key in SLIDER[:4]]
    for body in reversed(early):
        assert site.put_record(body).status_code == 201
    states = [one["state"] for one in site.read()["stops"]]
    assert states == ["done"] * 4 + ["open"] * 9
    assert not any(one["out_of_order"] for one in site.read()["stops"])


def test_a_finish_that_arrives_first_finishes_when_the_rest_is_here(site: Site) -> None:
    stops = [one for one in SLIDER[:-1] if not one.startswith("cut_")]
    site.until("cut_head_rail")
    site.mark("head rail")
    site.mark("threshold strip")
    bodies = [site.body(key) for key in stops[4:]]
    answer = site.plain("finish")
    assert answer.json()["state"] == "held"
    assert answer.json()["outcome"]["do"][0].startswith("First: Catches")
    for body in reversed(bodies):
        site.put_record(body)
    finished = datetime.fromisoformat(site.read()["finished_at"])
    assert finished == datetime.fromisoformat(answer.json()["taken_at"])


def test_two_clocks_may_differ_by_a_minute(site: Site) -> None:
    first = site.body("glass_inspected")
    site.put_record(first)
    earlier = datetime.fromisoformat(first["taken_at"]) - timedelta(minutes=1)
    answer = site.record("opening_reread", taken_at=earlier.isoformat())
    assert answer.json()["counts"] is True


@pytest.mark.parametrize(
    ("lack", "says"),
    [
        ({"photos": []}, "photo"),
        ({"yes": []}, "Every fixing holds"),
        ({"second_person": ""}, "second person"),
        ({"second_person": "hien  PHAN"}, "second person"),
        ({"readings": []}, "The distance as fixed"),
    ],
)
def test_a_record_that_lacks_something_says_what(
    site: Site, lack: dict[str, Any], says: str
) -> None:
    site.until("brackets_fixed")
    told = site.record("brackets_fixed", **lack).json()
    assert told["state"] == "incomplete"
    assert any(says in one for one in told["outcome"]["missing"])
    assert site.stop("brackets_fixed")["state"] == "open"


def shifted(text: str, nm: int) -> str:
    sixteenths = (length_parse(text).nm + nm) * 16 // 25_400_000
    return f"{sixteenths // 16} {sixteenths % 16}/16 in"


def test_an_opening_that_differs_from_the_survey_is_held_with_what_to_do(site: Site) -> None:
    site.until("opening_reread")
    body = site.body("opening_reread")
    body["readings"][0]["value"] = shifted(body["readings"][0]["value"], 25_400_000)
    told = site.put_record(body).json()
    assert told["state"] == "held"
    assert "Perhaps the tape was started at its 1" in told["outcome"]["do"][0]
    assert told["outcome"]["compared"][0]["state"] == "apart"
    assert site.stop("opening_reread")["state"] == "held"

    site.record("opening_reread")
    assert site.stop("opening_reread")["state"] == "done"


def stud_further_back(survey: dict[str, Any]) -> None:
    for zone in survey["zones"]:
        if zone["surface"] == "left_wall":
            zone["structure"] = "blocking"  # on which the brackets may sit anywhere
    for one in survey["readings"]:
        if (one["quantity"], one["side"]) == ("backing_centre", "left"):
            one["value"] = "4 1/4 in"


def test_left_for_right_is_seen_at_the_backing(tablet: Caller, measurer: Caller) -> None:
    site = site_of(tablet, measurer, "s-03", change=stud_further_back)
    site.start()
    site.until("backing_located")
    body = site.body("backing_located")
    left, right = body["readings"][0]["value"], body["readings"][1]["value"]
    body["readings"][0]["value"], body["readings"][1]["value"] = right, left
    told = site.put_record(body).json()
    assert told["state"] == "held"
    assert told["outcome"]["do"][0].startswith("Left and right are swapped")


def test_a_leak_holds_the_install(site: Site) -> None:
    site.until("leak_check")
    site.record("leak_check", result="leaks")
    assert site.stop("leak_check")["state"] == "held"
    assert site.plain("finish").json()["state"] == "held"
    site.record("leak_check", result="after_cure", note="Checked at the follow-up.")
    site.record("final_photos")
    assert site.plain("finish").json()["state"] == "done"
    assert site.read()["finished_at"] is not None


def test_a_lead_may_let_a_stop_be_passed_with_a_reason(site: Site) -> None:
    answer = site.plain("skip", stop="glass_inspected")
    assert_problem(answer, 400, "required", "/reason")
    answer = site.plain("skip", stop="glass_inspected", reason="Looked at in the yard.")
    assert (answer.status_code, answer.json()["state"]) == (201, "skipped")
    assert site.stop("glass_inspected")["state"] == "skipped"
    assert Notice.objects.get(type="install.stop_recorded").reason == "Looked at in the yard."


def test_a_helper_may_not(site: Site, helper: Caller) -> None:
    site.booking.crew.places.create(member=helper.member)
    body = {
        "install": site.id,
        "kind": "skip",
        "stop": "glass_inspected",
        "reason": "no time",
        "taken_at": START.isoformat(),
    }
    answer = helper.put(f"/api/v1/install-records/{fresh()}/", body)
    assert_problem(answer, 403, "lead_needed")
    assert not Record.objects.exists()


def test_snags_are_told_until_they_are_put_right(site: Site) -> None:
    snag = site.plain("snag", note="Scratch on the towel bar.").json()
    assert [one["note"] for one in site.read()["snags"]] == ["Scratch on the towel bar."]
    site.plain("snag_fixed", fixes=snag["id"])
    assert site.read()["snags"] == []


def test_a_stop_that_is_none_is_refused_with_those_that_are(site: Site) -> None:
    body = site.body("seals_on") | {"stop": "seals"}
    told = assert_problem(site.put_record(body), 400, "stop_unknown", "/stop")
    assert "seals_on" in told["hint"]


def test_sent_twice_it_is_there_once_and_another_body_is_refused_and_kept(site: Site) -> None:
    uuid, body = fresh(), site.body("glass_inspected")
    assert site.put_record(body, uuid).status_code == 201
    assert site.put_record(body, uuid).status_code == 200
    other = {**body, "note": "Chip at the foot."}
    assert_problem(site.put_record(other, uuid), 409, "id_taken", "/id")
    assert_problem(site.put_record(other, uuid), 409, "id_taken", "/id")
    assert Record.objects.count() == 1
    assert [one.body["note"] for one in Refused.objects.all()] == ["Chip at the foot."]


def test_a_second_tablet_s_start_leads_to_the_first_and_its_facts_are_taken(site: Site) -> None:
    other = tablet_made(site.tablet.member, name="Grey tablet")
    second = Caller().with_token(other[1])
    uuid = fresh()
    body = {"booking": site.booking.number, "started_at": START.isoformat()}
    answer = second.put(f"/api/v1/installs/{uuid}/", body)
    assert (answer.status_code, answer.json()["id"]) == (200, site.id)
    record = site.body("glass_inspected") | {"install": uuid}
    answer = second.put(f"/api/v1/install-records/{fresh()}/", record)
    assert (answer.status_code, answer.json()["install"]) == (201, site.id)
    assert Install.objects.count() == 1


def test_another_crew_s_install_is_not_there(site: Site) -> None:
    member = MemberFactory(role="lead")
    CrewFactory(members=[member])
    foreign = Caller().with_token(tablet_made(member)[1])
    assert foreign.get(f"/api/v1/installs/{site.id}/").status_code == 404
    body = site.body("glass_inspected")
    answer = foreign.put(f"/api/v1/install-records/{fresh()}/", body)
    absent = foreign.put(f"/api/v1/install-records/{fresh()}/", body | {"install": fresh()})
    assert (answer.status_code, answer.json()["code"]) == (400, "does_not_exist")
    assert absent.json()["code"] == "does_not_exist"
    start = {"booking": site.booking.number, "started_at": START.isoformat()}
    assert foreign.put(f"/api/v1/installs/{fresh()}/", start).status_code == 400


@pytest.mark.parametrize("uuid", ["one", "1234", "01890a5d-ac96-774b-bcce-b302099a805"])
def test_an_id_that_is_no_uuid_is_refused(site: Site, uuid: str) -> None:
    answer = site.put_record(site.body("glass_inspected"), uuid)
    assert_problem(answer, 400, "not_a_uuid", "/id")


def test_glass_that_came_unsound_holds_the_first_stop(site: Site) -> None:
    job = site.booking.job
    order = OrderFactory(job=job)
    line = LineFactory(order=order, opening=job.openings.get(), name="outer panel")
    InspectionFactory(line=line, condition="damaged")
    told = site.record("glass_inspected").json()
    assert told["state"] == "held"
    assert "outer panel" in told["outcome"]["do"][-1]
