"""Is every member of a body known? An unknown one is refused with the nearest right name."""

import difflib
from collections.abc import Iterable, Mapping
from typing import Any

from rest_framework import serializers

from contractor.api.problems import HintedDetail

# What a browser's form carries beside its fields; the views read these themselves.
FORM_EXTRAS = frozenset(
    {"csrfmiddlewaretoken", "_version", "_idempotency_key", "_reason", "_method", "_content_type"}
)

MOST_TOLD = 50  # misfits of one object; a body that is wrong all over need not be told whole


def nearest(name: str, known: Iterable[str], what: str = "fields") -> str:
    """Say what to send instead of an unknown name."""
    names = sorted(known)
    close = difflib.get_close_matches(name, names, n=1, cutoff=0.6)
    return f"Did you mean `{close[0]}`?" if close else f"Known {what}: {', '.join(names)}."


class StrictMixin:
    """Refuse unknown members, and read-only ones that differ from what was given out."""

    fields: Any
    instance: Any

    def run_validation(self, data: Any = serializers.empty) -> Any:
        """Check the names before the values, so that a misspelt field is never lost."""
        if isinstance(data, Mapping):
            errors = self.misfits(data)
            if errors:
                raise serializers.ValidationError(errors)
        return super().run_validation(data)  # type: ignore[misc]

    def misfits(self, data: Mapping[str, Any]) -> dict[str, list[HintedDetail]]:
        """List members that this body may not carry."""
        form = hasattr(data, "getlist")
        errors: dict[str, list[HintedDetail]] = {}
        for name in data:
            if len(errors) >= MOST_TOLD:
                break
            field = self.fields.get(name)
            if form and (name in FORM_EXTRAS or "." in name or "[" in name):
                continue
            if field is None:
                writable = [key for key, one in self.fields.items() if not one.read_only]
                text = f"There is no field `{name}` here."
                errors[name] = [HintedDetail(text, "unknown_field", nearest(name, writable))]
            elif field.read_only and data[name] != self.given_out(name):
                text = f"`{name}` is worked out by the service and cannot be set."
                errors[name] = [
                    HintedDetail(text, "read_only", "Leave it out, or send it back unchanged.")
                ]
        return errors

    def given_out(self, name: str) -> Any:
        """What the service last said for a read-only field; a fresh object when it said nothing."""
        if self.instance is None or hasattr(self.instance, "__iter__"):
            return object()
        return self.to_representation(self.instance).get(name)  # type: ignore[attr-defined]


class StrictSerializer(StrictMixin, serializers.Serializer):
    """A serializer that ignores nothing."""


class StrictModelSerializer(StrictMixin, serializers.ModelSerializer):
    """A model serializer that ignores nothing."""
