"""The plans room as an application."""

from django.apps import AppConfig


class PlansRoom(AppConfig):
    name = "jobs.plans"
    label = "plans"
