"""Does the service say when it cannot work?"""

from typing import Any

import pytest
from django.db import connection
from django.test import Client


def test_a_living_process_answers_without_a_login_or_a_database() -> None:
    assert Client().get("/health/live").json() == {"live": True}


@pytest.mark.django_db
def test_a_ready_service_names_what_it_looked_at() -> None:
    answer = Client().get("/health/ready")
    assert answer.status_code == 200
    assert answer.json() == {"ready": True, "checks": {"database": "ok", "cache": "ok"}}


@pytest.mark.django_db
def test_a_missing_migration_is_told() -> None:
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM django_migrations WHERE app = 'reminders'")
    answer = Client().get("/health/ready")
    assert answer.status_code == 503
    assert "migrations are missing" in answer.json()["checks"]["database"]


@pytest.mark.django_db
def test_a_cache_that_does_not_answer_is_told(
    settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_answer(*_: Any, **__: Any) -> None:
        raise ConnectionError("no answer")

    settings.REDIS_URL = "redis://127.0.0.1:1/0"
    monkeypatch.setattr("contractor.api.health.cache.set", no_answer)
    answer = Client().get("/health/ready")
    assert answer.status_code == 503
    assert answer.json()["checks"]["cache"] == "does not answer (ConnectionError)"
