"""The stock room as an application."""

from django.apps import AppConfig

from contractor.api.append_only import only_grows


class StockRoom(AppConfig):
    name = "jobs.stock"
    label = "stock"

    def ready(self) -> None:
        """Declare that movements are facts: added, never changed."""
        only_grows(self.label, "stock_movement")
