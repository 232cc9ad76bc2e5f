"""The openings room as an application."""

from django.apps import AppConfig


class OpeningsRoom(AppConfig):
    name = "jobs.openings"
    label = "openings"
