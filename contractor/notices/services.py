"""How does a write become known? By one notice in its own transaction."""

from collections.abc import Iterable
from typing import Any, Protocol, TypeVar

from django.db import models

from contractor.api.callers import Caller
from contractor.notices.models import Notice


class Versioned(Protocol):
    """A row with a spoken number and a version."""

    version: int

    @property
    def number(self) -> str:
        """What people call it by."""

    def save(self, *, update_fields: Any) -> None:
        """Write the named columns."""


Row = TypeVar("Row", bound=Versioned)


def notice_record(
    *,
    by: Caller,
    type: str,
    about: Any,
    reason: str = "",
    version: int = 1,
    changes: dict[str, Any] | None = None,
) -> Notice:
    """Write one notice; call it inside the transaction of the write that it tells of."""
    notice = notice_of(
        by=by, type=type, about=about, reason=reason, version=version, changes=changes
    )
    notice.save(force_insert=True)
    return notice


def notices_record(notices: Iterable[Notice]) -> list[Notice]:
    """Write one notice for each of many rows that were written together, in few statements."""
    return Notice.objects.bulk_create(notices)


def notice_of(
    *,
    by: Caller,
    type: str,
    about: Any,
    reason: str = "",
    version: int = 1,
    changes: dict[str, Any] | None = None,
) -> Notice:
    """Make one notice that the caller writes together with the rows that it tells of."""
    return Notice(
        type=type,
        noun=type.partition(".")[0],
        about=str(about),
        version=version,
        caller=by.key,
        caller_name=by.name,
        reason=reason,
        changes=changes or {},
    )


def row_change(*, row: Row, by: Caller, type: str, values: dict[str, Any], reason: str = "") -> Row:
    """Set values on a locked, versioned row and record old and new; a no-op records nothing.

    Writes the row and one notice.
    """
    changes = {}
    for name, new in values.items():
        old = getattr(row, name)
        if old != new:
            changes[name] = [_shown(old), _shown(new)]
            setattr(row, name, new)
    if changes:
        row.version += 1
        row.save(update_fields=[*values, "version"])
        notice_record(
            by=by, type=type, about=row.number, reason=reason, version=row.version, changes=changes
        )
    return row


def _shown(value: Any) -> Any:
    if isinstance(value, models.Model):
        return getattr(value, "number", value.pk)
    return value if isinstance(value, str | int | bool | list | dict | None) else str(value)
