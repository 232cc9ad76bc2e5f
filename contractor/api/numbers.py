"""How do people name a row? By a short number such as J-0007, made from its key."""

from typing import Any, ClassVar

from django.db import models
from rest_framework import serializers

from contractor.api.problems import FieldProblem, Problem


class Numbered(models.Model):
    """A row with a spoken number: the room's letter and the key."""

    LETTER: ClassVar[str]

    class Meta:
        abstract = True

    @property
    def number(self) -> str:
        """The number to print and to type."""
        return f"{self.LETTER}-{self.pk:04d}"


def key_of(text: Any, letter: str) -> int:
    """Read the key out of a number.

    Raises:
        ValueError: the text is no number of this room; its text says what to send.
    """
    head, _, tail = str(text).strip().upper().partition("-")
    if head != letter or not tail.isdecimal() or len(tail) > 15:
        raise ValueError(f"a number such as {letter}-0007")
    return int(tail)


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
        row = self.get_queryset().filter(pk=key).first()
        if row is None:
            raise FieldProblem(
                "does_not_exist", f"There is no {self.letter}-{key:04d}.", "Send one that exists."
            )
        return row
