"""Which related rows are given out whole beside a row? `expand=job,crew` puts them into `expanded`."""

from collections.abc import Iterable
from typing import Any

from django.core.exceptions import FieldDoesNotExist
from django.db import models
from rest_framework import serializers
from rest_framework.request import Request

from contractor.api.numbers import NumberField
from contractor.api.problems import Problem
from contractor.api.roles import RolePermission
from contractor.api.strict import nearest

# By the model of its rows: the room and its name; the map of addresses enters them.
ROOMS: dict[type[models.Model], tuple[type[Any], str]] = {}
Told = dict[str, tuple[str, dict[Any, Any]]]


def expandable(serializer: Any) -> dict[str, models.ForeignKey]:
    """Find the members of an answer that name one row of a room."""
    model = getattr(getattr(serializer, "Meta", None), "model", None)
    if model is None:
        return {}
    found = {}
    for name, field in serializer.fields.items():
        if isinstance(field, NumberField | serializers.SlugRelatedField) and not field.write_only:
            key = _foreign_key(model, field.source or name)
            if key is not None and key.related_model in ROOMS:
                found[name] = key
    return found


def _foreign_key(model: type[models.Model], source: str) -> models.ForeignKey | None:
    try:
        field = model._meta.get_field(source)
    except FieldDoesNotExist:
        return None
    return field if isinstance(field, models.ForeignKey) else None


class ExpandedField(serializers.Field):
    """The rows that were asked for, each as its room's list gives it."""

    def __init__(self, told: Told) -> None:
        super().__init__(source="*", read_only=True)
        self.told = told

    def to_representation(self, row: Any) -> dict[str, Any]:
        """Look each of them up by the row's own key."""
        return {n: rows.get(getattr(row, key)) for n, (key, rows) in self.told.items()}


def expanded(request: Request, serializer: Any, rows: Iterable[Any]) -> ExpandedField:
    """Fetch what `expand` names for all rows at once, as its rooms show it to this caller.

    Raises:
        Problem: no such member to expand, or the caller may not read its room.
    """
    known = expandable(serializer)
    names = {one.strip() for one in request.query_params["expand"].split(",") if one.strip()}
    kept, told = list(rows), Told()
    for name in sorted(names):
        if name not in known:
            text = f"`{name}` cannot be expanded here."
            raise Problem("unknown_field", text, hint=nearest(name, known), pointer="/expand")
        key = known[name]
        wanted = {getattr(row, key.attname) for row in kept} - {None}
        told[name] = (key.attname, _shown(request, name, key, wanted))
    return ExpandedField(told)


def _shown(request: Request, name: str, key: models.ForeignKey, wanted: set[Any]) -> dict[Any, Any]:
    view, basename = ROOMS[key.related_model]
    room = view(
        request=request, action="list", basename=basename, kwargs={}, args=(), format_kwarg=None
    )
    try:
        RolePermission().has_permission(request, room)
    except Problem as refused:
        text = f"`{name}` cannot be expanded for you: {refused.detail}"
        raise Problem(
            refused.code, text, status=403, hint=refused.hint, pointer="/expand"
        ) from refused
    rows = list(room.get_queryset().filter(pk__in=wanted))
    shape = room.get_serializer_class()(rows, many=True, context=room.get_serializer_context())
    return {row.pk: one for row, one in zip(rows, shape.data, strict=True)}
