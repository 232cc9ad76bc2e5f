"""The roof as an application: it owns the set-up commands and nothing else."""

from django.apps import AppConfig


class ConfigRoom(AppConfig):
    name = "contractor.config"
    label = "config"
