"""How is JSON kept word for word, and given out again without being read and written anew?"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any

import orjson
from django.db import models


class Written(Mapping[str, Any]):
    """A JSON object that is already written; it is read only when somebody looks inside."""

    def __init__(self, text: str) -> None:
        self.text = text

    @classmethod
    def of(cls, members: Mapping[str, Any]) -> "Written":
        """Write an object down, as short as it goes and in the order of its members."""
        return cls(line_safe(orjson.dumps(members)).decode())

    @cached_property
    def members(self) -> dict[str, Any]:
        """What stands in it."""
        return orjson.loads(self.text)  # type: ignore[no-any-return]

    def __getitem__(self, name: str) -> Any:
        return self.members[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.members)

    def __len__(self) -> int:
        return len(self.members)


def line_safe(text: bytes) -> bytes:
    """Escape the two characters that end a line in JavaScript, as the framework's own renderer does."""
    return text.replace(b"\xe2\x80\xa8", b"\\u2028").replace(b"\xe2\x80\xa9", b"\\u2029")


class WrittenField(models.TextField):
    """A JSON object kept as its text, byte for byte; nobody searches inside it."""

    # What the type checker takes for the attribute's own type on a row.
    _pyi_private_set_type: Any
    _pyi_private_get_type: Any

    def from_db_value(self, value: str | None, expression: Any, connection: Any) -> Written | None:
        """Take the text as it is."""
        return None if value is None else Written(value)

    def get_prep_value(self, value: Any) -> Any:
        """Keep the text; an object that is not yet written is written first."""
        if isinstance(value, Mapping):
            return (value if isinstance(value, Written) else Written.of(value)).text
        return value


def plain(value: Any) -> Any:
    """Give `json.dumps` what it cannot write by itself: a written object's members, else its text."""
    return value.members if isinstance(value, Written) else str(value)
