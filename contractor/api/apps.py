"""The manners as an application: it owns the idempotency keys and the pages' templates."""

from django.apps import AppConfig


class ApiRoom(AppConfig):
    name = "contractor.api"
    label = "api"
