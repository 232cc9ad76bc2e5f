"""Does a claim keep its evidence, run the right clocks, and end with outcome and cost?"""

from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, transaction
from rest_framework.test import APIClient

from contractor.api.callers import SYSTEM
from contractor.customers.services import customer_create
from contractor.notices.models import Notice
from fitcheck.kits.models import Kit
from jobs.claims.models import Claim, Evidence, Warranty
from jobs.claims.paper import claim_paper_data
from jobs.claims.services import claim_open
from jobs.jobs.life import job_move
from jobs.jobs.models import Job
from tests.clients import Caller, assert_problem
from tests.factories import (
    JobFactory,
    survey_case,
)
from tests.goods import ArrivalFactory, LossFactory, WarrantyFactory
from tests.world import jpeg

CLAIMS = "/api/v1/claims/"


@pytest.fixture
def carrier_claim(office: Caller) -> Claim:
    """Damage found two days after a delivery on Monday 2 November 2026."""
    delivery = ArrivalFactory()
    return claim_open(
        by=SYSTEM,
        job=delivery.order.job,
        kind="damage",
        against="carrier",
        summary="outer panel chipped",
        delivery=delivery,
        found_on=date(2026, 11, 4),
    )


def act(caller: Caller, claim: Claim, action: str, **sent: Any) -> Any:
    return caller.post(f"{CLAIMS}{claim.number}/{action}/", sent, seen="*")


def clocks(claim: Claim) -> dict[str, str]:
    return {one.clock: one.ends_on.isoformat() for one in claim.deadlines.all()}


def test_clocks_of_the_law_start_with_the_claim(carrier_claim: Claim) -> None:
    ends = clocks(carrier_claim)
    assert ends["concealed damage told"] == "2026-11-09"
    assert {"claim filed with the carrier", "seller told of the defect"} <= set(ends)


def test_filing_meets_our_clocks_and_starts_the_carriers(
    office: Caller, carrier_claim: Claim
) -> None:
    reply = act(office, carrier_claim, "file", on="2026-11-05", how="By registered mail")
    assert reply.data["state"] == "filed"
    ends = clocks(carrier_claim)
    # 49 CFR 370.5: 30 days to acknowledge; 370.9: 120 days to pay, decline or offer.
    assert ends["carrier acknowledges"] == "2026-12-05"
    assert ends["carrier pays, declines or offers"] == "2027-03-05"
    met = carrier_claim.deadlines.exclude(met_on=None)
    filed = {"concealed damage told", "claim filed with the carrier"}
    assert {one.clock for one in met} == filed


def test_a_refusal_starts_the_clock_of_a_suit(office: Caller, carrier_claim: Claim) -> None:
    assert_problem(
        act(office, carrier_claim, "refuse", on="2026-12-01", why="no"), 409, "claim_state"
    )
    act(office, carrier_claim, "file", on="2026-11-05", how="By mail")
    early = act(office, carrier_claim, "refuse", on="2026-11-04", why="no")
    assert_problem(early, 400, "day_out_of_order", "/on")
    act(office, carrier_claim, "refuse", on="2026-12-01", why="Packed badly")
    suit = next(end for clock, end in clocks(carrier_claim).items() if clock.startswith("suit"))
    assert suit == "2028-12-01"  # 49 USC 14706(e): no less than two years and a day's notice


def test_money_has_a_currency_and_comes_back_as_it_was_sent(
    office: Caller, carrier_claim: Claim
) -> None:
    half = act(office, carrier_claim, "settle", outcome="paid", says="Paid", cost="12.50")
    assert_problem(half, 400, "money_in_halves", "/currency")
    bad = act(office, carrier_claim, "settle", outcome="paid", says="x", cost="1", currency="us")
    assert_problem(bad, 400, "not_a_currency", "/currency")
    paid = act(
        office, carrier_claim, "settle", outcome="paid", says="Paid", cost="12.50", currency="USD"
    )
    assert (paid.data["cost"], paid.data["currency"], paid.data["state"]) == (
        "12.50",
        "USD",
        "settled",
    )
    assert_problem(
        act(office, carrier_claim, "settle", outcome="paid", says="x"), 409, "claim_state"
    )


def test_deadlines_stand_in_order_and_leave_with_the_claim(
    office: Caller, carrier_claim: Claim
) -> None:
    rows = office.get("/api/v1/deadlines/").json()["results"]
    ends = [one["ends_on"] for one in rows]
    assert ends == sorted(ends)
    assert all(isinstance(one["days_left"], int) for one in rows)
    svg = office.get("/api/v1/deadlines/timeline.svg/").content.decode()
    assert f"{carrier_claim.number} concealed damage told by 2026-11-09" in svg
    act(office, carrier_claim, "settle", outcome="none", says="It was dirt")
    assert office.get("/api/v1/deadlines/").json()["results"] == []


def test_days_left_are_counted_on_the_sites_calendar(
    office: Caller, carrier_claim: Claim, monkeypatch: pytest.MonkeyPatch
) -> None:
    late = datetime(2026, 11, 10, 3, tzinfo=UTC)  # still the ninth in New York
    monkeypatch.setattr("jobs.claims.shapes.timezone.now", lambda: late)
    row = office.get("/api/v1/deadlines/").json()["results"][0]
    assert (row["clock"], row["days_left"]) == ("concealed damage told", 0)


def test_evidence_and_statements_only_grow(office: Caller, carrier_claim: Claim) -> None:
    act(office, carrier_claim, "show", note="Edge seen", taken_at="2026-11-04T10:00:00-05:00")
    act(
        office,
        carrier_claim,
        "say",
        party="carrier",
        name="Ivo",
        text="We look.",
        said_at="2026-11-05T10:00:00-05:00",
    )
    empty = act(office, carrier_claim, "show", taken_at="2026-11-04T10:00:00-05:00")
    assert empty.status_code == 400
    told = claim_paper_data(claim=Claim.objects.get(pk=carrier_claim.pk))
    assert (told["evidence"][0]["author"], told["statements"][0]["text"]) == (
        "Imke Thorsby",
        "We look.",
    )
    assert told["delivery"]["carrier"] == "Bramblewick Freight (invented)"
    with pytest.raises(IntegrityError, match="only ever grow"), transaction.atomic():
        Evidence.objects.update(note="something else")


def test_an_install_notes_the_warranty_of_the_sheet_and_it_follows_the_site(office: Caller) -> None:
    case = survey_case("fits")
    office.post("/api/v1/surveys/", case.body)
    case.opening.kit = Kit.objects.get(pk=case.kit.pk)
    case.opening.save()
    job = Job.objects.get(pk=case.opening.job_id)
    Job.objects.filter(pk=job.pk).update(state="booked")
    job_move(by=SYSTEM, job=job, action="install", reason="Record on paper")
    warranty = Warranty.objects.get(opening=case.opening)
    years = warranty.sheet.body["warranty"]["years"]
    assert warranty.ends_on.year - warranty.installed_on.year == years
    new = customer_create(by=SYSTEM, name="Wilna Tern", email="wilna@example.com")
    job.site.customer = new
    job.site.save()
    rows = office.get(f"/api/v1/warranties/?customer={new.number}").json()["results"]
    assert [one["opening"] for one in rows] == [case.opening.number]
    assert rows[0]["source"]["status"] == "kit sheet"


def test_a_warranty_claim_knows_until_when(office: Caller) -> None:
    warranty = WarrantyFactory()
    reply = office.post(
        CLAIMS,
        {
            "job": warranty.opening.job.number,
            "opening": warranty.opening.number,
            "kind": "warranty",
            "against": "maker",
            "summary": "Roller worn",
        },
    )
    told = {one["clock"]: one["ends_on"] for one in reply.data["deadlines"]}
    years = warranty.sheet.body["warranty"]["years"]
    assert told["warranty ends"] == f"{2026 + years}-10-01"
    assert reply.data["sheet"] == warranty.sheet.key


def test_a_job_with_an_open_claim_is_not_closed(office: Caller) -> None:
    job = JobFactory(state="followed_up")
    claim = claim_open(by=SYSTEM, job=job, kind="damage", against="firm", summary="scratch")
    path = f"/api/v1/jobs/{job.number}/move/"
    body = assert_problem(office.post(path, {"action": "close"}, seen="*"), 409, "not_yet")
    assert claim.number in body["detail"]
    act(office, claim, "settle", outcome="repaired", says="Polished")
    assert office.post(path, {"action": "close"}, seen="*").data["state"] == "closed"


def test_evidence_comes_from_a_browser_with_its_photo(office: Caller) -> None:
    job = JobFactory()
    claim = claim_open(by=SYSTEM, job=job, kind="damage", against="maker", summary="Corner gone")
    digest, data = jpeg("peru")
    path = f"/api/v1/claims/{claim.number}/"
    form = {"upload": SimpleUploadedFile("corner.jpg", data, "image/jpeg"), "_version": "1"}
    answer = APIClient.post(office, f"{path}show/", form, format="multipart")
    assert answer.status_code == 200, answer.content
    assert [one.photo for one in claim.evidence.all()] == [digest]
    page = office.get(path, headers={"Accept": "text/html"}).content.decode()
    assert 'name="upload"' in page
    assert f"/api/v1/packets/?job={job.number}&amp;kind=claim" in page
    nothing = APIClient.post(office, f"{path}show/", {"_version": "2"}, format="multipart")
    assert_problem(nothing, 400, "nothing_sent")


@pytest.mark.parametrize(("losses", "state"), [(1, "written"), (2, "missing")])
def test_what_a_claim_cost_is_the_cost_of_the_one_error_behind_it(
    office: Caller, losses: int, state: str
) -> None:
    job = JobFactory()
    claim = claim_open(by=SYSTEM, job=job, kind="damage", against="maker", summary="Corner gone")
    for _ in range(losses):
        LossFactory(job=job, claim=claim, cost=0, cost_state="missing")
    told = {"outcome": "replaced", "says": "A new one came.", "cost": "40.00", "currency": "USD"}
    path = f"/api/v1/claims/{claim.number}/settle/"
    assert office.post(path, told, seen=1).status_code == 200
    assert {one.cost_state for one in claim.losses.all()} == {state}
    written = Notice.objects.filter(type="loss.changed").count()
    assert written == (1 if state == "written" else 0)
