"""Is a token good for exactly what it says, for exactly as long?"""

from datetime import timedelta

import pytest
from django.utils import timezone

from contractor.people.models import Tablet
from contractor.people.tokens import digest_of
from tests.clients import Caller, assert_problem
from tests.factories import EVERY_SCOPE, JobFactory, MemberFactory, integration_made, tablet_made

CREWS = "/api/v1/crews/"


def call(token: str) -> object:
    return Caller().with_token(token).get(CREWS)


@pytest.fixture
def pair(db: None) -> tuple[Tablet, str]:
    return tablet_made(MemberFactory(role="lead", name="Dov Abrams"))


def test_a_good_token_is_taken(pair: tuple[Tablet, str]) -> None:
    assert call(pair[1]).status_code == 200  # type: ignore[attr-defined]


def test_the_word_before_a_token_is_read_in_any_case(pair: tuple[Tablet, str]) -> None:
    answer = Caller().get(CREWS, headers={"Authorization": f"bearer  {pair[1]}"})
    assert answer.status_code == 200


def test_an_expired_token_says_since_when(db: None) -> None:
    past = timezone.now() - timedelta(seconds=1)
    _, token = tablet_made(MemberFactory(), expires_at=past)
    body = assert_problem(call(token), 401, "authentication_failed")
    assert f"{past:%Y-%m-%d %H:%M} UTC" in body["detail"]


def test_a_token_that_is_revoked_between_two_calls_is_refused_on_the_next(
    office: Caller, pair: tuple[Tablet, str]
) -> None:
    tablet, token = pair
    assert call(token).status_code == 200  # type: ignore[attr-defined]
    answer = office.post(f"/api/v1/tablets/{tablet.number}/revoke/", {"why": "lost"}, seen=1)
    assert answer.status_code == 200, answer.content
    assert answer.json()["revoked_why"] == "lost"
    body = assert_problem(call(token), 401, "authentication_failed")
    assert "revoked" in body["detail"]


def test_a_revocation_says_why_and_of_which_version(
    office: Caller, pair: tuple[Tablet, str]
) -> None:
    path = f"/api/v1/tablets/{pair[0].number}/revoke/"
    assert_problem(office.post(path, {}, seen=1), 400, "required", "/why")
    assert_problem(office.post(path, {"why": "lost"}), 428, "version_missing")
    assert_problem(office.post(path, {"why": "lost"}, seen=9), 412, "version_stale")
    assert call(pair[1]).status_code == 200  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    "forge",
    [
        lambda token: token[:-1] + ("A" if token[-1] != "A" else "B"),
        lambda token: token + "x",
        lambda token: "int" + token[3:],
        lambda token: "tab_000000000000" + token[16:],
        lambda token: token.upper(),
        lambda token: token.rpartition("_")[0],
        lambda token: token.partition("_")[2],
        lambda token: digest_of(token),
        lambda token: "",
        lambda token: "tab__",
    ],
)
def test_a_wrong_token_is_told_nothing_but_that_it_is_wrong(
    pair: tuple[Tablet, str], forge: object
) -> None:
    body = assert_problem(call(forge(pair[1])), 401, "authentication_failed")  # type: ignore[operator]
    assert body["detail"] == "This token is not one of ours."


def test_the_tablet_of_a_member_who_left_is_refused(pair: tuple[Tablet, str]) -> None:
    holder = pair[0].holder
    holder.is_active = False
    holder.save()
    body = assert_problem(call(pair[1]), 401, "authentication_failed")
    assert "no longer works here" in body["detail"]


def test_a_session_of_a_member_who_left_is_refused(measurer: Caller) -> None:
    assert measurer.get(CREWS).status_code == 200
    measurer.member.is_active = False
    measurer.member.save()
    assert measurer.get(CREWS).status_code == 401


def test_a_wrong_token_is_not_saved_by_a_good_session(office: Caller) -> None:
    answer = office.get(CREWS, headers={"Authorization": "Bearer tab_0_0"})
    assert_problem(answer, 401, "authentication_failed")


@pytest.mark.parametrize("scheme", ["Basic", "Token", "tab_"])
def test_another_scheme_is_nobody(db: None, scheme: str) -> None:
    answer = Caller().get(CREWS, headers={"Authorization": f"{scheme} abc"})
    assert_problem(answer, 401, "not_authenticated")


@pytest.mark.parametrize(
    ("scope", "method", "path"),
    [
        ("bookings:read", "get", "/api/v1/bookings/"),
        ("bookings:write", "post", "/api/v1/bookings/"),
        ("crews:read", "get", CREWS),
        ("changes:read", "get", "/api/v1/changes/"),
        ("jobs:read", "get", "/api/v1/jobs/"),
        ("packets:read", "get", "/api/v1/packets/"),
    ],
)
def test_each_scope_opens_its_own_door_and_no_other(
    db: None, scope: str, method: str, path: str
) -> None:
    with_it = Caller().with_token(integration_made(scopes=[scope])[1])
    others = [one for one in EVERY_SCOPE if one != scope]
    without = Caller().with_token(integration_made(scopes=others)[1])
    assert getattr(with_it, method)(path).status_code in {200, 400}
    body = assert_problem(getattr(without, method)(path), 403, "scope_missing")
    assert scope in body["detail"]


def test_every_scope_that_is_issued_is_one_that_a_door_asks_for() -> None:
    from contractor.people.api import SCOPES

    assert sorted(SCOPES) == sorted(EVERY_SCOPE)


def test_rights_that_change_act_at_once(db: None) -> None:
    row, token = integration_made(scopes=["crews:read"])
    assert call(token).status_code == 200  # type: ignore[attr-defined]
    row.scopes = ["jobs:read"]
    row.save()
    assert call(token).status_code == 403  # type: ignore[attr-defined]


def test_a_role_that_changes_acts_at_once(measurer: Caller) -> None:
    body = {"job": JobFactory().number, "name": "Loft", "enclosure": "alcove", "stands_on": "curb"}
    assert measurer.post("/api/v1/openings/", body).status_code == 201
    measurer.member.role = "yard"
    measurer.member.save()
    assert_problem(measurer.post("/api/v1/openings/", body), 403, "role_not_allowed")


@pytest.mark.parametrize("scopes", [[], ["everything"], ["jobs:write"], "jobs:read", None])
def test_a_program_is_issued_known_scopes_only(office: Caller, scopes: object) -> None:
    answer = office.post("/api/v1/integrations/", {"name": "Board", "scopes": scopes})
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"].startswith("/scopes")
