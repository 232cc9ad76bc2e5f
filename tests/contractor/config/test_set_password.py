"""Can a member's password be set from a terminal, and a first member be added?"""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from contractor.api.callers import SYSTEM
from contractor.notices.models import Notice
from contractor.people.models import Member
from contractor.people.services import member_create

pytestmark = pytest.mark.django_db
GOOD = "quarrel-lantern-57"


def typed(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr("sys.stdin", StringIO(text))


def test_a_password_is_set_and_leaves_a_notice_without_it(monkeypatch: pytest.MonkeyPatch) -> None:
    member = member_create(by=SYSTEM, login="ada", name="Ada Quill", role="yard")
    typed(monkeypatch, GOOD + "\n")
    call_command("set_password", "ada", stdout=StringIO())
    member.refresh_from_db()
    assert member.check_password(GOOD)
    notice = Notice.objects.get(type="member.password_set")
    assert (notice.about, notice.changes) == (member.number, {})


def test_an_unknown_login_is_told_which_are_known() -> None:
    member_create(by=SYSTEM, login="ada", name="Ada Quill", role="yard")
    with pytest.raises(CommandError, match=r"no member 'bob'. Known: ada"):
        call_command("set_password", "bob")


def test_a_weak_password_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    member = member_create(by=SYSTEM, login="ada", name="Ada Quill", role="yard")
    typed(monkeypatch, "short\n")
    with pytest.raises(CommandError, match="too short"):
        call_command("set_password", "ada")
    member.refresh_from_db()
    assert not member.has_usable_password()


def test_a_new_installation_gets_its_first_office_member(monkeypatch: pytest.MonkeyPatch) -> None:
    typed(monkeypatch, GOOD)
    call_command("set_password", "ada", "--add", "Ada Quill", stdout=StringIO())
    member = Member.objects.get(login="ada")
    assert (member.name, member.role, member.check_password(GOOD)) == ("Ada Quill", "office", True)


def test_a_login_that_could_not_stand_in_an_address_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    typed(monkeypatch, GOOD)
    with pytest.raises(CommandError, match="no login name"):
        call_command("set_password", "ada quill", "--add", "Ada Quill")
    assert not Member.objects.exists()
