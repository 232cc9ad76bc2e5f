"""Is a secret shown once, and is it nowhere else: no answer, no table, no log?"""

import logging
from typing import Any

import pytest
from django.db import connection

from tests.clients import Caller
from tests.factories import fresh_uuid


def issue(office: Caller, room: str, **extra: Any) -> dict[str, Any]:
    body = {"name": "Grey", **extra}
    if room == "tablets":
        body["holder"] = office.member.number
    else:
        body["scopes"] = ["crews:read"]
    answer = office.post(f"/api/v1/{room}/", body, key=fresh_uuid())
    assert answer.status_code == 201, answer.content
    told: dict[str, Any] = answer.json()
    return told


def everything_kept() -> str:
    """The text of every row of every table."""
    kept = []
    with connection.cursor() as cursor:
        for table in connection.introspection.table_names(cursor):
            cursor.execute(f"SELECT * FROM {connection.ops.quote_name(table)}")  # noqa: S608
            kept += [repr(row) for row in cursor.fetchall()]
    return "\n".join(kept)


@pytest.mark.parametrize(("room", "prefix"), [("tablets", "tab_"), ("integrations", "int_")])
def test_the_secret_stands_in_the_first_answer_and_never_again(
    office: Caller, room: str, prefix: str
) -> None:
    told = issue(office, room)
    assert told["token"].startswith(prefix)
    assert office.get(told["url"]).json()["token"] == ""
    assert office.get(f"/api/v1/{room}/").json()["results"][0]["token"] == ""
    revoked = office.post(f"{told['url']}revoke/", {"why": "lost"}, seen=1)
    assert revoked.json()["token"] == ""


def test_two_secrets_are_never_the_same(office: Caller) -> None:
    made = {issue(office, "tablets")["token"] for _ in range(20)}
    assert len(made) == 20
    assert all(len(one.rpartition("_")[2]) >= 40 or len(one) > 50 for one in made)


@pytest.mark.parametrize("room", ["tablets", "integrations"])
def test_the_secret_is_in_no_table(office: Caller, room: str) -> None:
    token = issue(office, room)["token"]
    caller = Caller().with_token(token)
    assert caller.get("/api/v1/crews/").status_code == 200
    kept = everything_kept()
    assert token.split("_")[1] in kept, "the handle must be found, or this looks at nothing"
    assert token not in kept
    assert token.split("_", 2)[2] not in kept


def test_a_password_is_kept_as_its_hash_only(office: Caller) -> None:
    member = office.member
    member.set_password("a long invented horse")
    member.save()
    assert "invented horse" not in everything_kept()
    assert member.check_password("a long invented horse")


def test_the_secret_is_in_no_log_line(
    office: Caller, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    caplog.set_level(logging.DEBUG)
    token = issue(office, "tablets")["token"]
    caller = Caller().with_token(token)
    caller.get("/api/v1/crews/")
    caller.get("/api/v1/nothing/")
    Caller().with_token(token + "x").get("/api/v1/crews/")

    def break_down(*_: Any, **__: Any) -> None:
        raise RuntimeError("broken on purpose")

    monkeypatch.setattr("contractor.people.api_crews.CrewView.list", break_down)
    broken = Caller.unchecked(office)
    broken.get("/api/v1/crews/", headers={"Authorization": f"Bearer {token}"})
    logged = "\n".join(f"{one.getMessage()} {one.exc_text}" for one in caplog.records)
    assert "broken on purpose" in logged, "the log must be seen, or this looks at nothing"
    assert token not in logged
    assert token.split("_", 2)[2] not in logged
