"""Two worker processes and two schedulers on one database: is each message that is due sent once?"""

from collections import Counter
from datetime import timedelta

import pytest
from django.utils import timezone

from contractor.notices.models import Notice
from jobs.reminders.models import Reminder
from tests.factories import ReminderFactory
from tests.jobs.conftest import QUEUES
from tests.jobs.processes import Processes, until

pytestmark = [
    pytest.mark.real,
    pytest.mark.django_db(transaction=True),
    pytest.mark.timeout(150),
    pytest.mark.parametrize("processes", QUEUES, indirect=True),
]
MANY = 60


def scheduled_worker(processes: Processes, name: str) -> None:
    """Start a worker with a scheduler of its own; the night is no hindrance."""
    processes.environment |= {
        "TEXT_CHANNEL": "tests.jobs.kept_texts.send",
        "QUIET_FROM": "23:59:59",
        "QUIET_UNTIL": "00:00",
    }
    schedule = processes.folder / f"schedule-{name}"
    processes.start(
        *(
            "-m",
            "celery",
            "-A",
            "contractor.config",
            "worker",
            "--beat",
            "--concurrency=1",
            "--loglevel=INFO",
        ),
        *(f"--hostname={name}@%h", f"--schedule={schedule}"),
    )


def ready(processes: Processes) -> int:
    """How many workers have said that they take messages."""
    logs = [one.read_text() for one in processes.folder.glob("*.log")]
    return sum("ready." in text for text in logs)


def lines(processes: Processes) -> list[tuple[str, str]]:
    """Which messages left, and the process that each left from."""
    kept = processes.folder / "texts"
    rows = [one.split() for one in kept.read_text().splitlines()] if kept.exists() else []
    return [(one[0], one[-1]) for one in rows]


def test_each_due_message_leaves_once_whoever_sweeps(processes: Processes) -> None:
    for name in ("first", "second"):
        scheduled_worker(processes, name)
    until(lambda: ready(processes) == 2, "two workers that are ready")
    now = timezone.now()
    texts = {"job__site__customer__preferred_channel": "text", "channel": "text"}
    for _ in range(MANY):
        ReminderFactory(due_at=now - timedelta(minutes=1), **texts)

    until(lambda: Reminder.objects.filter(state="sent").count() == MANY, "every message")
    sent = lines(processes)
    assert Counter(key for key, _ in sent) == dict.fromkeys(
        Reminder.objects.values_list("message_id", flat=True), 1
    )
    assert len({process for _, process in sent}) == 2  # both were at it
    told = Counter(Notice.objects.filter(type="reminder.sent").values_list("about", flat=True))
    assert set(told.values()) == {1}
    assert len(told) == MANY
    assert set(Reminder.objects.values_list("attempts", flat=True)) == {1}
