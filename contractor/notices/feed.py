"""What happened after a place in the feed, and can nothing still come before it?"""

from django.db import connection
from django.db.models import QuerySet

from contractor.notices.models import Notice


def settled_after(position: int) -> QuerySet[Notice]:
    """Notices after a key, in order, that no open transaction can still precede.

    PostgreSQL gives keys out before commit, so a later key can be visible first; SQLite has one
    writer. Inside a transaction that wrote notices itself, PostgreSQL shows none of those yet.
    """
    rows = Notice.objects.filter(pk__gt=position).order_by("pk")
    if connection.vendor == "postgresql":
        rows = rows.extra(where=["txid < pg_snapshot_xmin(pg_current_snapshot())"])
    return rows
