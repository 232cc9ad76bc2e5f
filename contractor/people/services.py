"""What changes about people, crews and tokens, each in one transaction with its notice."""

from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.notices.services import notice_record, row_change
from contractor.people.models import Crew, CrewMember, Integration, Member, Tablet
from contractor.people.tokens import token_make


@transaction.atomic
def member_create(*, by: Caller, password: str | None = None, **values: Any) -> Member:
    """Add a member; writes the member, announces `member.added`."""
    member = Member.objects.create_member(password=password, **values)
    notice_record(
        by=by, type="member.added", about=member.number, changes={"name": ["", member.name]}
    )
    return member


@transaction.atomic
def password_set(*, by: Caller, member: Member, password: str) -> Member:
    """Give a member a new password, which ends every session of it; announces `member.password_set`."""
    member.set_password(password)
    member.save(update_fields=["password"])
    notice_record(by=by, type="member.password_set", about=member.number, version=member.version)
    return member


@transaction.atomic
def crew_create(
    *, by: Caller, slug: str, name: str, members: list[Member], lead: Member, **values: Any
) -> Crew:
    """Form a crew of members with one lead among them; writes crew and places, announces `crew.formed`."""
    crew = Crew.objects.create(slug=slug, name=name, **values)
    CrewMember.objects.bulk_create(
        CrewMember(crew=crew, member=one, is_lead=one.pk == lead.pk) for one in members
    )
    notice_record(
        by=by,
        type="crew.formed",
        about=slug,
        changes={"members": [[], [m.number for m in members]]},
    )
    return crew


@transaction.atomic
def tablet_issue(
    *, by: Caller, name: str, holder: Member, expires_at: datetime
) -> tuple[Tablet, str]:
    """Issue a tablet's token; returns it with the tablet, to be shown this once."""
    token, handle, digest = token_make(Tablet)
    tablet = Tablet.objects.create(
        name=name, holder=holder, expires_at=expires_at, handle=handle, digest=digest
    )
    notice_record(
        by=by, type="tablet.issued", about=tablet.number, changes={"holder": ["", holder.number]}
    )
    return tablet, token


@transaction.atomic
def integration_issue(
    *, by: Caller, name: str, scopes: list[str], expires_at: datetime
) -> tuple[Integration, str]:
    """Issue a program's token; returns it with the integration, to be shown this once."""
    token, handle, digest = token_make(Integration)
    row = Integration.objects.create(
        name=name, scopes=scopes, expires_at=expires_at, handle=handle, digest=digest
    )
    notice_record(
        by=by, type="integration.issued", about=row.number, changes={"scopes": [[], scopes]}
    )
    return row, token


def token_revoke(*, by: Caller, row: Any, why: str) -> Any:
    """Revoke a token at once; announces `tablet.revoked` or `integration.revoked`."""
    noun = type(row).__name__.lower()
    values = {"revoked_at": timezone.now(), "revoked_why": why}
    return row_change(row=row, by=by, type=f"{noun}.revoked", values=values, reason=why)
