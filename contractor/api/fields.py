"""How do lengths and times stand on the wire? With their unit, with their offset."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from django.utils.dateparse import parse_datetime
from rest_framework import serializers

from contractor.api.moments import of_our_age
from contractor.api.problems import FieldProblem
from fitcheck.rules.length import LengthError, length_parse


class LengthField(serializers.CharField):
    """A length above zero with its unit, kept as it was entered: `59 3/8 in`, `1508 mm`."""

    def to_internal_value(self, data: Any) -> str:
        """Check that the text is a length and keep the text."""
        if data == "" and self.allow_blank:
            return ""
        try:
            length = length_parse(data)
        except LengthError as error:
            raise FieldProblem(error.code, str(error), error.hint) from error
        if length.nm <= 0:
            raise FieldProblem(
                "not_positive", f"{data!r} is not above zero.", "Send a length above zero: `30 in`."
            )
        return str(data if isinstance(data, str) else data["mm"])


class MomentField(serializers.DateTimeField):
    """A moment with its offset; a time without one is refused."""

    def to_internal_value(self, value: Any) -> datetime:
        """Read RFC 3339."""
        moment = value if isinstance(value, datetime) else self._read(value)
        if moment.tzinfo is None:
            raise FieldProblem(
                "time_without_offset",
                f"{value!r} says no offset.",
                "Send for example 2026-03-07T09:00:00-05:00, or …Z for UTC.",
            )
        if not of_our_age(moment):
            raise FieldProblem(
                "time_out_of_range", f"{value!r} is not of our age.", "Look at the year again."
            )
        return moment

    def _read(self, value: Any) -> datetime:
        try:
            moment = parse_datetime(value) if isinstance(value, str) else None
        except ValueError:
            moment = None
        if moment is None:
            raise FieldProblem(
                "time_not_understood",
                f"{value!r} is not a time.",
                "Send for example 2026-03-07T09:00:00-05:00.",
            )
        return moment


class DegreesField(serializers.DecimalField):
    """A latitude or longitude in decimal degrees of WGS 84: `41.878113`, `-87.629799`."""

    def __init__(self, *, most: int, **kwargs: Any) -> None:
        self.most = most
        kwargs.setdefault(
            "help_text",
            f"Decimal degrees, -{most} to {most}, WGS 84; travel times are reckoned from it.",
        )
        digits = len(str(most)) + 6
        super().__init__(
            max_digits=digits, decimal_places=6, min_value=-most, max_value=most, **kwargs
        )


class ZoneField(serializers.CharField):
    """The name of a time zone in the IANA database."""

    def to_internal_value(self, data: Any) -> str:
        """Check the name."""
        name: str = super().to_internal_value(data)
        if name not in available_timezones():
            raise FieldProblem(
                "time_zone_unknown",
                f"There is no time zone {name!r}.",
                "Send for example America/Chicago.",
            )
        ZoneInfo(name)
        return name
