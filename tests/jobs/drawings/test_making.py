"""What if a drawing fails, its worker dies, or two workers want it?"""

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from contractor.notices.models import Notice
from jobs.drawings import making
from jobs.drawings.making import DRAWN, drawing_draw, drawings_waiting
from jobs.drawings.models import Drawing
from jobs.drawings.tasks import draw, sweep
from tests.clients import Caller, assert_problem
from tests.threads import in_parallel

DRAWINGS = "/api/v1/drawings/"


def failing(*args: Any, **kwargs: Any) -> bytes:
    raise RuntimeError("no ink")


def notices(drawing: Drawing, kind: str) -> int:
    return Notice.objects.filter(type=kind, about=drawing.number).count()


def test_three_failures_give_it_up_with_the_reason_until_it_is_asked_again(
    office: Caller, asked: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawing = asked()
    path = f"{DRAWINGS}{drawing.number}/retry/"
    assert_problem(office.post(path, seen="*"), 409, "not_failed")
    states = []
    with monkeypatch.context() as patched:
        patched.setattr(making, "dxf_write", failing)
        for _ in range(4):
            assert drawing_draw(key=drawing.pk) is False
            drawing.refresh_from_db()
            states.append((drawing.state, drawing.attempts))
    assert states == [("wanted", 1), ("wanted", 2), ("failed", 3), ("failed", 3)]
    told = office.get(f"{DRAWINGS}{drawing.number}/").data
    assert (told["state"], told["trouble"]) == ("failed", "no ink")
    assert (notices(drawing, "drawing.put_back"), notices(drawing, "drawing.failed")) == (2, 1)
    assert drawings_waiting(now=timezone.now()) == []

    reply = office.post(path, seen=drawing.version)
    assert (reply.status_code, reply.data["state"], reply.data["attempts"]) == (200, "wanted", 0)
    assert draw(drawing.pk) is True


def test_a_drawing_in_living_hands_is_left_alone_and_a_dead_workers_is_taken_up(asked: Any) -> None:
    drawing = asked()
    now = timezone.now()
    assert DRAWN.claim(key=drawing.pk, now=now)
    assert drawing_draw(key=drawing.pk, now=now + DRAWN.lease / 2) is False
    assert sweep() == 0

    Drawing.objects.update(lease_until=now - timedelta(seconds=1))
    assert sweep() == 1
    drawing.refresh_from_db()
    assert (drawing.state, drawing.attempts) == ("done", 2)


def test_one_that_kills_its_worker_three_times_is_given_up(asked: Any) -> None:
    drawing = asked()
    now = timezone.now()
    for _ in range(3):
        assert DRAWN.claim(key=drawing.pk, now=now)
        now += DRAWN.lease + timedelta(seconds=1)
    assert drawing_draw(key=drawing.pk, now=now) is False
    drawing.refresh_from_db()
    assert (drawing.state, drawing.trouble) == ("failed", "The worker died three times.")


def test_a_worker_that_lost_its_lease_marks_nothing_and_leaves_no_file(asked: Any) -> None:
    drawing = asked()
    assert DRAWN.claim(key=drawing.pk, now=timezone.now() - DRAWN.lease - timedelta(seconds=1))
    slow = Drawing.objects.get(pk=drawing.pk)
    assert drawing_draw(key=drawing.pk) is True
    done = Drawing.objects.get(pk=drawing.pk)
    folder = done.file.name.rpartition("/")[0]
    before = sorted(done.file.storage.listdir(folder)[1])
    assert making._finish(slow, b"late") is False
    after = Drawing.objects.get(pk=drawing.pk)
    assert (after.file.name, after.file_digest) == (done.file.name, done.file_digest)
    assert sorted(done.file.storage.listdir(folder)[1]) == before


@pytest.mark.django_db(transaction=True)
def test_two_workers_draw_it_once(asked: Any) -> None:
    drawing = asked()
    answers = in_parallel(3, lambda n: draw(drawing.pk) if n % 2 else sweep() == 1)
    assert sorted(answers) == [False, False, True]
    assert notices(drawing, "drawing.done") == 1
