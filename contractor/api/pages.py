"""How does the browsable API look to the office? As a desk with forms that fit the task."""

import uuid
from typing import Any

from rest_framework.renderers import BrowsableAPIRenderer


class DeskRenderer(BrowsableAPIRenderer):
    """The framework's pages with our own templates, and forms that carry version and key."""

    template = "rest_framework/api.html"

    def get_context(self, data: Any, accepted: str | None, context: Any) -> dict[str, Any]:
        """Add what the forms need: a fresh idempotency key and the version that the page shows."""
        found: dict[str, Any] = super().get_context(data, accepted, context)
        found["idempotency_key"] = str(uuid.uuid4())
        found["row_version"] = data.get("version") if isinstance(data, dict) else None
        return found
