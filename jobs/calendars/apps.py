"""The calendars room as an application."""

from django.apps import AppConfig


class CalendarsRoom(AppConfig):
    name = "jobs.calendars"
    label = "calendars"
