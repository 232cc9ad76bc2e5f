"""What stands on the office's pages, and what do they cost, read without a browser?"""

import re
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from jobs.packets.models import Packet
from tests.clients import Caller
from tests.factories import CustomerFactory, JobFactory, MemberFactory, survey_case

HTML = {"HTTP_ACCEPT": "text/html,application/xhtml+xml,*/*;q=0.8"}
MOST_BYTES = 200_000


def browser_of(caller: Caller) -> Client:
    """A browser with the caller's session."""
    browser = Client(**HTML)
    browser.cookies = caller.cookies
    return browser


@pytest.fixture
def page(office: Caller) -> Client:
    """The office's browser."""
    return browser_of(office)


def text_of(answer: Any) -> str:
    """The page's text; asserts that it is one."""
    assert answer["Content-Type"] == "text/html; charset=utf-8"
    text: str = answer.content.decode()
    return text


def cost_of(page: Client, path: str) -> tuple[int, int]:
    """Statements and bytes of a page."""
    with CaptureQueriesContext(
        connection,
    ) as asked:
        answer = page.get(path)
    assert answer.status_code == 200
    return len(asked), len(answer.content)


@pytest.mark.parametrize("room", ["customers", "sites", "jobs", "bookings"])
def test_a_list_costs_the_same_however_many_rows_there_are(page: Client, room: str) -> None:
    JobFactory.create_batch(3)
    page.get(f"/api/v1/{room}/")
    few, _ = cost_of(page, f"/api/v1/{room}/")
    JobFactory.create_batch(120)
    many, size = cost_of(page, f"/api/v1/{room}/")
    assert many <= few
    assert size < MOST_BYTES


def test_the_longest_page_of_a_list_stays_small(page: Client) -> None:
    CustomerFactory.create_batch(205, name="Bram Tolliver of the long house by the water")
    _, size = cost_of(page, "/api/v1/customers/?limit=200")
    assert size < MOST_BYTES


def test_no_form_offers_every_member_or_job_in_a_drop_down(page: Client) -> None:
    JobFactory.create_batch(30)
    MemberFactory.create_batch(30)
    for room in ("bookings", "crews", "tablets", "packets", "openings", "sites"):
        text = text_of(page.get(f"/api/v1/{room}/"))
        assert len(re.findall("<option|type=.checkbox.", text)) < 30, room


def test_what_a_customer_is_called_is_text_and_never_markup(page: Client) -> None:
    row = CustomerFactory(name="<script>alert(1)</script>", notes='"><img src=x onerror=alert(1)>')
    for path in ("/api/v1/customers/", f"/api/v1/customers/{row.number}/"):
        text = text_of(page.get(path))
        assert "<script>alert" not in text
        assert "<img src=x" not in text
        assert "&lt;script&gt;alert" in text


def test_no_page_carries_script_or_handlers_in_itself(page: Client) -> None:
    for path in ("/api/v1/", "/api/v1/bookings/", "/login/", "/api/v1/nothing/"):
        answer = page.get(path, follow=True)
        text = text_of(answer)
        assert re.findall(r"<script(?![^>]*\bsrc=)", text) == []
        assert re.findall(r"\son[a-z]+=", text) == []
    assert "script-src 'self'" in page.get("/api/v1/")["Content-Security-Policy"]


def test_a_stranger_is_led_to_the_login_and_back(anonymous: Caller) -> None:
    answer = browser_of(anonymous).get("/api/v1/jobs/?q=slider")
    assert answer.status_code == 303
    assert answer["Location"] == "/login/?next=%2Fapi%2Fv1%2Fjobs%2F%3Fq%3Dslider"
    assert anonymous.get("/api/v1/jobs/").status_code == 401


def test_a_helper_is_offered_no_form_that_would_be_refused(helper: Caller) -> None:
    browser = browser_of(helper)
    job = JobFactory()
    for path in ("/api/v1/bookings/", "/api/v1/jobs/", f"/api/v1/jobs/{job.number}/"):
        text = text_of(browser.get(path))
        assert re.findall(r'<form method="post" action="(?!/logout/)', text) == []
    assert "Tablets" not in text_of(browser.get("/api/v1/"))


def test_a_form_sent_twice_makes_one_row(page: Client, office: Caller) -> None:
    form = {"name": "Wren Ashgrove", "_idempotency_key": "one-form-of-the-desk"}
    first = page.post("/api/v1/customers/", form)
    assert first.status_code == 303
    assert page.post("/api/v1/customers/", form)["Location"] == first["Location"]
    assert len(office.get("/api/v1/customers/").json()["results"]) == 1


def test_a_refused_form_keeps_every_value_and_names_the_field(page: Client) -> None:
    answer = page.post("/api/v1/customers/", {"name": "Wren Ashgrove", "phone": "555 0101"})
    assert answer.status_code == 400
    text = text_of(answer)
    assert 'value="Wren Ashgrove"' in text
    assert 'value="555 0101"' in text
    assert '<a href="#add-phone">Phone</a>' in text
    assert re.search(
        r'id="add-phone"[^>]*aria-describedby="add-phone-errors[^>]*aria-invalid', text
    )
    assert "+15555550123" in text


def test_a_program_reads_the_same_refusal_as_json(office: Caller) -> None:
    answer = office.post("/api/v1/customers/", {"name": "Wren", "phone": "555 0101"})
    assert answer["Content-Type"] == "application/problem+json"


def test_a_token_is_shown_once_and_on_no_later_page(page: Client) -> None:
    holder = MemberFactory()
    form = {"name": "Blue tablet", "holder": holder.number, "_idempotency_key": "tablet-of-today"}
    made = text_of(page.post("/api/v1/tablets/", form))
    [token] = set(re.findall(r"tab_[0-9a-f]{12}_[\w-]{20,}", made))
    assert token not in page.post("/api/v1/tablets/", form).content.decode()
    assert token not in text_of(page.get("/api/v1/tablets/"))


def test_a_week_that_is_none_is_told_on_the_page_and_refused_to_programs(
    page: Client, office: Caller
) -> None:
    assert "is no date" in text_of(page.get("/api/v1/bookings/?monday=soon"))
    assert office.get("/api/v1/bookings/?monday=2030-03-11").json()["code"] == "unknown_filter"


def test_pages_outside_the_rooms_are_pages_too_for_a_browser(page: Client, office: Caller) -> None:
    assert "Nothing is served at" in text_of(page.get("/api/v1/nothing/"))
    assert office.get("/api/v1/nothing/").json()["code"] == "not_found"


def test_every_page_has_one_main_one_heading_and_a_language(page: Client) -> None:
    job = JobFactory()
    for path in ("/api/v1/", "/api/v1/bookings/", f"/api/v1/jobs/{job.number}/", "/api/v1/x/"):
        text = text_of(page.get(path))
        assert '<html lang="en">' in text
        assert len(re.findall("<main", text)) == len(re.findall("<h1", text)) == 1


def test_a_verdict_is_drawn_and_told_in_words_before_its_json(page: Client, office: Caller) -> None:
    case = survey_case("fails")
    verdict = office.post("/api/v1/surveys/", case.body).json()["verdict"]
    text = text_of(page.get(f"/api/v1/verdicts/{verdict['id']}/"))
    assert text.count("<svg") == 9
    first = text.index('<span class="state fails">fails</span>')
    assert first < text.index("Findings</h2>") < text.index("as a program gets it (JSON)")
    assert "Cautions</h2>" in text
    opening = text_of(page.get(f"/api/v1/openings/{case.opening.number}/"))
    assert opening.count("<svg") == 3


def test_a_packet_s_page_asks_again_only_until_the_packet_is_done_or_failed(
    page: Client, office: Caller
) -> None:
    case = survey_case("fits")
    office.post("/api/v1/surveys/", case.body)
    form = {"job": case.opening.job.number, "_idempotency_key": "packet-of-today"}
    path = page.post("/api/v1/packets/", form)["Location"]
    assert '<meta http-equiv="refresh"' in text_of(page.get(path))
    Packet.objects.update(asked_at=timezone.now() - timedelta(minutes=6))
    assert '<meta http-equiv="refresh"' not in text_of(page.get(path))
    Packet.objects.update(asked_at=timezone.now(), state="failed", trouble="No paper.")
    text = text_of(page.get(path))
    assert '<meta http-equiv="refresh"' not in text
    assert "No paper." in text
    assert "Try this packet again</button>" in text
