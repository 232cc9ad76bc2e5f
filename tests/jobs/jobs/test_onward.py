"""Does a job's page lead on to where its next step is made, for who may make it?"""

import pytest

from jobs.claims.models import Claim
from jobs.jobs.models import Job
from tests.clients import Caller
from tests.factories import JobFactory, OpeningFactory
from tests.goods import ArrivalFactory, OrderFactory

HTML = {"Accept": "text/html"}


@pytest.mark.parametrize(
    ("state", "link"),
    [
        ("enquiry", "/api/v1/bookings/free/?job={job}&amp;visit=survey"),
        ("surveyed", "/api/v1/openings/{opening}/"),
        ("decided", "/api/v1/orders/?job={job}#add"),
        ("received", "/api/v1/bookings/free/?job={job}&amp;visit=install"),
        ("handed_over", "/api/v1/bookings/free/?job={job}&amp;visit=follow_up"),
    ],
)
def test_the_next_step_is_one_click_away(office: Caller, state: str, link: str) -> None:
    job = JobFactory(state=state)
    opening = OpeningFactory(job=job, kit=None)
    page = office.get(f"/api/v1/jobs/{job.number}/", headers=HTML).content.decode()
    banner = page.split("What comes next")[0]
    assert link.format(job=job.number, opening=opening.number) in banner


def test_what_must_come_anew_is_ordered_from_its_claim(office: Caller) -> None:
    order = OrderFactory(job=JobFactory(state="ordered"))
    path = f"/api/v1/jobs/{order.job.number}/"
    to_order = f"/api/v1/orders/{order.number}/"
    assert to_order in office.get(path, headers=HTML).content.decode().split("What comes next")[0]
    told = {"kind": "damage", "against": "maker", "summary": "Corner gone"}
    claim = Claim.objects.create(
        job=order.job, delivery=ArrivalFactory(order=order), found_on="2026-11-29", **told
    )
    page = office.get(path, headers=HTML).content.decode().split("What comes next")[0]
    assert f"/api/v1/claims/{claim.number}/" in page


def test_a_measurer_is_led_to_no_page_that_only_the_office_has(measurer: Caller) -> None:
    job = JobFactory(state="received")
    page = measurer.get(f"/api/v1/jobs/{job.number}/", headers=HTML).content.decode()
    assert "Find time for the install" not in page
    assert Job.objects.get().state == "received"
