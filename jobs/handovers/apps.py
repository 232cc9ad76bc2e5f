"""The handovers room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class HandoversRoom(AppConfig):
    name = "jobs.handovers"
    label = "handovers"

    def ready(self) -> None:
        """Declare that a handover is a fact: a later one is added, none is changed."""
        only_grows(self.label, "handovers_handover")
