"""How does a list go on? By a cursor that no insert or delete can shift."""

from typing import Any

from django.core.exceptions import ValidationError
from rest_framework.exceptions import NotFound
from rest_framework.pagination import CursorPagination

from contractor.api.problems import Problem


class CursorPages(CursorPagination):
    """Newest first, unique tie-break, `limit` from 1 to 200."""

    page_size = 50
    max_page_size = 200
    page_size_query_param = "limit"
    ordering: Any = "-pk"

    def paginate_queryset(self, queryset: Any, request: Any, view: Any = None) -> Any:
        """Cut one page out; a cursor that was not given out here is refused."""
        try:
            return super().paginate_queryset(queryset, request, view)
        except (NotFound, ValidationError, ValueError, OverflowError) as error:
            raise Problem(
                "cursor_unknown",
                "This cursor is none of ours.",
                hint="Follow `next` and `previous` of the last answer as they are.",
                pointer="/cursor",
            ) from error

    def get_page_size(self, request: Any) -> int:
        """Read `limit`; a value outside the range is refused, not clipped."""
        text = request.query_params.get(self.page_size_query_param)
        if text is None:
            return self.page_size
        if not text.isdecimal() or not 1 <= int(text) <= self.max_page_size:
            raise Problem(
                "limit_out_of_range",
                f"`limit` is {text!r}.",
                hint=f"Send a whole number from 1 to {self.max_page_size}.",
                pointer="/limit",
            )
        return int(text)

    def get_paginated_response_schema(self, schema: dict[str, Any]) -> dict[str, Any]:
        """Describe a page in OpenAPI 3.1 words (a null type, not the older keyword)."""
        link = {"type": ["string", "null"], "format": "uri"}
        return {
            "type": "object",
            "required": ["next", "previous", "results"],
            "properties": {"next": link, "previous": link, "results": schema},
        }
