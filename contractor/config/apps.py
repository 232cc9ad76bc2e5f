"""The roof as an application: it owns the set-up commands and nothing else."""

from django.apps import AppConfig


class ConfigRoom(AppConfig):
    name = "contractor.config"
    label = "config"

    def ready(self) -> None:
        """Register every room's tasks in this process too, so that a wake-up finds them by name."""
        from contractor.config.celery import app

        app.autodiscover_tasks(force=True)
