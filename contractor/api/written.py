"""How is JSON kept word for word, and given out again without being read and written anew?"""

import json
from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any

from django.db import models


class Written(Mapping[str, Any]):
    """A JSON object that is already written; it is read only when somebody looks inside."""

    def __init__(self, text: str) -> None:
        self.text = text

    @classmethod
    def of(cls, members: Mapping[str, Any]) -> "Written":
        """Write an object down, as short as it goes and in the order of its members."""
        text = json.dumps(members, ensure_ascii=False, separators=(",", ":"))
        # As the framework's own renderer does: these two end a line in JavaScript.
        return cls(text.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029"))

    @cached_property
    def members(self) -> dict[str, Any]:
        """What stands in it."""
        return json.loads(self.text)  # type: ignore[no-any-return]

    def __getitem__(self, name: str) -> Any:
        return self.members[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.members)

    def __len__(self) -> int:
        return len(self.members)


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
