"""The stock endpoint's table as an application; only the benchmark installs it."""

from django.apps import AppConfig


class Bare(AppConfig):
    name = "bare"
    label = "bare"
