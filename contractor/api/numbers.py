"""How does a row's spoken number stand on the wire, in a filter, in an address?"""

from typing import Any

from drf_spectacular.extensions import OpenApiSerializerFieldExtension
from rest_framework import serializers

from contractor.api.numbered import key_of
from contractor.api.problems import FieldProblem, Problem


def key_reader(letter: str) -> Any:
    """Make a filter's reader for the numbers of one room."""
    return lambda text: key_of(text, letter)


def key_or_404(text: str, letter: str) -> int:
    """Read a number out of an address; anything else is simply not found."""
    try:
        return key_of(text, letter)
    except ValueError:
        raise Problem("not_found", f"There is no {text}.", status=404) from None


class NumberField(serializers.RelatedField):
    """A related row named by its number; a text input in forms, never a list of everything."""

    def __init__(self, **kwargs: Any) -> None:
        self.letter: str = kwargs.pop("letter")
        if not kwargs.get("read_only"):
            kwargs.setdefault("style", {"base_template": "input.html"})
        super().__init__(**kwargs)

    def use_pk_only_optimization(self) -> bool:
        """Print the number from the key alone, without fetching the row."""
        return True

    def to_representation(self, value: Any) -> str:
        """Print the number."""
        return f"{self.letter}-{value.pk:04d}"

    def to_internal_value(self, data: Any) -> Any:
        """Find the row of a number."""
        try:
            key = key_of(data, self.letter)
        except ValueError as error:
            raise FieldProblem(
                "not_a_number", f"{data!r} is no number of this kind.", f"Send {error}."
            ) from error
        rows: Any = self.get_queryset()
        row = rows.filter(pk=key).first()
        if row is None:
            raise FieldProblem(
                "does_not_exist", f"There is no {self.letter}-{key:04d}.", "Send one that exists."
            )
        return row


class NumberFieldShape(OpenApiSerializerFieldExtension):  # type: ignore[no-untyped-call]
    """Describe a number to the schema as the text that it is."""

    target_class = "contractor.api.numbers.NumberField"

    def map_serializer_field(self, auto_schema: Any, direction: Any) -> dict[str, Any]:
        """A letter, a dash, digits."""
        letter = self.target.letter
        return {"type": "string", "examples": [f"{letter}-0007"], "description": f"`{letter}-0007`"}
