"""The losses room as an application."""

from django.apps import AppConfig


class LossesRoom(AppConfig):
    name = "jobs.losses"
    label = "losses"
