"""The reminders room as an application."""

from django.apps import AppConfig


class RemindersRoom(AppConfig):
    name = "jobs.reminders"
    label = "reminders"
