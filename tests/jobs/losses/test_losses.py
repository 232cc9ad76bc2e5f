"""Are costs of error summed by cause, crew and kit, and are the guards' saves counted from what happened?"""

from decimal import Decimal

import pytest

from tests.clients import Caller, assert_problem
from tests.factories import (
    CrewFactory,
    JobFactory,
    KitFactory,
    survey_case,
)
from tests.goods import LossFactory

LOSSES = "/api/v1/losses/"


@pytest.fixture
def three(office: Caller) -> None:
    """Two cuts by one crew and a broken pane in another currency."""
    heron, kit = CrewFactory(slug="heron"), KitFactory(slug="tern")
    LossFactory(crew=heron, kit=kit, cost=Decimal("100.10"))
    LossFactory(crew=heron, cost=Decimal("50.05"))
    LossFactory(cause="transit", kind="remake", cost=Decimal("70.00"), currency="CAD")


@pytest.mark.usefixtures("three")
@pytest.mark.parametrize(
    ("by", "expected"),
    [
        ("cause", [("cut_wrong", "150.15", "USD", 2), ("transit", "70.00", "CAD", 1)]),
        ("crew", [("heron", "150.15", "USD", 2), ("not known", "70.00", "CAD", 1)]),
        (
            "kit",
            [
                ("tern", "100.10", "USD", 1),
                ("not known", "70.00", "CAD", 1),
                ("not known", "50.05", "USD", 1),
            ],
        ),
    ],
)
def test_sums_keep_each_currency_by_itself(
    office: Caller, by: str, expected: list[tuple[str, str, str, int]]
) -> None:
    told = office.get(f"{LOSSES}sums/?by={by}").json()
    rows = [(one["name"], one["cost"], one["currency"], one["count"]) for one in told["sums"]]
    assert rows == expected
    assert told["total"] == {"CAD": "70.00", "USD": "150.15"}


@pytest.mark.usefixtures("three")
def test_the_chart_says_its_sums_in_words(office: Caller) -> None:
    svg = office.get(f"{LOSSES}chart.svg/?by=cause").content.decode()
    assert "<title" in svg
    assert "Rail or threshold cut wrong: 150.15 USD, 2 times" in svg


def test_an_unknown_question_is_refused(office: Caller) -> None:
    assert_problem(office.get(f"{LOSSES}sums/?by=moon"), 400, "filter_value", "/by")
    assert_problem(office.get(f"{LOSSES}sums/?since=soon"), 400, "filter_value", "/since")


def test_a_verdict_that_fails_counts_as_saved(office: Caller) -> None:
    before = {one["guard"]: one["count"] for one in office.get(f"{LOSSES}sums/").json()["saves"]}
    office.post("/api/v1/surveys/", survey_case("fails").body)
    after = {one["guard"]: one["count"] for one in office.get(f"{LOSSES}sums/").json()["saves"]}
    assert after["misfit_found"] == before["misfit_found"] + 1


def test_the_kit_of_the_opening_is_taken_when_none_is_named(office: Caller) -> None:
    case = survey_case("fits")
    case.opening.kit = case.kit
    case.opening.save()
    sent = {
        "job": case.opening.job.number,
        "opening": case.opening.number,
        "kind": "miscut",
        "cause": "cut_wrong",
        "says": "short by an inch",
        "cost": "210.00",
    }
    reply = office.post(LOSSES, sent)
    assert (reply.data["kit"], reply.data["currency"]) == (case.kit.slug, "USD")
    other = {**sent, "job": JobFactory().number}
    assert_problem(office.post(LOSSES, other), 400, "not_of_this_job", "/opening")


def test_a_cost_that_nobody_wrote_is_missing_until_somebody_does(office: Caller) -> None:
    LossFactory(cost=Decimal("50.00"))
    sent = {"job": JobFactory().number, "kind": "call_back", "cause": "cut_wrong", "says": "Short."}
    made = office.post(LOSSES, sent).json()
    assert (made["cost"], made["cost_state"]) == ("0.00", "missing")
    [row] = office.get(f"{LOSSES}sums/").json()["sums"]
    assert (row["cost"], row["count"], row["missing"]) == ("50.00", 2, 1)
    [listed] = office.get(f"{LOSSES}?cost_state=missing").json()["results"]
    assert listed["id"] == made["id"]

    worded = office.patch(made["url"], {"says": "Short by an inch."}, seen=1).json()
    assert worded["cost_state"] == "missing"
    free = office.patch(made["url"], {"cost": "0.00"}, seen=2).json()  # it really cost nothing
    assert (free["cost_state"], free["version"]) == ("written", 3)
    assert office.get(f"{LOSSES}sums/").json()["sums"][0]["missing"] == 0


def test_the_page_says_whose_cost_is_missing(office: Caller) -> None:
    loss, html = LossFactory(cost=0, cost_state="missing"), {"Accept": "text/html"}
    page = office.get(LOSSES, headers=html).content.decode()
    assert "1 error has no cost written yet" in page
    assert f"{LOSSES}?cost_state=missing" in page
    assert "240" not in page
    svg = office.get(f"{LOSSES}chart.svg/").content.decode()
    assert "0.00 USD, once (cost missing: 1)" in svg
    own = f"{LOSSES}{loss.number}/"
    assert "cost missing" in page
    assert "Cost missing" in office.get(own, headers=html).content.decode()
    office.patch(own, {"cost": "12.50"}, seen=1)
    assert "Cost missing" not in office.get(own, headers=html).content.decode()
    assert "written yet" not in office.get(LOSSES, headers=html).content.decode()
