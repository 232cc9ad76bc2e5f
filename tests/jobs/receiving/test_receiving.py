"""Do goods come in piece by piece, harmless to send twice, and does what is amiss become a claim?"""

from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, transaction
from rest_framework.test import APIClient

from contractor.notices.models import Notice
from jobs.claims.models import Claim
from jobs.jobs.models import Job
from jobs.receiving.models import Delivery, Inspection, Line, Order
from jobs.receiving.services import goods_standing
from jobs.surveys.models import Refused
from tests.clients import Caller, assert_problem
from tests.factories import (
    CrewFactory,
    fresh_uuid,
    survey_case,
)
from tests.goods import LineFactory, OrderFactory
from tests.world import jpeg


@pytest.fixture
def order(office: Caller) -> Order:
    """Two panels and a rail for one opening."""
    made: Order = OrderFactory()
    first = LineFactory(order=made, name="inner panel")
    LineFactory(order=made, name="outer panel", opening=first.opening)
    LineFactory(order=made, name="head rail", what="part", opening=first.opening)
    return made


def line(order: Order, name: str) -> str:
    return str(Line.objects.get(order=order, name=name).number)


def found(order: Order, **conditions: str) -> list[dict[str, Any]]:
    """How each piece was found: sound, unless told."""
    return [
        {
            "id": fresh_uuid(),
            "line": one.number,
            "condition": conditions.get(one.name.replace(" ", "_"), "sound"),
            "count": one.count,
        }
        for one in order.lines.all()
    ]


def body(order: Order, **changes: Any) -> dict[str, Any]:
    return {
        "order": order.number,
        "carrier": "Bramblewick Freight (invented)",
        "arrived_at": "2026-11-02T15:00:00-05:00",
        "inspections": found(order),
        **changes,
    }


def put(caller: Caller, key: str, sent: dict[str, Any]) -> Any:
    return caller.put(f"/api/v1/arrivals/{key}/", sent)


def test_everything_sound_is_received(yard: Caller, order: Order) -> None:
    assert put(yard, fresh_uuid(), body(order)).status_code == 201
    standing = goods_standing(job=order.job)
    assert (standing.expected, standing.received, standing.damaged) == (True, True, ())
    assert not Claim.objects.exists()


def test_a_repeated_delivery_changes_nothing(yard: Caller, order: Order) -> None:
    key, sent = fresh_uuid(), body(order)
    first = put(yard, key, sent)
    notices = Notice.objects.count()
    again = put(yard, key, sent)
    assert (first.status_code, again.status_code) == (201, 200)
    assert again.json()["inspections"] == first.json()["inspections"]
    assert (Delivery.objects.count(), Notice.objects.count()) == (1, notices)


def test_another_body_under_the_same_id_is_refused_and_kept(yard: Caller, order: Order) -> None:
    key, sent = fresh_uuid(), body(order)
    put(yard, key, sent)
    for _ in range(2):
        other = {**sent, "carrier": "Somebody else"}
        assert_problem(put(yard, key, other), 409, "id_taken", "/id")
    assert Refused.objects.get().body["carrier"] == "Somebody else"
    assert Delivery.objects.get().carrier != "Somebody else"


def test_a_damaged_panel_opens_a_claim_with_photo_and_clocks(yard: Caller, order: Order) -> None:
    digest, _ = jpeg("gold")
    sent = body(order, packaging="damaged", noted_at_door=True)
    sent["inspections"] = found(order, inner_panel="damaged")
    sent["inspections"][0] |= {"photos": [digest], "note": "Corner chipped"}
    told = put(yard, fresh_uuid(), sent).json()
    assert told["missing_photos"] == [digest]
    claim = Claim.objects.get(delivery_id=told["id"])
    assert told["claims"] == [claim.number]
    assert (claim.against, claim.found_on.isoformat()) == ("carrier", "2026-11-02")
    evidence = claim.evidence.get()
    assert (evidence.photo, evidence.author) == (digest, "Sunniva Holt")
    assert "Corner chipped" in evidence.note
    # Five business days after Monday 2 November 2026, and nine months, as the rules' own tests have
    # them from their sources.
    assert claim.deadlines.get(clock__startswith="concealed").ends_on.isoformat() == "2026-11-09"
    assert claim.deadlines.get(clock__startswith="claim filed").ends_on.isoformat() == "2027-08-02"
    assert all(one.source for one in claim.deadlines.all())


@pytest.mark.parametrize("condition", ["damaged", "short", "wrong"])
def test_in_sound_packaging_it_is_the_makers(yard: Caller, order: Order, condition: str) -> None:
    put(yard, fresh_uuid(), body(order, inspections=found(order, outer_panel=condition)))
    assert Claim.objects.get().against == "maker"
    standing = goods_standing(job=order.job)
    assert standing.received is False
    assert bool(standing.damaged) is (condition != "short")
    assert f"outer panel of {order.lines.all()[0].opening.number}: {condition}" in standing.why


def test_a_later_look_replaces_an_earlier_and_opens_the_claim(yard: Caller, order: Order) -> None:
    sent = body(order)
    told = put(yard, fresh_uuid(), sent).json()
    first = next(one for one in sent["inspections"] if one["line"] == line(order, "inner panel"))
    later = {
        "delivery": told["id"],
        "line": first["line"],
        "condition": "damaged",
        "replaces": [first["id"]],
        "note": "Seen when unwrapped",
    }
    path = f"/api/v1/inspections/{fresh_uuid()}/"
    assert yard.put(path, later).status_code == 201
    assert yard.put(path, later).status_code == 200
    assert len(goods_standing(job=order.job).damaged) == 1
    assert Claim.objects.get().evidence.count() == 1
    assert_problem(yard.put(path, {**later, "note": "No"}), 409, "id_taken")


def test_a_piece_of_another_order_is_refused(yard: Caller, order: Order) -> None:
    sent = body(order, inspections=[{**found(order)[0], "line": LineFactory().number}])
    assert_problem(put(yard, fresh_uuid(), sent), 400, "not_of_this_order", "/inspections/0/line")
    assert not Delivery.objects.exists()


def test_a_damaged_panel_parks_the_job_and_blocks_the_install(office: Caller) -> None:
    case = survey_case("fits")
    office.post("/api/v1/surveys/", case.body)
    office.patch(f"/api/v1/openings/{case.opening.number}/", {"kit": case.kit.slug}, seen=1)
    job = Job.objects.get(pk=case.opening.job_id)
    office.post(f"/api/v1/jobs/{job.number}/move/", {"action": "decide"}, seen="*")
    told = office.post("/api/v1/orders/", {"job": job.number}).json()
    assert [one["name"] for one in told["lines"]][:2] == ["inner panel", "outer panel"]
    order = Order.objects.get()
    put(office, fresh_uuid(), body(order, inspections=found(order, inner_panel="damaged")))
    visit = {
        "job": job.number,
        "crew": CrewFactory().slug,
        "visit": "install",
        "starts_at": "2027-03-02T14:00:00Z",
        "ends_at": "2027-03-02T17:00:00Z",
    }
    blocked = assert_problem(office.post("/api/v1/bookings/", visit), 409, "goods_damaged")
    assert "inner panel" in blocked["detail"]
    claim = Claim.objects.get()
    reply = office.post(f"/api/v1/claims/{claim.number}/remake/", {}, seen=1)
    remake = Order.objects.get(kind="piece")
    assert reply.data["remake"] == remake.number
    assert [one.name for one in remake.lines.all()] == ["inner panel"]
    path = f"/api/v1/orders/{remake.number}/"
    assert [one["state"] for one in office.get(path).json()["lines"]] == ["awaited"]
    assert_problem(office.post("/api/v1/bookings/", visit), 409, "goods_damaged")
    put(office, fresh_uuid(), body(remake))
    assert [one["state"] for one in office.get(path).json()["lines"]] == ["sound"]
    job.refresh_from_db()
    assert job.state == "received"
    assert office.post("/api/v1/bookings/", visit).status_code == 201
    job.refresh_from_db()
    assert job.state == "booked"


def test_the_desk_records_an_arrival_and_finds_a_piece_sound(yard: Caller, order: Order) -> None:
    path = f"/api/v1/orders/{order.number}/"
    assert yard.post(f"{path}arrive/", {"carrier": "Bramblewick"}, seen=1).status_code == 200
    sound = {"line": line(order, "head rail"), "condition": "sound"}
    told = yard.post(f"{path}inspect/", sound, seen=2).json()
    assert {one["name"]: one["state"] for one in told["lines"]}["head rail"] == "sound"
    assert_problem(yard.post(f"{path}inspect/", sound, seen=2), 412, "version_stale")
    assert Inspection.objects.count() == 1


def test_an_order_that_something_came_of_is_not_cancelled(office: Caller, order: Order) -> None:
    put(office, fresh_uuid(), body(order))
    path = f"/api/v1/orders/{order.number}/cancel/"
    assert_problem(office.post(path, {"why": "no"}, seen="*"), 409, "order_not_open")


def test_a_glass_order_names_its_pieces(office: Caller, order: Order) -> None:
    sent = {"job": order.job.number, "kind": "glass"}
    assert_problem(office.post("/api/v1/orders/", sent), 400, "lines_missing", "/lines")


def test_inspections_only_grow(order: Order, yard: Caller) -> None:
    put(yard, fresh_uuid(), body(order))
    with pytest.raises(IntegrityError, match="only ever grow"), transaction.atomic():
        Inspection.objects.update(condition="damaged")


def test_the_yard_puts_its_photos_itself_and_they_are_the_claim_s_evidence(
    yard: Caller, order: Order
) -> None:
    digest, data = jpeg("peru")
    path = f"/api/v1/photos/{digest}/"
    assert yard.generic("PUT", path, data, content_type="image/jpeg").status_code == 201
    sent = body(order, inspections=found(order, inner_panel="damaged"))
    sent["inspections"][0]["photos"] = [digest]
    told = put(yard, fresh_uuid(), sent).json()
    assert told["missing_photos"] == []
    assert [one.photo for one in Claim.objects.get().evidence.all()] == [digest]


def test_a_piece_is_looked_over_in_a_browser_with_its_photo(yard: Caller, order: Order) -> None:
    _, data = jpeg("peru")
    put(yard, fresh_uuid(), body(order, inspections=[]))
    form = {
        "line": line(order, "inner panel"),
        "condition": "damaged",
        "count": "1",
        "photo": SimpleUploadedFile("corner.jpg", data, "image/jpeg"),
        "_version": "2",
    }
    path = f"/api/v1/orders/{order.number}/inspect/"
    answer = APIClient.post(yard, path, form, format="multipart")
    assert answer.status_code == 200, answer.content
    [row] = Claim.objects.get().evidence.all()
    assert row.photo == Inspection.objects.get().photos[0]
    assert yard.get(f"/api/v1/photos/{row.photo}/").status_code == 200
