"""The kits room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class KitsRoom(AppConfig):
    name = "fitcheck.kits"
    label = "kits"

    def ready(self) -> None:
        """Declare that a published rule sheet is never changed."""
        only_grows(self.label, "kits_rulesheet")
