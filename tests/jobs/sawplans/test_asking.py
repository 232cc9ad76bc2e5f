"""Is a saw plan asked for by week or by list, and what cannot be sawn refused or left out with its reason?"""

from typing import Any
from uuid import uuid4

import pytest
from django.utils import timezone

from contractor.notices.models import Notice
from fitcheck.rules.length import length_parse
from jobs.bookings.models import Booking
from jobs.installs.models import Install
from jobs.sawplans.models import SawPlan
from jobs.verdicts.models import Verdict
from tests.clients import Caller, assert_problem
from tests.factories import (
    SAW_PLAN,
    CrewFactory,
    JobFactory,
    OpeningFactory,
    survey_body,
    survey_case,
)
from tests.world import booked

PLANS = "/api/v1/saw-plans/"
WEEK = "2027-03-04"  # the Thursday after the tests' first morning


@pytest.fixture
def install(office: Caller) -> Booking:
    """An opening that fits, its install booked on the Tuesday of the week."""
    case = survey_case("fits")
    assert office.post("/api/v1/surveys/", case.body).status_code == 201
    return booked(case.opening.job, CrewFactory())


def week(office: Caller, **changes: Any) -> Any:
    return office.post(PLANS, {"week": WEEK, "bar_length": "144 in", **changes})


def test_a_listed_plan_is_answered_202_with_a_status_to_watch(office: Caller) -> None:
    reply = office.post(PLANS, SAW_PLAN)

    assert reply.status_code == 202
    assert reply["Location"] == reply.data["url"]
    told = office.get(reply["Location"]).data
    assert (told["state"], told["percent"], told["result"]) == ("wanted", 0, None)
    assert [one["profile"] for one in told["pieces"]] == ["head rail", "head rail", "threshold"]
    assert told["stock"] == [{"name": "bought", "kind": "new", "length": "144 in", "cost": "64.00"}]
    assert_problem(office.get(f"{PLANS}{told['id']}/bars/"), 409, "plan_not_ready")
    assert Notice.objects.get(noun="saw_plan").about == told["id"]


def test_a_week_takes_the_verdict_s_lengths_with_the_sheet_s_allowance_and_says_so(
    office: Caller, install: Booking
) -> None:
    told = week(office).json()

    cuts = Verdict.objects.get().result["cuts"]
    assert told["week_of"] == "2027-03-01"
    assert [one["part"] for one in told["pieces"]] == [one["part"] for one in cuts]
    for piece, cut in zip(told["pieces"], cuts, strict=True):
        allowance = length_parse(cut["allowance"]).nm if cut["allowance"] else 0
        predicted = length_parse(cut["length"]["mm"]).nm
        assert length_parse(piece["length"]).nm == predicted + allowance
        assert piece["because"].startswith(f"predicted {cut['length']['inch']}")
        assert piece["status"] == "predicted"
        assert piece["profile"] == f"osquith-tillybeck {cut['part']}"
        assert piece["job"] == install.job.number
    assert told["left_out"] == []


def marked(install: Booking, state: str, length: str) -> Install:
    """A saw mark of the head rail that a crew asked for on site."""
    about = {"booking": install, "opening": install.job.openings.get()}
    sheet = Verdict.objects.get().sheet
    told = {"sheet": sheet, "door": "hinged", "stops": [], "started_by": "Hien", "digest": "x"}
    now = timezone.now()
    row, _ = Install.objects.get_or_create(
        **about, defaults={**told, "id": uuid4(), "started_at": now, "caller": "tablet:1"}
    )
    asked = {"body": {}, "result": {}, "said_by": "Hien", "taken_at": now, "digest": "x"}
    row.marks.create(
        **asked, id=uuid4(), part="head rail", state=state, length=length, caller="tablet:1"
    )
    return row


def test_a_released_mark_goes_before_the_prediction_until_it_is_held_or_fixed(
    office: Caller, install: Booking
) -> None:
    started = marked(install, "released", "57 1/2 in")
    rail = week(office).json()["pieces"][0]
    assert (rail["part"], rail["status"], rail["length"]) == ("head rail", "released", "57 1/2 in")

    marked(install, "held", "")
    assert week(office).json()["pieces"][0]["status"] == "predicted"

    started.finished_at = timezone.now()
    started.save()
    assert_problem(week(office), 409, "nothing_to_saw", "/week")


def test_a_visit_of_another_week_or_kind_is_not_sawn_for(office: Caller, install: Booking) -> None:
    booked(JobFactory(), CrewFactory(), visit="survey")
    assert_problem(week(office, week="2027-03-11"), 409, "nothing_to_saw", "/week")
    assert {one["job"] for one in week(office).json()["pieces"]} == {install.job.number}


def test_what_may_not_be_sawn_is_left_out_with_its_reason(office: Caller, install: Booking) -> None:
    opening = install.job.openings.get()
    newer = survey_body(opening, None)
    assert office.post("/api/v1/surveys/", newer).status_code == 201
    OpeningFactory(job=install.job)

    problem = assert_problem(week(office), 409, "nothing_to_saw", "/week")

    assert "surveyed again" in problem["detail"]
    assert "not surveyed for a kit yet" in problem["detail"]
    assert not SawPlan.objects.exists()


@pytest.mark.parametrize(
    ("change", "code", "pointer"),
    [
        ({"week": WEEK}, "one_of_two", "/week"),
        ({"pieces": None}, "null", "/pieces"),
        ({"pieces": []}, "one_of_two", "/week"),
        ({"bar_length": "144"}, "length_without_unit", "/bar_length"),
        ({"bar_length": None}, "null", "/bar_length"),
        ({"bar_cost": "-1"}, "min_value", "/bar_cost"),
        ({"saw": {"kerf": "-1 mm"}}, "length_out_of_range", "/saw/kerf"),
        ({"saw": {"kref": "1 mm"}}, "unknown_field", "/saw/kref"),
        ({"stock": [{"kind": "offcut", "length": "30 in"}]}, "profile_missing", "/stock/0/profile"),
        ({"stock": [{"length": "0 in"}]}, "not_positive", "/stock/0/length"),
        ({"pieces": [{"job": "x", "part": "y", "length": "1 in", "count": 0}]},
         "min_value", "/pieces/0/count"),
        ({"pieces": [{"job": "x", "part": "y", "length": "1 in", "count": 1500}] * 2},
         "too_many", "/pieces"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_refused_before_a_worker_is_asked(
    office: Caller, change: dict[str, Any], code: str, pointer: str
) -> None:
    answer = office.post(PLANS, {**SAW_PLAN, **change})

    assert answer.status_code == 400, answer.content
    assert (code, pointer) in [(one["code"], one["pointer"]) for one in answer.json()["errors"]]
    assert not SawPlan.objects.exists()


def test_without_a_bar_there_is_no_plan(office: Caller) -> None:
    asked = {name: value for name, value in SAW_PLAN.items() if name != "bar_length"}
    assert_problem(office.post(PLANS, asked), 400, "no_stock", "/bar_length")


def test_the_clerk_s_form_asks_for_a_week(office: Caller, install: Booking) -> None:
    form = {
        "week": WEEK,
        "bar_length": "144 in",
        "bar_cost": "",
        "saw.kerf": "",
        "saw.trim": "0 in",
    }
    office.defaults["HTTP_ACCEPT"] = "text/html"

    answer = office.post(PLANS, form, format="multipart")

    assert answer.status_code == 303, answer.content[:2000]
    plan = SawPlan.objects.get()
    assert plan.asked["saw"] == {"trim": "0 in"}
    assert f"{PLANS}{plan.number}/" in answer["Location"]
    assert "Waiting for a worker" in office.get(answer["Location"]).content.decode()
