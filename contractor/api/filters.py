"""Which rows are asked for? Filters are declared by each view; an unknown one is an error."""

from collections.abc import Callable, Set
from dataclasses import dataclass
from typing import Any

from django.db.models import Q, QuerySet
from rest_framework.filters import BaseFilterBackend
from rest_framework.request import Request

from contractor.api.desk import desk_of
from contractor.api.problems import Problem
from contractor.api.strict import nearest

FORMAT = frozenset({"format"})
ROW_WORDS = FORMAT | {"fields", "omit", "brief", "expand"}
PAGE_WORDS = ROW_WORDS | {"cursor", "limit"}


@dataclass(frozen=True, slots=True)
class Filter:
    """One filter: its lookup, how to read its text, and what it is for."""

    lookup: str
    says: str
    read: Callable[[str], Any] = str
    enum: tuple[str, ...] = ()


def check_parameters(request: Request, known: Set[str]) -> None:
    """Refuse a parameter that would otherwise be ignored in silence.

    Raises:
        Problem: naming the parameter, and the known one that comes nearest.
    """
    for name in request.query_params:
        if name not in known:
            raise Problem(
                "unknown_filter",
                f"There is no parameter `{name}` here.",
                hint=nearest(name, known, "parameters"),
                pointer=f"/{name}",
            )
        if "\x00" in request.query_params[name]:
            text = f"`{name}` holds U+0000, which no text may hold."
            raise Problem("filter_value", text, pointer=f"/{name}")


def is_page(request: Request) -> bool:
    """Whether a person reads the answer as a page, which may have a word more (a week to show)."""
    return getattr(getattr(request, "accepted_renderer", None), "format", "") == "api"


class StrictFilters(BaseFilterBackend):
    """Apply the view's `filters` and `search`; refuse every other parameter by name."""

    def filter_queryset(self, request: Request, queryset: QuerySet, view: Any) -> QuerySet:
        """Narrow the rows; called for lists only."""
        filters: dict[str, Filter] = getattr(view, "filters", {})
        page_words = desk_of(view).page_words if is_page(request) else frozenset()
        search = {"q"} if view.search else set()
        check_parameters(request, set(filters) | PAGE_WORDS | page_words | search)
        for name, one in filters.items():
            if name in request.query_params:
                queryset = queryset.filter(**{one.lookup: self._value(name, one, request)})
        return self._searched(request, queryset, view)

    def _value(self, name: str, one: Filter, request: Request) -> Any:
        text = request.query_params[name]
        try:
            if one.enum and text not in one.enum:
                raise ValueError(f"one of: {', '.join(one.enum)}")
            return one.read(text)
        except ValueError as error:
            raise Problem(
                "filter_value",
                f"`{name}` is {text!r}, which cannot be read.",
                hint=f"Send {error}.",
                pointer=f"/{name}",
            ) from error

    def _searched(self, request: Request, queryset: QuerySet, view: Any) -> QuerySet:
        words = request.query_params.get("q", "").split() if view.search else []
        for word in words[:8]:
            either = Q()
            for field in view.search:
                either |= Q(**{f"{field}__icontains": word})
            queryset = queryset.filter(either)
        return queryset

    def get_schema_operation_parameters(self, view: Any) -> list[dict[str, Any]]:
        """Describe the filters for the schema."""
        described = [
            {
                "name": name,
                "in": "query",
                "required": False,
                "description": one.says,
                "schema": {"type": "string", **({"enum": list(one.enum)} if one.enum else {})},
            }
            for name, one in getattr(view, "filters", {}).items()
        ]
        if getattr(view, "search", ()):
            described.append(
                {
                    "name": "q",
                    "in": "query",
                    "required": False,
                    "description": "Words to look for.",
                    "schema": {"type": "string"},
                }
            )
        return described
