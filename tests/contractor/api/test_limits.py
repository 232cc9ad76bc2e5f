"""Does each caller get its calls and no more, even when many come at one moment?"""

from typing import Any

import pytest
from django.test import Client

from tests.clients import Caller, assert_problem, twin
from tests.factories import MemberFactory, integration_made
from tests.threads import in_parallel

CREWS = "/api/v1/crews/"


@pytest.fixture
def _steady_window(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the minute from turning in the middle of a count."""
    monkeypatch.setattr("contractor.api.limits.time.time", lambda: 1_800_000_010.0)


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("_steady_window")
def test_of_many_calls_at_one_moment_exactly_the_limit_passes(
    scheduler: Caller, settings: Any
) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 40
    codes = [one.status_code for one in in_parallel(64, lambda _: twin(scheduler).get(CREWS))]
    assert (codes.count(200), codes.count(429)) == (40, 24)


@pytest.mark.usefixtures("_steady_window")
def test_each_caller_has_its_own_count(office: Caller, scheduler: Caller, settings: Any) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 1
    token = integration_made()[1]
    for caller in (office, scheduler, Caller().with_token(token)):
        assert caller.get(CREWS).status_code == 200
        assert caller.get(CREWS).status_code == 429


@pytest.mark.usefixtures("_steady_window")
def test_a_caller_with_no_scope_is_counted_by_itself(settings: Any, db: None) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 1
    callers = [Caller().with_token(integration_made(scopes=[])[1]) for _ in range(2)]
    question = {"length": "59 3/8 in"}
    for caller in callers:
        assert caller.post("/api/v1/checks/length/", question).status_code == 200
        assert caller.post("/api/v1/checks/length/", question).status_code == 429


@pytest.mark.usefixtures("_steady_window")
def test_a_forged_header_is_no_other_address(anonymous: Caller, settings: Any, db: None) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 2
    codes = [
        anonymous.get("/p/ABCD-2345", headers={"X-Forwarded-For": f"203.0.113.{n}"}).status_code
        for n in range(4)
    ]
    assert codes == [404, 404, 429, 429]


@pytest.mark.usefixtures("_steady_window")
def test_the_reply_says_how_many_calls_remain(office: Caller, settings: Any) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 3
    told = [office.get(CREWS)["RateLimit"] for _ in range(4)]
    assert [one.split(";")[1] for one in told] == ["r=2", "r=1", "r=0", "r=0"]
    assert office.get(CREWS)["RateLimit-Policy"] == '"caller";q=3;w=60'


def test_the_next_minute_begins_anew(
    office: Caller, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 1
    now = 1_800_000_059.0
    monkeypatch.setattr("contractor.api.limits.time.time", lambda: now)
    assert office.get(CREWS).status_code == 200
    refused = office.get(CREWS)
    assert_problem(refused, 429, "throttled")
    now += int(refused["Retry-After"])
    assert office.get(CREWS).status_code == 200


def test_a_cache_that_does_not_answer_turns_nobody_away(
    office: Caller, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 1

    def no_answer(*_: Any, **__: Any) -> None:
        raise ConnectionError("no answer")

    monkeypatch.setattr("contractor.api.limits._counted", no_answer)
    assert [office.get(CREWS).status_code for _ in range(3)] == [200, 200, 200]


def try_password(login: str, password: str) -> int:
    return Client().post("/login/", {"username": login, "password": password}).status_code


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("_steady_window")
def test_a_password_is_tried_only_so_often_even_at_one_moment(settings: Any) -> None:
    settings.LOGIN_LIMIT_PER_MINUTE = 5
    MemberFactory(login="wilna", role="office").set_password("right horse")
    codes = in_parallel(32, lambda n: try_password("wilna", f"wrong-{n}"))
    assert (codes.count(200), codes.count(429)) == (5, 27)


@pytest.mark.django_db
@pytest.mark.usefixtures("_steady_window")
def test_after_too_many_tries_even_the_right_password_waits(settings: Any) -> None:
    settings.LOGIN_LIMIT_PER_MINUTE = 2
    member = MemberFactory(login="wilna", role="office")
    member.set_password("right horse")
    member.save()
    assert try_password("wilna", "right horse") == 302
    assert try_password("wilna", "wrong") == 200
    assert try_password("wilna", "right horse") == 429
    assert try_password("other", "wrong") == 200


@pytest.mark.django_db
def test_a_name_in_other_letters_is_no_new_count(settings: Any) -> None:
    settings.LOGIN_LIMIT_PER_MINUTE = 1
    assert try_password("wilna", "wrong") == 200
    assert try_password(" wilna ", "wrong") == 429


@pytest.mark.usefixtures("_steady_window")
def test_tokens_cannot_be_tried_at_will(settings: Any, scheduler: Caller) -> None:
    settings.RATE_LIMIT_PER_MINUTE = 3
    tries = [Caller().with_token(f"tab_{n:012x}_guessed").get(CREWS) for n in range(5)]
    assert [one.status_code for one in tries] == [401, 401, 401, 429, 429]
    assert_problem(tries[-1], 429, "throttled")
    assert "Retry-After" in tries[-1]
    assert scheduler.get(CREWS).status_code == 200  # a good token is counted by itself
