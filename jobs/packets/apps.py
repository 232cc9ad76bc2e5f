"""The packets room as an application."""

from django.apps import AppConfig


class PacketsRoom(AppConfig):
    name = "jobs.packets"
    label = "packets"
