"""The bookings room as an application."""

from typing import Any

from django.apps import AppConfig
from django.db.models.signals import post_migrate


class BookingsRoom(AppConfig):
    name = "jobs.bookings"
    label = "bookings"

    def ready(self) -> None:
        """Put the guard against double booking in place after every migrate."""
        post_migrate.connect(_guard, sender=self)


def _guard(using: str, **_: Any) -> None:
    from jobs.bookings.overlap import ensure

    ensure(using)
