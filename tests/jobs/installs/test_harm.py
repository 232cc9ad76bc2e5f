"""Is what went wrong on site told once as a loss, and where another may owe it as a claim? House rules."""

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from fitcheck.rules.length import length_parse
from jobs.claims.models import Claim
from jobs.installs.models import Install
from jobs.jobs.life import job_follow
from jobs.jobs.models import Job
from jobs.losses.models import Loss
from jobs.receiving.models import Inspection, Order
from jobs.receiving.standing import goods_standing
from jobs.verdicts.services import unreplaced
from tests.clients import Caller, assert_problem
from tests.goods import ArrivalFactory, InspectionFactory, LineFactory, OrderFactory
from tests.site import Site, fresh
from tests.world import jpeg

RAIL = "cut_head_rail"


def inch(nm: int) -> str:
    sixteenths = nm * 16 // 25_400_000
    return f"{sixteenths // 16} {sixteenths % 16}/16 in"


def sawn(site: Site, by_mm: int, **more: Any) -> dict[str, Any]:
    """Release the rail's mark, and saw it so much off."""
    site.until(RAIL)
    mark = site.mark("head rail").json()["mark"]
    length = inch(length_parse(mark).nm + by_mm * 1_000_000)
    told: dict[str, Any] = site.plain("sawn", stop=RAIL, sawn=length, **more).json()
    return told


def test_a_rail_sawn_short_is_a_miscut_of_this_crew_and_kit(site: Site) -> None:
    told = sawn(site, -60)

    assert told["state"] == "held"
    loss = Loss.objects.get()
    assert told["loss"] == loss.number
    assert (loss.kind, loss.cause, loss.crew) == ("miscut", "cut_wrong", site.booking.crew)
    assert loss.cost_state == "missing"
    assert loss.kit == Install.objects.get().sheet.kit
    assert (str(loss.record_id), loss.job) == (told["id"], site.booking.job)
    assert loss.says.startswith("Head rail sawn to ")
    assert "Order the part again" in loss.says
    notice = Notice.objects.get(type="loss.recorded")
    assert notice.changes["record"] == [None, told["id"]]
    assert told["claim"] == ""  # nobody but the firm sawed it
    assert not Claim.objects.exists()


def test_after_a_miscut_a_new_rail_gets_its_mark_once_it_is_said_to_be_there(site: Site) -> None:
    sawn(site, -60)
    held = site.mark("head rail").json()
    assert (held["state"], site.stop(RAIL)["state"]) == ("held", "held")
    assert any("`new_part`" in one for one in held["hold"])
    again = site.mark("head rail", new_part=True).json()
    assert (again["state"], site.stop(RAIL)["state"]) == ("released", "done")
    assert site.plain("sawn", stop=RAIL, sawn=again["mark"]).json()["loss"] == ""
    assert Loss.objects.count() == 1


@pytest.mark.parametrize("by_mm", [0, 6])
def test_a_rail_sawn_at_its_mark_or_long_costs_nothing_again(site: Site, by_mm: int) -> None:
    assert sawn(site, by_mm)["loss"] == ""
    assert not Loss.objects.exists()


def test_a_rail_sawn_before_anything_was_released_is_a_miscut(site: Site) -> None:
    told = site.plain("sawn", stop=RAIL, sawn="40 in").json()
    assert Loss.objects.get(kind="miscut").number == told["loss"]


def test_sent_twice_there_is_one_loss(site: Site) -> None:
    uuid = fresh()
    body = {
        "install": site.id,
        "kind": "snag",
        "note": "Chip at the foot",
        "taken_at": site.now(),
    }
    first, again = site.put_record(body, uuid), site.put_record(body, uuid)
    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json()["loss"] == again.json()["loss"] == Loss.objects.get().number


def test_a_snag_is_a_call_back_until_its_cause_is_said(site: Site) -> None:
    site.plain("snag", note="A cap of the towel bar is scratched.")
    loss = Loss.objects.get()
    assert (loss.kind, loss.cause, loss.says) == (
        "call_back",
        "other",
        "Snag: A cap of the towel bar is scratched.",
    )
    said = site.plain("snag", note="Dropped", cause="handling", again="remake", owed_by="firm")
    loss = Loss.objects.get(cause="handling")
    assert (loss.kind, said.json()["claim"], Claim.objects.count()) == ("remake", "", 0)


def test_broken_glass_at_the_first_stop_opens_a_claim_with_its_photos(site: Site) -> None:
    line = LineFactory(
        order=OrderFactory(job=site.booking.job, supplier="Invented Glass Works"),
        opening=site.booking.job.openings.get(),
    )
    came = ArrivalFactory(order=line.order, packaging="damaged", carrier="Invented Freight")
    photo = jpeg()[0]
    told = site.record(
        "glass_inspected", found="not_right", note="Corner gone", photos=[photo], yes=[]
    ).json()

    claim = Claim.objects.get()
    assert (told["state"], told["claim"]) == ("held", claim.number)
    assert (claim.against, claim.party, claim.delivery) == ("carrier", "Invented Freight", came)
    assert claim.state == "open"  # nobody has told the other side
    assert [(one.photo, one.author) for one in claim.evidence.all()] == [(photo, "Hien Phan")]
    assert claim.deadlines.exists()
    assert Loss.objects.get().claim == claim


def test_the_same_glass_looked_at_again_is_the_same_loss(site: Site) -> None:
    bad = {"found": "not_right", "note": "Corner gone"}
    first = site.record("glass_inspected", **bad).json()
    second = site.record("glass_inspected", **bad).json()
    assert (first["loss"] != "", second["loss"]) == (True, "")
    assert (Loss.objects.count(), Claim.objects.count()) == (1, 1)


def test_a_maker_s_fault_is_claimed_from_the_maker_of_the_kit(site: Site) -> None:
    told = site.plain("snag", note="Holes on the wrong side", cause="maker", again="remake").json()
    claim = Claim.objects.get()
    assert (told["claim"], claim.against) == (claim.number, "maker")
    assert claim.party == Install.objects.get().sheet.kit.maker


def test_who_may_owe_it_is_believed(site: Site) -> None:
    site.plain("snag", note="Hit by the mover", cause="transit", owed_by="customer")
    assert Claim.objects.get().against == "customer"


def test_a_cause_belongs_to_what_went_wrong(site: Site) -> None:
    answer = site.plain("finish", cause="maker")
    assert_problem(answer, 400, "not_of_this_kind", "/cause")


def test_a_lead_tells_a_miscut_in_a_browser(site: Site, lead: Caller) -> None:
    site.booking.crew.places.create(member=lead.member, is_lead=True)
    path = f"/api/v1/installs/{site.id}/sawn/"
    answer = lead.post(path, {"part": "head rail", "sawn": "40 in"})
    assert (answer.status_code, answer.json()["state"]) == (201, "held")
    number = answer.json()["loss"]
    assert lead.get(f"/api/v1/losses/{number}/").json()["kind"] == "miscut"
    page = lead.get(f"/api/v1/installs/{site.id}/", headers={"Accept": "text/html"})
    table = page.content.decode().partition("What went wrong here")[2]
    assert f">{number}</a>" in table


def test_the_day_is_the_site_s_own(site: Site) -> None:
    late = site.plain("snag", note="Found at night")
    when = Install.objects.get().records.get(pk=late.json()["id"]).taken_at
    assert abs(Loss.objects.get().happened_on - when.date()) <= timedelta(days=1)


@pytest.fixture
def panel(site: Site) -> Any:
    """Two panels of one line that came sound, and the delivery that brought them."""
    line = LineFactory(
        order=OrderFactory(job=site.booking.job, supplier="Invented Glass Works"),
        opening=site.booking.job.openings.get(),
        name="outer panel",
        count=2,
    )
    came = ArrivalFactory(order=line.order, carrier="Invented Freight")
    return InspectionFactory(line=line, delivery=came, count=2)


@pytest.mark.parametrize("named", ["number", "name"])
def test_a_piece_found_broken_on_site_comes_anew_by_its_claim(
    site: Site, office: Caller, panel: Any, named: str
) -> None:
    ArrivalFactory(order=OrderFactory(job=site.booking.job))  # what came later is not its delivery
    Job.objects.update(state="booked")
    bad = {"found": "not_right", "note": "Corner gone", "yes": [], "photos": [jpeg()[0]]}
    piece = panel.line.number if named == "number" else "Outer  Panel"
    told = site.record("glass_inspected", piece=piece, **bad).json()
    claim, order = Claim.objects.get(), panel.line.order
    assert (told["claim"], claim.delivery) == (claim.number, panel.delivery)
    states = {one.condition: one.count for one in unreplaced(Inspection.objects.all())}
    assert states == {"damaged": 1, "sound": 1}
    assert Inspection.objects.get(condition="damaged").photos == bad["photos"]
    assert Notice.objects.get(type="goods.inspected").about == order.number
    assert "outer panel" in goods_standing(job=site.booking.job).damaged[0]

    assert Job.objects.get().state == "ordered"  # parked until it comes anew

    path = f"/api/v1/claims/{claim.number}/remake/"
    remake = office.post(path, {}, seen=claim.version).json()["remake"]
    [line] = office.get(f"/api/v1/orders/{remake}/").json()["lines"]
    assert (line["name"], line["count"], line["remakes"]) == ("outer panel", 1, panel.line.number)


def test_a_piece_named_at_a_snag_comes_anew_and_holds_nothing_up(
    site: Site, office: Caller, panel: Any
) -> None:
    Job.objects.update(state="booked")
    told = site.plain("snag", note="A scratch", cause="maker", piece="outer panel").json()
    claim = Claim.objects.get()
    assert (Loss.objects.get().kind, told["outcome"]["piece"]) == ("remake", panel.line.number)
    assert (claim.delivery, Job.objects.get().state) == (panel.delivery, "booked")
    assert not Inspection.objects.filter(condition="damaged").exists()
    remake = office.post(f"/api/v1/claims/{claim.number}/remake/", {}, seen="*").json()["remake"]
    [line] = office.get(f"/api/v1/orders/{remake}/").json()["lines"]
    assert (line["name"], line["count"], line["remakes"]) == ("outer panel", 1, panel.line.number)


def test_a_piece_dropped_by_the_crew_must_come_anew_without_any_claim(
    site: Site, panel: Any
) -> None:
    site.until("seals_on")
    bad = {"found": "not_right", "note": "Dropped", "cause": "handling", "owed_by": "firm"}
    site.record("seals_on", piece="outer panel", **bad)
    assert (Loss.objects.get().kind, Claim.objects.count()) == ("remake", 0)
    assert "outer panel" in goods_standing(job=site.booking.job).damaged[0]


def test_a_piece_that_nobody_ordered_is_refused_with_those_that_were(
    site: Site, panel: Any
) -> None:
    answer = site.plain("snag", note="Dropped", piece="moon")
    told = assert_problem(answer, 400, "does_not_exist", "/piece")
    assert f"{panel.line.number} outer panel" in told["hint"]
    assert not Loss.objects.exists()


def test_the_office_names_the_pieces_of_a_claim_that_knows_none(
    site: Site, office: Caller, panel: Any
) -> None:
    site.plain("snag", note="Holes on the wrong side", cause="maker", again="remake")
    claim = Claim.objects.get()
    path = f"/api/v1/claims/{claim.number}/remake/"
    told = assert_problem(office.post(path, {}, seen="*"), 409, "nothing_amiss", "/pieces")
    assert f"{panel.line.number} outer panel" in told["hint"]
    other = {"pieces": [LineFactory().number]}
    assert_problem(office.post(path, other, seen="*"), 400, "not_of_this_job", "/pieces/0")
    remake = office.post(path, {"pieces": [panel.line.number]}, seen="*").json()["remake"]
    [line] = office.get(f"/api/v1/orders/{remake}/").json()["lines"]
    assert (line["name"], line["count"]) == ("outer panel", 1)


def test_single_pieces_are_ordered_as_they_were_found_amiss_once(
    site: Site, office: Caller, panel: Any
) -> None:
    sent = {"job": site.booking.job.number, "kind": "piece"}
    assert_problem(office.post("/api/v1/orders/", sent), 400, "lines_missing", "/lines")
    bad = {"found": "not_right", "note": "Dropped", "cause": "handling", "owed_by": "firm"}
    site.record("glass_inspected", piece="outer panel", **bad)
    [line] = office.post("/api/v1/orders/", sent).json()["lines"]
    assert (line["name"], line["count"], line["remakes"]) == ("outer panel", 1, panel.line.number)
    assert_problem(office.post("/api/v1/orders/", sent), 400, "lines_missing", "/lines")


def test_the_tablet_and_the_page_know_the_pieces(site: Site, lead: Caller, panel: Any) -> None:
    site.booking.crew.places.create(member=lead.member)
    bundle = site.tablet.get(f"/api/v1/visit-bundles/{site.booking.number}/").json()
    [told] = bundle["openings"][0]["pieces"]
    expected = {"id": panel.line.number, "name": "outer panel", "count": 2, "state": "sound"}
    assert told == expected
    page = lead.get(f"/api/v1/installs/{site.id}/", headers={"Accept": "text/html"})
    assert panel.line.number in page.content.decode()


@pytest.mark.parametrize(("days", "state"), [(2, "booked"), (-2, "received")])
def test_an_install_broken_off_wants_another_visit_once_its_own_is_over(
    site: Site, office: Caller, panel: Any, days: int, state: str
) -> None:
    start = timezone.now() + timedelta(days=days)
    booking = site.booking
    booking.starts_at, booking.ends_at = start, start + timedelta(hours=3)
    booking.save()
    opening = booking.job.openings.get()
    kit = Install.objects.get().sheet.kit
    opening.kit = kit
    opening.save()
    Job.objects.update(state="booked")
    bad = {"found": "not_right", "note": "Corner gone", "yes": []}
    site.record("glass_inspected", piece="outer panel", **bad)
    assert Job.objects.get().state == "ordered"
    remake = office.post("/api/v1/orders/", {"job": booking.job.number, "kind": "piece"}).json()
    order = Order.objects.get(pk=int(remake["id"][3:]))
    InspectionFactory(line=order.lines.get(), delivery=ArrivalFactory(order=order))
    job_follow(by=SYSTEM, job=booking.job, action="receive")
    assert Job.objects.get().state == state
    told = office.get(f"/api/v1/jobs/{booking.job.number}/").json()["next"]
    if state == "received":
        assert "is over, and the install is not finished" in told["blocked_by"][0]["why"]


def test_another_piece_broken_at_the_same_stop_is_another_loss_of_one_claim(
    site: Site, panel: Any
) -> None:
    inner = LineFactory(order=panel.line.order, opening=panel.line.opening, name="inner panel")
    InspectionFactory(line=inner, delivery=panel.delivery)
    bad = {"found": "not_right", "note": "Corner gone", "yes": []}
    first, again, second = (
        site.record("glass_inspected", piece=piece, **bad).json()
        for piece in ("outer panel", "outer panel", "inner panel")
    )
    assert (first["loss"] != "", again["loss"], second["loss"] != "") == (True, "", True)
    assert first["claim"] == second["claim"] == Claim.objects.get().number
    assert len(goods_standing(job=site.booking.job).damaged) == 2


def test_a_piece_named_afterwards_is_spoilt_without_another_loss(site: Site, panel: Any) -> None:
    bad = {"found": "not_right", "note": "Corner gone", "yes": []}
    site.record("glass_inspected", **bad)
    assert goods_standing(job=site.booking.job).damaged == ()
    site.record("glass_inspected", piece="outer panel", **bad)
    assert "outer panel" in goods_standing(job=site.booking.job).damaged[0]
    assert (Loss.objects.count(), Claim.objects.count()) == (1, 1)
