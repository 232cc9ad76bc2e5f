"""What does the history of a row tell, and what leaves nothing there?"""

from contractor.notices.models import Notice
from tests.clients import Caller
from tests.factories import CustomerFactory, JobFactory, SiteFactory


def test_a_change_tells_old_and_new_and_why(office: Caller) -> None:
    customer = CustomerFactory(name="Before", phone="+15555550101")
    office.patch(
        f"/api/v1/customers/{customer.number}/",
        {"name": "After", "phone": "+15555550101"},
        seen=1,
        headers={"Change-Reason": "married"},
    )
    told = office.get(f"/api/v1/history/?about={customer.number}").json()["results"]
    assert [(one["type"], one["version"], one["reason"]) for one in told] == [
        ("customer.changed", 2, "married")
    ]
    assert told[0]["changes"] == {"name": ["Before", "After"]}
    assert told[0]["caller_name"] == "Imke Thorsby"


def test_a_change_to_another_row_tells_both_by_number(office: Caller) -> None:
    job, site = JobFactory(), SiteFactory()
    office.patch(f"/api/v1/jobs/{job.number}/", {"site": site.number}, seen=1)
    changes = Notice.objects.get(about=job.number).changes
    assert changes == {"site": [job.site.number, site.number]}


def test_a_refused_write_leaves_no_notice(office: Caller) -> None:
    office.post("/api/v1/customers/", {"nmae": "Wren"})
    customer = CustomerFactory()
    office.patch(f"/api/v1/customers/{customer.number}/", {"name": "Wren"}, seen=7)
    assert not Notice.objects.exists()


def test_one_who_holds_a_tablet_is_named_with_it(tablet: Caller) -> None:
    body = {"name": "Loft", "enclosure": "alcove", "stands_on": "curb"}
    tablet.post("/api/v1/openings/", {"job": JobFactory().number, **body})
    notice = Notice.objects.get(noun="opening")
    assert notice.caller_name == "Hien Phan (Green tablet)"
    assert notice.caller == f"tablet:{tablet.row.pk}"


def test_a_very_long_reason_is_cut_and_not_lost(office: Caller) -> None:
    customer = CustomerFactory()
    office.patch(
        f"/api/v1/customers/{customer.number}/",
        {"name": "After"},
        seen=1,
        headers={"Change-Reason": "x" * 999},
    )
    assert Notice.objects.get().reason == "x" * 300
