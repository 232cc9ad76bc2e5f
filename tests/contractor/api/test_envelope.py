"""What does every reply carry?"""

import json
import logging
from typing import Any

import pytest
from django.test import Client

from contractor.api.envelope import LineFormatter, request_id
from tests.clients import Caller


@pytest.mark.parametrize("path", ["/api/v1/customers/", "/api/v1/nothing/", "/health/live"])
def test_every_reply_says_its_version_and_its_own_id(office: Caller, path: str) -> None:
    first, second = office.get(path), office.get(path)
    assert first["API-Version"] == second["API-Version"] == "1.0.0"
    assert len(first["Request-Id"]) == 32
    assert first["Request-Id"] != second["Request-Id"]


@pytest.mark.parametrize("path", ["/api/v1/customers/", "/api/v1/nothing/", "/api/v1/"])
def test_nothing_of_the_api_is_kept_by_a_cache(office: Caller, path: str) -> None:
    assert "no-store" in office.get(path)["Cache-Control"]


def test_no_reply_is_sniffed_or_framed(office: Caller) -> None:
    answer = office.get("/api/v1/customers/")
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["X-Frame-Options"] == "DENY"


def test_a_reply_varies_with_what_was_accepted_and_who_asked(office: Caller) -> None:
    varies = office.get("/api/v1/customers/")["Vary"]
    assert "Accept" in varies
    assert "Cookie" in varies


@pytest.mark.django_db
def test_a_session_write_without_its_form_token_is_refused(settings: Any, office: Caller) -> None:
    browser = Client(enforce_csrf_checks=True)
    browser.cookies = office.cookies
    answer = browser.post("/api/v1/customers/", {"name": "Wren"}, content_type="application/json")
    assert answer.status_code == 403
    assert answer["Content-Type"] == "application/problem+json"


def test_a_log_line_is_one_object_with_the_request_and_no_line_break() -> None:
    token = request_id.set("7" * 32)
    try:
        record = logging.LogRecord("a", logging.INFO, "f", 1, "two\nlines %s", ("x",), None)
        text = LineFormatter().format(record)
    finally:
        request_id.reset(token)
    assert "\n" not in text
    line = json.loads(text)
    assert (line["says"], line["request"], line["level"]) == ("two\nlines x", "7" * 32, "INFO")
