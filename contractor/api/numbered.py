"""How do people name a row? By a short number such as J-0007, made from its key."""

from typing import Any, ClassVar

from django.db import models


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
