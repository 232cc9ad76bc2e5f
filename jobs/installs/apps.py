"""The installs room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class InstallsRoom(AppConfig):
    name = "jobs.installs"
    label = "installs"

    def ready(self) -> None:
        """Declare that records and marks are facts: added, never changed."""
        only_grows(self.label, "installs_record", "installs_mark", "installs_startedagain")
