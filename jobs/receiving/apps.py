"""The receiving room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class ReceivingRoom(AppConfig):
    name = "jobs.receiving"
    label = "receiving"

    def ready(self) -> None:
        """Declare that deliveries and inspections are facts: added, never changed."""
        only_grows(self.label, "receiving_delivery", "receiving_inspection")
