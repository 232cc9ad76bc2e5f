"""Is a worker woken once, after the commit, and does a dead queue harm nobody?"""

import logging
from typing import Any

import pytest
from celery import current_app
from django.db import transaction

from contractor.notices.wake import wake


@pytest.fixture
def sent(monkeypatch: pytest.MonkeyPatch, settings: Any) -> list[Any]:
    """What reached the queue, sent in this thread."""
    settings.CELERY_TASK_ALWAYS_EAGER = True
    found: list[Any] = []

    def keep(**how: Any) -> None:
        found.append(how["kwargs"])

    monkeypatch.setattr(current_app.tasks["packets.render"], "apply_async", keep)
    return found


@pytest.mark.django_db(transaction=True)
def test_a_worker_is_woken_after_the_commit_and_not_before(sent: list[Any]) -> None:
    with transaction.atomic():
        wake("packets.render", key=7)
        assert sent == []
    assert sent == [{"key": 7}]


@pytest.mark.django_db(transaction=True)
def test_nobody_is_woken_by_a_write_that_was_undone(sent: list[Any]) -> None:
    with transaction.atomic():
        wake("packets.render", key=7)
        transaction.set_rollback(True)
    assert sent == []


@pytest.mark.django_db(transaction=True)
def test_a_queue_that_does_not_answer_is_logged_and_harms_nobody(
    settings: Any, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    settings.CELERY_TASK_ALWAYS_EAGER = True

    def no_answer(**_: Any) -> None:
        raise ConnectionError("no broker")

    monkeypatch.setattr(current_app.tasks["packets.render"], "apply_async", no_answer)
    with caplog.at_level(logging.WARNING), transaction.atomic():
        wake("packets.render", key=7)
    assert "the sweep will find the row of packets.render" in caplog.text
