"""The saw plans room as an application."""

from django.apps import AppConfig


class SawPlansRoom(AppConfig):
    name = "jobs.sawplans"
    label = "sawplans"
