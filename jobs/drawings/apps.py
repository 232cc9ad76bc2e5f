"""The drawings room as an application."""

from django.apps import AppConfig


class DrawingsRoom(AppConfig):
    name = "jobs.drawings"
    label = "drawings"
