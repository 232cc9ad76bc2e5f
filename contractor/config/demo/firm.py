"""Who works in the story: members, crews, and the tokens of tablets and programs."""

from datetime import timedelta
from typing import Any

from django.utils import timezone
from rest_framework.exceptions import AuthenticationFailed

from contractor.api.callers import SYSTEM
from contractor.config.demo.calendar import crew_facts
from contractor.config.demo.kept import Kept
from contractor.people.models import Crew, Integration, Member, Tablet
from contractor.people.services import (
    crew_create,
    integration_issue,
    member_create,
    password_set,
    tablet_issue,
    token_revoke,
)
from contractor.people.tokens import token_find

# One person of each role that works at a desk; the others have no password.
SHOWN = {"m-imke": "office", "m-tobias": "measurer", "m-marisol": "lead", "m-sunniva": "yard"}
SCOPES = ["bookings:read", "bookings:write", "crews:read", "changes:read", "jobs:read"]


def name_of(ref: str) -> str:
    """Turn a reference of the story such as `m-imke` into a login or slug."""
    return ref.partition("-")[2]


def member_tell(told: dict[str, Any], kept: Kept) -> Member:
    """Find or add a member; a shown one has the password that is kept."""
    login, shown = name_of(told["ref"]), told["ref"] in SHOWN
    member = Member.objects.filter(login=login).first()
    password = kept.password(login)
    if shown and password is None:
        password = kept.password_make(login)
        if member is not None:
            password_set(by=SYSTEM, member=member, password=password)
    if member is not None:
        return member
    values = {k: told[k] for k in ("name", "role", "email", "phone", "qualifications")}
    return member_create(by=SYSTEM, login=login, password=password if shown else None, **values)


def crew_tell(told: dict[str, Any], rows: dict[str, Any]) -> Crew:
    """Find or form a crew."""
    slug = name_of(told["ref"])
    return Crew.objects.filter(slug=slug).first() or crew_create(
        by=SYSTEM,
        slug=slug,
        name=told["name"],
        members=[rows[ref] for ref in told["members"]],
        lead=rows[told["lead"]],
        **crew_facts(told),
    )


def tablet_tell(told: dict[str, Any], rows: dict[str, Any], kept: Kept) -> Any:
    """Find the tablet of the kept token, or issue one and keep its token."""
    found = _good(kept.token(told["ref"]))
    if found is not None:
        return found
    _revoke_lost(Tablet, told["name"])
    expires = timezone.now() + timedelta(days=told["expires_in_days"])
    tablet, token = tablet_issue(
        by=SYSTEM, name=told["name"], holder=rows[told["member"]], expires_at=expires
    )
    kept.token_keep(told["ref"], token)
    return tablet


def integration_tell(told: dict[str, Any], kept: Kept) -> Any:
    """Find the program of the kept token, or issue one and keep its token."""
    found = _good(kept.token(told["ref"]))
    if found is not None:
        return found
    _revoke_lost(Integration, told["name"])
    expires = timezone.now() + timedelta(days=told["expires_in_days"])
    row, token = integration_issue(by=SYSTEM, name=told["name"], scopes=SCOPES, expires_at=expires)
    kept.token_keep(told["ref"], token)
    return row


def _good(token: str) -> Any:
    try:
        return token_find(token, now=timezone.now())
    except AuthenticationFailed:
        return None


def _revoke_lost(kind: Any, name: str) -> None:
    """Revoke tokens that were issued and then lost by a kill before they were kept."""
    for row in kind.objects.filter(name=name, revoked_at=None):
        token_revoke(by=SYSTEM, row=row, why="Its token was lost; another was issued.")
