"""The line fails in the bathroom, or two tablets speak at once: is every fact there once?"""

import http.client
from typing import Any

import pytest

from contractor.notices.models import Notice
from jobs.installs.models import Install, Mark, Record
from tests.clients import Caller, twin
from tests.jobs.processes import Processes, call
from tests.jobs.surveys.test_lost_line import line
from tests.site import START, Site, fresh, site_of
from tests.threads import in_parallel

LOST = (http.client.RemoteDisconnected, ConnectionError)


def put_until_answered(port: int, path: str, token: str, body: Any) -> tuple[int, Any]:
    for _ in range(10):
        try:
            return call(port, "PUT", path, token, body)
        except LOST:
            continue
    raise AssertionError("no answer in ten tries")


@pytest.mark.real
@pytest.mark.django_db(transaction=True)
@pytest.mark.timeout(150)
def test_a_mark_whose_answer_was_lost_is_released_once_and_told(
    processes: Processes, tablet: Caller, measurer: Caller
) -> None:
    site = site_of(tablet, measurer)
    site.start()
    site.until("cut_head_rail")
    body, path = site.mark_body("head rail"), f"/api/v1/marks/{fresh()}/"
    with line(processes.web(), 2) as cut:
        status, told = put_until_answered(cut.port, path, tablet.token, body)
    assert (status, cut.swallowed, told["state"]) == (200, 2, "released")
    assert [one.length for one in Mark.objects.all()] == [told["mark"]]
    assert Notice.objects.filter(type="mark.released").count() == 1


@pytest.mark.django_db(transaction=True)
def test_one_fact_sent_by_two_threads_at_once_is_kept_once(
    tablet: Caller, measurer: Caller
) -> None:
    site = site_of(tablet, measurer)
    site.start()
    site.until("cut_head_rail")
    asks = [
        (f"/api/v1/marks/{fresh()}/", site.mark_body("head rail")),
        (f"/api/v1/install-records/{fresh()}/", site.body("catches_in")),
    ]
    for path, body in asks:
        replies = in_parallel(3, lambda n: twin(tablet).put(path, body))  # noqa: B023
        assert sorted(one.status_code for one in replies) == [200, 200, 201]
    assert Mark.objects.count() == 1
    assert Record.objects.filter(stop="catches_in").count() == 1


@pytest.mark.django_db(transaction=True)
def test_two_tablets_that_start_at_once_start_one_install(tablet: Caller, measurer: Caller) -> None:
    site = site_of(tablet, measurer)
    body = {"booking": site.booking.number, "started_at": START.isoformat()}
    replies = in_parallel(2, lambda n: twin(tablet).put(f"/api/v1/installs/{fresh()}/", body))
    assert sorted(one.status_code for one in replies) == [200, 201]
    assert len({one.json()["id"] for one in replies}) == 1
    assert Install.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_two_tablets_that_end_the_work_at_once_finish_it_once(
    tablet: Caller, measurer: Caller
) -> None:
    site: Site = site_of(tablet, measurer)
    site.start()
    site.until("final_photos")
    photos = site.body("final_photos")
    finish = {"install": site.id, "kind": "finish", "taken_at": site.now()}
    bodies = [photos, finish]
    replies = in_parallel(
        2, lambda n: twin(tablet).put(f"/api/v1/install-records/{fresh()}/", bodies[n])
    )
    assert [one.status_code for one in replies] == [201, 201]
    assert site.read()["state"] == "curing"
    assert Notice.objects.filter(type="install.finished").count() == 1
    assert Notice.objects.filter(type="install.cured_at_known").count() == 1
