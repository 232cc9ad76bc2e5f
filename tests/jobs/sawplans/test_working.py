"""Is a plan laid out once by whoever claims it, told with its proof, drawn, and given up visibly?"""

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from contractor.notices.models import Notice
from fitcheck.rules.length import length_parse
from jobs.sawplans import services
from jobs.sawplans.models import SawPlan
from jobs.sawplans.services import saw_plan_work, saw_plans_waiting
from jobs.sawplans.tasks import sweep
from tests.clients import Caller, assert_problem
from tests.factories import saw_plan_asked

pytestmark = pytest.mark.django_db


def url(plan: SawPlan) -> str:
    return f"/api/v1/saw-plans/{plan.number}/"


def test_a_plan_says_its_bars_by_profile_with_the_proof(office: Caller) -> None:
    """Two of 59 9/16 and one of 22 in: 141 1/8 + 2 kerfs + 2 trims = 141 7/8 in, one bar of 144."""
    plan = saw_plan_asked()

    assert saw_plan_work(key=plan.pk) is True

    told = office.get(url(plan)).data
    result = told["result"]
    assert (told["state"], told["percent"], told["attempts"]) == ("done", 100, 1)
    assert (result["state"], result["bar_count"], result["cost"]) == ("fits", 2, "128.00")
    assert result["proven"] is True
    assert [one["profile"] for one in result["profiles"]] == ["head rail", "threshold"]
    (bar,) = result["profiles"][0]["bars"]
    assert sorted(one["length"]["inch"] for one in bar["pieces"]) == ["22 in"] + ["59 9/16 in"] * 2
    assert any("releases no mark" in one for one in result["cautions"])
    assert saw_plan_work(key=plan.pk) is False
    assert Notice.objects.filter(type="saw_plan.done").count() == 1


def test_nothing_of_a_bar_is_lost_track_of() -> None:
    plan = saw_plan_asked()
    saw_plan_work(key=plan.pk)
    plan.refresh_from_db()
    for profile in plan.result["profiles"]:
        for bar in profile["bars"]:
            parts = sum(length_parse(one["length"]["mm"]).nm for one in bar["pieces"])
            rest = length_parse(bar["rest"]["mm"]).nm if bar["offcut_kept"] else 0
            lost = length_parse(bar["lost"]).nm
            assert parts + rest + lost == length_parse(bar["length"]["mm"]).nm


def test_an_offcut_of_a_profile_is_used_for_it_alone(office: Caller) -> None:
    offcut = {"kind": "offcut", "length": "23 in", "profile": "head rail", "name": "rack 3"}
    plan = saw_plan_asked(stock=[offcut])

    saw_plan_work(key=plan.pk)

    plan.refresh_from_db()
    used = {(p["profile"], b["bar"]) for p in plan.result["profiles"] for b in p["bars"]}
    assert ("threshold", "rack 3") not in used
    assert plan.result["cost"] == "128.00"


def test_parts_without_a_bar_are_said_and_never_left_out_in_silence(office: Caller) -> None:
    only_rails = {"kind": "new", "length": "100 in", "profile": "head rail"}
    plan = saw_plan_asked(bar_length="20 in", stock=[only_rails])

    saw_plan_work(key=plan.pk)

    told = office.get(url(plan)).data["result"]
    assert told["state"] == "fails"
    (uncut,) = told["profiles"][1]["uncut"]
    assert (uncut["part"], uncut["why"]) == ("threshold", "longer than every bar")
    page = office.get(url(plan), headers={"Accept": "text/html"}).content.decode()
    assert "No bar for these" in page


def test_a_profile_for_which_no_bar_was_named_is_said() -> None:
    only = {"kind": "new", "length": "100 in", "profile": "head rail"}
    plan = saw_plan_asked(stock=[only])
    plan.asked["stock"] = plan.asked["stock"][1:]
    plan.save()

    saw_plan_work(key=plan.pk)

    plan.refresh_from_db()
    assert [one["why"] for one in plan.result["profiles"][1]["uncut"]] == [
        "no bar of this profile was named"
    ]


def test_each_bar_is_a_picture_at_its_own_address(office: Caller) -> None:
    plan = saw_plan_asked()
    saw_plan_work(key=plan.pk)

    every = office.get(f"{url(plan)}bars/")
    one = office.get(f"{url(plan)}bars/?bar=2")

    assert every["Content-Type"].startswith("image/svg+xml")
    assert "<title>" in every.content.decode()
    assert "J-9001" in every.content.decode()
    assert "J-9001" not in one.content.decode()
    assert "1400 mm" in one.content.decode()
    assert_problem(office.get(f"{url(plan)}bars/?bar=3"), 400, "filter_value", "/bar")
    assert_problem(office.get(f"{url(plan)}bars/?bra=1"), 400, "unknown_filter", "/bra")
    page = office.get(url(plan), headers={"Accept": "text/html"}).content.decode()
    assert page.count("<svg") == 2
    assert f"{url(plan)}bars/?bar=1" in page


def test_a_plan_that_breaks_is_tried_three_times_then_given_up_with_the_reason(
    office: Caller, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(asked: Any, report: Any) -> None:
        raise RuntimeError("the saw is out of order")

    monkeypatch.setattr(services, "plan_worked_out", broken)
    plan = saw_plan_asked()

    states = []
    for _ in range(4):
        saw_plan_work(key=plan.pk)
        plan.refresh_from_db()
        states.append(plan.state)

    assert states == ["wanted", "wanted", "failed", "failed"]
    assert plan.trouble == "the saw is out of order"
    assert Notice.objects.filter(type="saw_plan.failed").count() == 1
    monkeypatch.undo()
    assert office.post(f"{url(plan)}retry/", seen=plan.version).data["state"] == "wanted"
    assert sweep() == 1
    assert_problem(office.post(f"{url(plan)}retry/", seen="*"), 409, "not_failed")


def test_a_worker_that_died_is_replaced_when_its_lease_runs_out() -> None:
    plan = saw_plan_asked()
    now = timezone.now()
    SawPlan.objects.filter(pk=plan.pk).update(
        state="laying_out", attempts=1, lease_until=now + timedelta(seconds=5)
    )

    assert saw_plans_waiting(now=now) == []
    assert saw_plan_work(key=plan.pk, now=now) is False
    assert saw_plans_waiting(now=now + timedelta(seconds=6)) == [plan.pk]
    assert saw_plan_work(key=plan.pk, now=now + timedelta(seconds=6)) is True


def test_one_that_lost_its_lease_marks_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    plan = saw_plan_asked()

    def overtaken(asked: Any, report: Any) -> dict[str, Any]:
        SawPlan.objects.filter(pk=plan.pk).update(attempts=2)
        report(50)
        return {}

    monkeypatch.setattr(services, "plan_worked_out", overtaken)

    assert saw_plan_work(key=plan.pk) is False
    plan.refresh_from_db()
    assert (plan.state, plan.percent, plan.result) == ("laying_out", 10, None)
