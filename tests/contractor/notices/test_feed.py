"""Does the change feed tell everything once, in order, whoever commits first?"""

import threading
import time
from typing import Any

import pytest
from django.db import connection, connections, transaction

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.notices.services import notice_record
from tests.clients import Caller, assert_problem

FEED = "/api/v1/changes/"


def note(about: str, noun: str = "booking") -> Notice:
    return notice_record(by=SYSTEM, type=f"{noun}.made", about=about)


def heard(caller: Caller, count: int, since: str = "") -> list[dict[str, Any]]:
    """Ask until this many are told: on PostgreSQL the feed waits for every transaction begun before.

    Those of other databases on the same server count too, such as another process's tests.
    """
    told: list[dict[str, Any]] = []
    until = time.monotonic() + 30
    while len(told) < count and time.monotonic() < until:
        told = caller.get(FEED, {"since": since} if since else {}).json()["results"]
    return told


@pytest.mark.django_db(transaction=True)
def test_the_feed_is_read_from_the_start_to_the_end_without_gap_or_repeat(office: Caller) -> None:
    for number in range(7):
        note(f"B-{number}")
    heard(office, 7)
    seen, since, more = [], "", True
    while more:
        told = office.get(FEED, {"limit": 3, "since": since}).json()
        seen += [one["about"] for one in told["results"]]
        since, more = told["next"], told["more"]
    assert seen == [f"B-{number}" for number in range(7)]
    assert office.get(FEED, {"since": since}).json() == {
        "results": [],
        "next": since,
        "more": False,
    }
    note("B-7")
    assert [one["about"] for one in heard(office, 1, since)] == ["B-7"]


@pytest.mark.django_db(transaction=True)
def test_a_program_hears_of_bookings_and_crews_only(scheduler: Caller) -> None:
    for noun in ("booking", "customer", "crew", "tablet", "survey"):
        note("x", noun)
    assert [one["noun"] for one in heard(scheduler, 2)] == ["booking", "crew"]


@pytest.mark.parametrize("limit", ["0", "501", "-1", "many", "²", ""])
def test_a_limit_outside_its_range_is_refused(office: Caller, limit: str) -> None:
    assert_problem(office.get(FEED, {"limit": limit}), 400, "limit_out_of_range", "/limit")


@pytest.mark.parametrize("since", ["nonsense", "bjE=x", "é", "MTIz!", "bi0x", "bsKy"])
def test_a_cursor_that_is_none_of_ours_is_refused(office: Caller, since: str) -> None:
    assert_problem(office.get(FEED, {"since": since}), 400, "cursor_unknown", "/since")


def test_an_unknown_parameter_is_refused(office: Caller) -> None:
    assert_problem(office.get(f"{FEED}?sicne=x"), 400, "unknown_filter", "/sicne")


@pytest.mark.django_db(transaction=True)
@pytest.mark.skipif(
    "connection.vendor == 'sqlite'", reason="SQLite has one writer: keys are in commit order"
)
def test_a_slow_writer_is_not_skipped_by_a_quicker_one(office: Caller) -> None:
    """The slow one takes its key first and commits last; the feed waits for it."""
    begun, may_commit = threading.Event(), threading.Event()

    def slowly() -> None:
        try:
            with transaction.atomic():
                note("B-slow")
                begun.set()
                assert may_commit.wait(20)
        finally:
            connections.close_all()

    writer = threading.Thread(target=slowly)
    writer.start()
    assert begun.wait(20)
    note("B-quick")
    first = office.get(FEED).json()
    assert first["results"] == [], "a key before these may still be committed"
    may_commit.set()
    writer.join(20)
    told = heard(office, 2, first["next"])
    assert [one["about"] for one in told] == ["B-slow", "B-quick"]


@pytest.mark.django_db(transaction=True)
@pytest.mark.skipif(
    "connection.vendor == 'sqlite'", reason="SQLite has one writer: keys are in commit order"
)
def test_two_slow_writers_who_cross_are_both_heard(office: Caller) -> None:
    first_wrote, second_wrote, second_done = (threading.Event() for _ in range(3))

    def first() -> None:
        try:
            with transaction.atomic():
                note("B-1")
                first_wrote.set()
                assert second_done.wait(20)
        finally:
            connections.close_all()

    def second() -> None:
        try:
            assert first_wrote.wait(20)
            with transaction.atomic():
                note("B-2")
                second_wrote.set()
            second_done.set()
        finally:
            connections.close_all()

    writers = [threading.Thread(target=one) for one in (first, second)]
    for one in writers:
        one.start()
    assert second_wrote.wait(20)
    early = office.get(FEED).json()
    for one in writers:
        one.join(20)
    late = heard(office, 2 - len(early["results"]), early["next"])
    assert [one["about"] for one in (*early["results"], *late)] == ["B-1", "B-2"]
    assert connection.vendor == "postgresql"
