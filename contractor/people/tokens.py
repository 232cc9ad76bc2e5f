"""Is this bearer token good? Found by its handle, compared by digest, checked on every call."""

import hashlib
import hmac
import secrets
from datetime import datetime
from typing import Any

from django.utils import timezone
from rest_framework.authentication import BaseAuthentication
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.request import Request

from contractor.api.limits import check_strangers
from contractor.people.models import Integration, Member, Tablet, Token

KINDS: dict[str, type[Token]] = {Tablet.PREFIX: Tablet, Integration.PREFIX: Integration}

# Asked on every call of a tablet: written out, for building it anew costs more than asking it.
TABLET = """
SELECT t.id, t.name, t.digest, t.expires_at, t.revoked_at, t.holder_id,
       m.name AS holder_name, m.role AS holder_role, m.is_active AS holder_active
FROM people_tablet t JOIN people_member m ON m.id = t.holder_id WHERE t.handle = %s
"""


def token_make(kind: type[Token]) -> tuple[str, str, str]:
    """Make a new secret; returns the token to show once, its handle and its digest."""
    handle, secret = secrets.token_hex(6), secrets.token_urlsafe(32)
    token = f"{kind.PREFIX}_{handle}_{secret}"
    return token, handle, digest_of(token)


def digest_of(token: str) -> str:
    """Digest a token; a secret of 256 random bits needs no slow hash."""
    return hashlib.sha256(token.encode()).hexdigest()


def token_find(text: str, *, now: datetime) -> Any:
    """Find the tablet or integration of a token.

    Raises:
        AuthenticationFailed: unknown, wrong, expired or revoked; the text never says which of the
            first two, so that handles cannot be probed.
    """
    prefix, _, rest = text.partition("_")
    kind, handle = KINDS.get(prefix), rest.partition("_")[0]
    row = _row(kind, handle) if kind else None
    if row is None or not hmac.compare_digest(row.digest, digest_of(text)):
        raise AuthenticationFailed("This token is not one of ours.")
    if row.revoked_at is not None:
        raise AuthenticationFailed("This token was revoked.")
    if row.expires_at <= now:
        raise AuthenticationFailed(f"This token expired at {row.expires_at:%Y-%m-%d %H:%M} UTC.")
    if isinstance(row, Tablet) and not row.holder.is_active:
        raise AuthenticationFailed("The holder of this tablet no longer works here.")
    return row


def _row(kind: type[Token], handle: str) -> Any:
    """Fetch what every call needs and no more; a column that a rare one needs is fetched then."""
    if kind is not Tablet:
        return kind._default_manager.order_by().filter(handle=handle).first()
    row: Any = next(iter(Tablet.objects.raw(TABLET, [handle])), None)
    if row is not None:
        holder = (row.holder_id, row.holder_name, row.holder_role, bool(row.holder_active))
        row.holder = Member.from_db(None, ["id", "name", "role", "is_active"], holder)
    return row


class BearerAuthentication(BaseAuthentication):
    """`Authorization: Bearer tab_…` for tablets, `int_…` for programs."""

    def authenticate(self, request: Request) -> tuple[Any, Any] | None:
        """Read the header; a request without one may still have a session."""
        scheme, _, text = request.headers.get("Authorization", "").partition(" ")
        if scheme.lower() != "bearer":
            return None
        try:
            row = token_find(text.strip(), now=timezone.now())
        except AuthenticationFailed:
            check_strangers(request)
            raise
        return (row.holder, row) if isinstance(row, Tablet) else (row, row)

    def authenticate_header(self, request: Request) -> str:
        """Name the challenge."""
        return 'Bearer realm="api"'
