"""The stateless questions as an application; it owns no table."""

from django.apps import AppConfig


class ChecksRoom(AppConfig):
    name = "fitcheck.checks"
    label = "checks"
