"""The jobs room as an application."""

from django.apps import AppConfig


class JobsRoom(AppConfig):
    name = "jobs.jobs"
    label = "jobs"
