"""Can the office ask for free time and book an offer by its button, read without a browser?"""

import re
from typing import Any

import pytest
from django.test import Client

from jobs.bookings.models import Booking
from tests.clients import Caller
from tests.factories import CrewFactory, survey_case

FREE = "/api/v1/bookings/free/"
HOURS = {day: "08:00-16:30" for day in ("monday", "tuesday", "wednesday")}


@pytest.fixture
def page(office: Caller) -> Client:
    browser = Client(HTTP_ACCEPT="text/html,application/xhtml+xml,*/*;q=0.8")
    browser.cookies = office.cookies
    return browser


def hidden(form: str) -> dict[str, str]:
    found = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', form)
    return {name: value for name, value in found if name != "csrfmiddlewaretoken"}


def test_an_offer_is_booked_by_its_button_and_only_once(office: Caller, page: Client) -> None:
    case = survey_case("fits")
    office.post("/api/v1/surveys/", case.body)
    CrewFactory(slug="heron", time_zone="America/New_York", hours=HOURS)
    job = case.opening.job.number
    fresh = page.get(f"{FREE}?job={job}&visit=install").content.decode()
    assert f'value="{job}"' in fresh
    assert "Nothing was written" not in fresh  # opened with words for its form, it is no refusal
    assert 'value="install" selected' in re.sub(r"\s+", " ", fresh)
    asked = {"job": job, "visit": "install", "hours": "4", "first_day": "2031-03-10"}
    text = page.post(FREE, asked).content.decode()
    assert f'value="{job}"' in text
    forms: list[Any] = re.findall(r'<form class="press".*?</form>', text, re.DOTALL)
    books = [one for one in forms if "Book this" in one]
    assert "Mon 10 Mar 2031, 08:00" in books[0]
    for _ in range(2):
        answer = page.post("/api/v1/bookings/", hidden(books[0]))
        assert (answer.status_code, answer["Location"][-17:]) == (303, "monday=2031-03-10")
    booked = Booking.objects.get()
    assert booked.state == "booked"
    row = page.get(f"/api/v1/bookings/{booked.number}/").content.decode()
    assert f"{FREE}?job={job}&amp;visit=install" in row
    holds = [one for one in forms if "Hold two days" in one]
    assert page.post("/api/v1/bookings/", hidden(holds[-1])).status_code == 303
    assert Booking.objects.latest("pk").state == "held"
