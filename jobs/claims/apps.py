"""The claims room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class ClaimsRoom(AppConfig):
    name = "jobs.claims"
    label = "claims"

    def ready(self) -> None:
        """Declare that evidence and statements are facts: added, never changed."""
        only_grows(self.label, "claims_evidence", "claims_statement")
