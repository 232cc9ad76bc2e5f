"""Who is a member, and what is a crew?"""

import pytest

from contractor.people.models import Crew, Member
from tests.clients import Caller, assert_problem
from tests.factories import CrewFactory, MemberFactory


def test_a_member_is_added_without_a_password_and_cannot_log_in(office: Caller) -> None:
    body = {"login": "wilna", "name": "Wilna Brask", "role": "helper", "qualifications": ["stone"]}
    told = office.post("/api/v1/members/", body).json()
    assert (told["qualifications"], told["active"], told["role"]) == (["stone"], True, "helper")
    assert not Member.objects.get(login="wilna").has_usable_password()
    assert "password" not in told


def test_a_member_leaves_by_a_change_and_is_never_deleted(office: Caller) -> None:
    member = MemberFactory()
    path = f"/api/v1/members/{member.number}/"
    assert office.patch(path, {"active": False}, seen=1).json()["active"] is False
    assert office.delete(path).status_code == 405


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("role", "boss"),
        ("qualifications", ["flying"]),
        ("login", "with space"),
        ("active", "maybe"),
    ],
)
def test_a_wrong_word_about_a_member_is_refused(office: Caller, name: str, value: object) -> None:
    body = {"login": "wilna", "name": "Wilna Brask", "role": "helper", name: value}
    answer = office.post("/api/v1/members/", body)
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["pointer"].startswith(f"/{name}")


@pytest.mark.parametrize("name", ["password", "is_superuser", "is_staff", "last_login"])
def test_no_other_column_of_a_member_can_be_written(office: Caller, name: str) -> None:
    body = {"login": "wilna", "name": "Wilna Brask", "role": "helper", name: "1"}
    assert_problem(office.post("/api/v1/members/", body), 400, "unknown_field", f"/{name}")


def test_a_crew_is_led_by_the_first_of_its_members(office: Caller) -> None:
    members = [MemberFactory(role="lead"), MemberFactory(), MemberFactory()]
    body = {"id": "heron", "name": "Heron", "member_ids": [one.number for one in members]}
    told = office.post("/api/v1/crews/", body).json()
    assert told["hands"] == 3
    assert [(one["id"], one["lead"]) for one in told["members"]] == [
        (members[0].number, True),
        (members[1].number, False),
        (members[2].number, False),
    ]


def test_one_who_left_lifts_nothing(office: Caller) -> None:
    crew = CrewFactory(members=[MemberFactory(), MemberFactory(is_active=False)])
    assert office.get(f"/api/v1/crews/{crew.slug}/").json()["hands"] == 1


def test_a_crew_takes_no_absent_inactive_or_repeated_member(office: Caller) -> None:
    gone = MemberFactory(is_active=False)
    here = MemberFactory()
    for ids in ([gone.number], ["M-9999"], ["nobody"], [here.number, here.number], []):
        answer = office.post("/api/v1/crews/", {"id": "heron", "name": "Heron", "member_ids": ids})
        assert answer.status_code == 400, (ids, answer.content)
        assert answer.json()["errors"][0]["pointer"].startswith("/member_ids"), ids
    assert not Crew.objects.exists()


def test_a_crews_short_name_is_taken_once(office: Caller) -> None:
    crew = CrewFactory()
    body = {"id": crew.slug, "name": "Again", "member_ids": [MemberFactory().number]}
    assert_problem(office.post("/api/v1/crews/", body), 400, "unique", "/id")
