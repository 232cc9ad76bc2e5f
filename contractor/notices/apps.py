"""The notices room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class NoticesRoom(AppConfig):
    name = "contractor.notices"
    label = "notices"

    def ready(self) -> None:
        """Declare that notices are never changed."""
        only_grows(self.label, "notices_notice")
