"""What do all endpoints of a room share? Roles, one transaction a write, versions, small answers."""

from collections.abc import Callable
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models, transaction
from rest_framework import mixins
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.viewsets import GenericViewSet

from contractor.api.callers import Caller
from contractor.api.expanding import expanded
from contractor.api.filters import FORMAT, ROW_WORDS, check_parameters, is_page
from contractor.api.forms import form_value
from contractor.api.idempotency import fingerprint_of, once, once_by
from contractor.api.numbers import key_or_404
from contractor.api.preconditions import check_version, etag
from contractor.api.problems import Problem
from contractor.api.roles import SAFE, caller_of
from contractor.api.strict import nearest


class Room(GenericViewSet):
    """The base of every room's endpoints.

    A subclass names `roles` (action -> roles), `filters`, `search`, `brief` (the fields of a short
    answer), `reads` (parameters that a reading action knows beside `format`), `small_answers` when
    a reader may choose fields, and `letter` when its rows have spoken numbers.
    """

    roles: dict[str, frozenset[str]] = {}
    scope = "none"
    filters: dict[str, Any] = {}
    search: tuple[str, ...] = ()
    reads: dict[str, frozenset[str]] = {}
    small_answers = False
    brief: tuple[str, ...] = ()
    letter = ""
    called = ""
    lookup_value_regex = r"[A-Za-z0-9_.:-]+"

    def __init_subclass__(cls, **kwargs: Any) -> None:
        """Keep the room's name, which the framework wipes from the class when it routes to it."""
        super().__init_subclass__(**kwargs)
        cls.called = getattr(cls, "name", None) or cls.called

    @property
    def caller(self) -> Caller:
        """Who calls."""
        return caller_of(self.request)

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        """Refuse parameters that nothing would read; a page's own form may carry some on a write.

        Those of a list are refused where they are applied, by its filters.
        """
        super().initial(request, *args, **kwargs)
        if request.method not in SAFE and not is_page(request):
            check_parameters(request, FORMAT)
        elif self.action is None:
            return  # refused for its method; a page that only asks is opened with words for its form
        elif request.method in {"GET", "HEAD"} and (self.action != "list" or "list" in self.reads):
            own = ROW_WORDS if self.small_answers and self.action == "retrieve" else FORMAT
            check_parameters(request, self.reads.get(self.action, frozenset()) | own)

    def get_object(self) -> Any:
        """Find the row of the address; foreign and absent rows look alike."""
        key = self.kwargs[self.lookup_field]
        if self.letter:
            key = key_or_404(key, self.letter)
        try:
            row = self.get_queryset().get(**{"pk" if self.letter else self.lookup_field: key})
        except (models.ObjectDoesNotExist, ValueError, TypeError, ValidationError):
            raise Problem(
                "not_found", f"There is no {self.kwargs[self.lookup_field]}.", status=404
            ) from None
        self.check_object_permissions(self.request, row)
        return row

    def get_serializer(self, *args: Any, **kwargs: Any) -> Any:
        """Make the serializer, with only the fields that were asked for, and what is to be expanded."""
        serializer: Any = super().get_serializer(*args, **kwargs)
        fields = getattr(serializer, "child", serializer).fields if self._chooses() else {}
        whole = self._whole(serializer)
        wanted = self._wanted(set(fields))
        if wanted is not None:
            for name in set(fields) - wanted:
                fields.pop(name)
        if whole is not None:
            fields["expanded"] = whole
        return serializer

    def _chooses(self) -> bool:
        """Whether this read says what it wants of a row; else the fields are not made for it."""
        query = getattr(self.request, "query_params", {})
        return (
            self.request is not None
            and self.request.method in {"GET", "HEAD"}
            and not {"brief", "fields", "omit", "expand"}.isdisjoint(query)
        )

    def _whole(self, serializer: Any) -> Any:
        if not self._chooses() or "expand" not in self.request.query_params:
            return None
        row = serializer.instance
        if hasattr(serializer, "child"):
            return expanded(self.request, serializer.child, row)
        return expanded(self.request, serializer, [row])

    def _wanted(self, every: set[str]) -> set[str] | None:
        query = self.request.query_params if every else {}
        if "brief" in query:
            return self._brief(query["brief"], every)
        if "fields" in query:
            return self._names("fields", query["fields"], every)
        if "omit" in query:
            return every - self._names("omit", query["omit"], every)
        return None

    def _brief(self, text: str, every: set[str]) -> set[str]:
        if text != "true":
            raise Problem(
                "filter_value",
                f"`brief` is {text!r}, which cannot be read.",
                hint="Send brief=true, or leave it out.",
                pointer="/brief",
            )
        return set(self.brief) or every

    def _names(self, parameter: str, text: str, every: set[str]) -> set[str]:
        names = {one.strip() for one in text.split(",") if one.strip()}
        for name in names - every:
            raise Problem(
                "unknown_field",
                f"There is no field `{name}` here.",
                hint=nearest(name, every),
                pointer=f"/{parameter}",
            )
        return names

    def finalize_response(self, request: Request, response: Any, *args: Any, **kwargs: Any) -> Any:
        """Put the version of a single row into the ETag, and its address as plain text."""
        response = super().finalize_response(request, response, *args, **kwargs)
        data = getattr(response, "data", None)
        if (
            isinstance(data, dict)
            and isinstance(data.get("version"), int)
            and "ETag" not in response
        ):
            response["ETag"] = etag(data["version"])
        if "Location" in response:
            # The framework's link is a kind of text that some servers do not take in a header.
            response["Location"] = str(response["Location"])
        return response


class ListAndRead(mixins.ListModelMixin, mixins.RetrieveModelMixin, Room):
    """Lists by cursor and single rows with their version."""

    small_answers = True


class CreateOnce(Room):
    """A POST that makes one row, harmless to send twice with one Idempotency-Key."""

    def create(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Validate, make the row in one transaction, answer 201 with its address."""
        return once(request, self.caller, lambda: self._made(request.data))

    def one(self, data: Any, key: str | None) -> Response:
        """Make one row of many."""
        if key is None:
            with transaction.atomic():
                return self._made(data)
        mark = fingerprint_of(self.request, data)
        return once_by(key, mark, self.caller, lambda: self._made(data))

    def _made(self, data: Any) -> Response:
        serializer = self.get_serializer(data=data)
        serializer.is_valid(raise_exception=True)
        row = self.make(**serializer.validated_data)
        told = self.get_serializer(row).data
        return Response(told, status=201, headers={"Location": told["url"]})

    def make(self, **values: Any) -> Any:
        """Call the room's service; every subclass says which."""
        raise NotImplementedError


class PatchSeen(Room):
    """A PATCH (merge patch) that says which version it saw."""

    def partial_update(self, request: Request, *args: Any, **kwargs: Any) -> Response:
        """Lock the row, compare versions, change it, answer with the new version."""
        with transaction.atomic():
            row = self._locked(request)
            serializer = self.get_serializer(row, data=request.data, partial=True)
            serializer.is_valid(raise_exception=True)
            row = self.change(row, **serializer.validated_data)
            return Response(self.get_serializer(row).data)

    def _locked(self, request: Request) -> Any:
        row = self.get_object()
        locked = type(row)._default_manager.select_for_update().get(pk=row.pk)
        check_version(request, locked.version, version=locked.version)
        return locked

    def change(self, row: Any, **values: Any) -> Any:
        """Call the room's service; every subclass says which."""
        raise NotImplementedError

    def act(self, request: Request, work: Callable[[Any], Any]) -> Response:
        """Do one named action on the row (cancel, revoke, …) under the same guard."""
        with transaction.atomic():
            row = work(self._locked(request))
            return Response(self.get_serializer(row).data)


def reason_of(request: Request) -> str:
    """Read why a write is made: the Change-Reason header, or the form's own box."""
    reason = request.headers.get("Change-Reason") or form_value(request, "_reason") or ""
    return reason[:300]
