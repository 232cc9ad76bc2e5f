"""Can the office book an install by looking and typing, and does it read why one is refused?"""

from collections.abc import Callable
from typing import Any

import pytest

from tests.clients import Caller

pytestmark = [pytest.mark.real, pytest.mark.django_db(transaction=True), pytest.mark.timeout(180)]
BOOKINGS = "/api/v1/bookings/"


def book(page: Any, job: str, start: str, end: str, **more: str) -> None:
    """Fill the booking form by its labels and send it."""
    page.goto(BOOKINGS)
    form = page.get_by_role("region", name="Book a visit")
    form.get_by_label("Job", exact=True).fill(job)
    form.get_by_label("Crew").select_option(label="Heron")
    form.get_by_label("Visit").select_option(label="Install")
    form.get_by_label("Starts").fill(start)
    form.get_by_label("Ends").fill(end)
    for label, text in more.items():
        form.get_by_label(label.replace("_", " ")).fill(text)
    form.get_by_role("button", name="Book a visit", exact=True).click()


def test_the_office_books_an_install_and_sees_it_in_the_list_and_in_the_week(
    desk: Any, crew: Any, surveyed: Callable[[str], str], shoot: Callable[[Any, str], None]
) -> None:
    job = surveyed("fits")
    book(desk, job, "2030-03-12T09:00", "2030-03-12T12:30")
    assert "Booked: B-" in desk.get_by_role("status").inner_text()
    assert "monday=2030-03-11" in desk.url
    row = desk.get_by_role("row").filter(has_text=job).inner_text()
    assert "Tue 12 Mar 2030, 09:00–12:30 (America/New_York, site time)" in row
    strip = desk.locator("figure svg")
    assert f"{job}." in strip.locator("desc").text_content()
    assert "09:00–12:30" in strip.text_content()
    shoot(desk, "booked")


def test_an_overlapping_booking_is_refused_with_the_name_of_the_one_that_holds_the_time(
    desk: Any,
    office: Caller,
    crew: Any,
    surveyed: Callable[[str], str],
    shoot: Callable[[Any, str], None],
) -> None:
    job = surveyed("fits")
    book(desk, job, "2030-03-12T09:00", "2030-03-12T12:30")
    [held] = office.get(BOOKINGS).json()["results"]
    book(desk, surveyed("fits"), "2030-03-12T12:00", "2030-03-12T15:00")
    refusal = desk.get_by_role("alert")
    assert f"taken by {held['id']} (Tue 12 Mar 2030, 09:00–12:30" in refusal.inner_text()
    refusal.get_by_role("link", name="Starts").click()
    desk.locator("[name=local_start]:focus").wait_for()
    starts = desk.get_by_label("Starts")
    assert starts.input_value() == "2030-03-12T12:00"
    assert starts.get_attribute("aria-invalid") == "true"
    beside = starts.get_attribute("aria-describedby").split()[0]
    assert held["id"] in desk.locator(f"#{beside}").inner_text()
    assert len(office.get(BOOKINGS).json()["results"]) == 1
    shoot(desk, "refused-overlap")


def test_a_failing_verdict_refuses_until_somebody_answers_for_it_by_name(
    desk: Any,
    office: Caller,
    crew: Any,
    surveyed: Callable[[str], str],
    shoot: Callable[[Any, str], None],
) -> None:
    job = surveyed("fails")
    book(desk, job, "2030-03-13T09:00", "2030-03-13T12:00")
    refusal = desk.get_by_role("alert").inner_text()
    assert "not covered by a verdict that fits" in refusal
    assert "send “Override by” and “Override because”" in refusal
    assert desk.get_by_label("Job", exact=True).last.input_value() == job
    assert office.get(BOOKINGS).json()["results"] == []
    shoot(desk, "refused-verdict")
    desk.get_by_label("Override by").fill("Imke Thorsby")
    desk.get_by_label("Override because").fill("Wall is packed out first")
    desk.get_by_role("button", name="Book a visit", exact=True).click()
    assert "Booked: B-" in desk.get_by_role("status").inner_text()
    [made] = office.get(BOOKINGS).json()["results"]
    assert made["override_name"] == "Imke Thorsby"
    assert made["overridden"][0]["state"] == "fails"
    shoot(desk, "overridden")


def test_a_job_is_found_by_its_words_while_typing(
    desk: Any, surveyed: Callable[[str], str]
) -> None:
    job = surveyed("fits")
    desk.goto(BOOKINGS)
    desk.locator("#add-job").press_sequentially("slider")
    option = desk.locator("#add-job-found option")
    option.first.wait_for(state="attached")
    assert job in [one.get_attribute("value") for one in option.all()]


def test_a_booking_is_cancelled_from_its_own_page_with_a_reason(
    desk: Any, office: Caller, crew: Any, surveyed: Callable[[str], str]
) -> None:
    book(desk, surveyed("fits"), "2030-03-12T09:00", "2030-03-12T12:30")
    desk.get_by_role("link", name="B-").first.click()
    form = desk.get_by_role("region", name="Cancel booking")
    form.get_by_role("button").click()
    assert "may not be blank" in desk.get_by_role("alert").inner_text()
    form.get_by_label("Why").fill("The customer is away")
    form.get_by_role("button").click()
    assert "Cancelled: B-" in desk.get_by_role("status").inner_text()
    [row] = office.get(BOOKINGS).json()["results"]
    assert (row["state"], row["cancelled_why"]) == ("cancelled", "The customer is away")
    assert desk.get_by_role("button", name="Cancel booking").count() == 0


def test_a_change_is_sent_with_the_version_seen_and_a_stale_one_is_told(
    desk: Any, office: Caller, surveyed: Callable[[str], str]
) -> None:
    job = surveyed("fits")
    path = f"/api/v1/jobs/{job}/"
    desk.goto(path)
    seen = office.get(path).json()["version"]
    other = office.patch(path, {"summary": "Changed by somebody else"}, seen=seen)
    assert other.status_code == 200
    form = desk.get_by_role("region", name="Change this entry")
    form.get_by_label("Summary").fill("Changed at the desk")
    form.get_by_role("button", name="Save the job", exact=True).click()
    refusal = desk.get_by_role("alert")
    assert "Changed since you read it" in refusal.inner_text()
    assert form.get_by_label("Summary").input_value() == "Changed at the desk"
    form.get_by_label("Why").fill("The owner called")
    form.get_by_role("button", name="Save the job", exact=True).click()
    assert desk.get_by_role("status").inner_text() == f"Job saved: {job}"
    assert office.get(path).json()["summary"] == "Changed at the desk"
    told = office.get(f"/api/v1/history/?about={job}").json()["results"]
    assert "The owner called" in [one["reason"] for one in told]
