"""What does the job's page say while a crew is at work?"""

import pytest

from jobs.jobs.models import Job
from tests.clients import Caller
from tests.site import Site


@pytest.mark.django_db
def test_the_job_of_an_install_under_way_names_its_open_hold_points(
    site: Site, office: Caller
) -> None:
    Job.objects.filter(pk=site.booking.job_id).update(state="booked")
    told = office.get(f"/api/v1/jobs/{site.booking.job.number}/").json()
    (block,) = told["next"]["blocked_by"]
    assert block["guard"] == "install_finished"
    assert "Glass inspected" in block["why"]


@pytest.mark.django_db
def test_a_handover_before_the_last_hold_point_leaves_the_job_booked(site: Site) -> None:
    Job.objects.filter(pk=site.booking.job_id).update(state="booked")
    body = {"install": site.id, "person": "Bram Tolliver", "taken_at": site.now()}
    body |= {"label_shown": True, "care_sheet_given": True, "tempered_told": True}
    path = "/api/v1/handovers/0197a000-0000-7000-8000-000000000001/"
    answer = site.tablet.put(path, {**body, "unsigned_why": "Hands wet."})
    assert answer.status_code == 201, answer.content
    assert Job.objects.get(pk=site.booking.job_id).state == "booked"


@pytest.mark.django_db
def test_the_job_s_page_leads_to_its_install_and_to_what_went_wrong(
    site: Site, office: Caller
) -> None:
    snag = site.plain("snag", note="A cap is scratched", cause="handling").json()
    path = f"/api/v1/jobs/{site.booking.job.number}/"
    page = office.get(path, headers={"Accept": "text/html"}).content.decode()
    assert f'<a href="/api/v1/installs/{site.id}/">Install of O-' in page
    assert "Under way" in page
    assert f">{snag['loss']}</a>" in page
    loss = f"/api/v1/losses/{snag['loss']}/"
    page = office.get(loss, headers={"Accept": "text/html"}).content.decode()
    assert f"/api/v1/install-records/{snag['id']}/" in page
