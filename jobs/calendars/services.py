"""How is a calendar's address issued, taken back, and found again by its secret?"""

import hmac
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record, row_change
from contractor.people.models import Crew, Member
from contractor.people.tokens import digest_of, token_make
from jobs.calendars.models import CalendarFeed


@transaction.atomic
def feed_issue(
    *,
    by: Caller,
    name: str,
    expires_at: datetime,
    crew: Crew | None = None,
    member: Member | None = None,
) -> tuple[CalendarFeed, str]:
    """Issue a feed's secret; returns it with the feed, to be shown this once. Announces `calendar.issued`."""
    token, handle, digest = token_make(CalendarFeed)
    feed = CalendarFeed.objects.create(
        name=name, crew=crew, member=member, expires_at=expires_at, handle=handle, digest=digest
    )
    of = crew.slug if crew else member.number if member else ""
    notice_record(by=by, type="calendar.issued", about=feed.number, changes={"of": ["", of]})
    return feed, token


@transaction.atomic
def feed_revoke(*, by: Caller, feed: CalendarFeed, why: str) -> CalendarFeed:
    """Take an address back at once; announces `calendar.revoked`.

    Raises:
        Problem: it was revoked before.
    """
    if feed.revoked_at is not None:
        raise Problem(
            "revoked", f"{feed.number} was revoked before.", status=409, hint="Issue another."
        )
    values = {"revoked_at": timezone.now(), "revoked_why": why}
    return row_change(row=feed, by=by, type="calendar.revoked", values=values, reason=why)


def feed_find(*, secret: str, now: datetime) -> CalendarFeed | None:
    """Find the feed of a secret; None for one that is unknown, revoked or expired, without saying which."""
    prefix, _, rest = secret.partition("_")
    handle = rest.partition("_")[0]
    rows = CalendarFeed.objects.select_related("crew", "member")
    feed = rows.filter(handle=handle).first() if prefix == CalendarFeed.PREFIX else None
    if feed is None or not hmac.compare_digest(feed.digest, digest_of(secret)):
        return None
    gone = feed.revoked_at is not None or feed.expires_at <= now
    left = feed.member is not None and not feed.member.is_active
    return None if gone or left else feed
