"""The reminders room as an application."""

from typing import Any

from django.apps import AppConfig
from django.db import connections
from django.db.models.signals import post_migrate


class RemindersRoom(AppConfig):
    name = "jobs.reminders"
    label = "reminders"

    def ready(self) -> None:
        """Give an installation the rules that it starts with, after every migrate."""
        post_migrate.connect(_presets, sender=self)


def _presets(using: str, **_: Any) -> None:
    from jobs.reminders.models import Heard, Rule
    from jobs.reminders.presets import PRESETS

    if Rule._meta.db_table not in connections[using].introspection.table_names():
        return
    known = set(Rule.objects.using(using).values_list("slug", flat=True))
    missing = [Rule(**one) for one in PRESETS if one["slug"] not in known]
    Rule.objects.using(using).bulk_create(missing, ignore_conflicts=True)
    Heard.objects.using(using).get_or_create(name="rules")
