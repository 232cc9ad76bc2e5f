"""The surveys room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class SurveysRoom(AppConfig):
    name = "jobs.surveys"
    label = "surveys"

    def ready(self) -> None:
        """Declare that readings are facts: added, never changed."""
        only_grows(
            self.label, "surveys_survey", "surveys_reading", "surveys_zone", "surveys_refused"
        )
