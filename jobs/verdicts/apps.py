"""The verdicts room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class VerdictsRoom(AppConfig):
    name = "jobs.verdicts"
    label = "verdicts"

    def ready(self) -> None:
        """Declare that a verdict is never changed, nor what is kept beside it."""
        only_grows(self.label, "verdicts_verdict", "verdicts_depth")
