"""What does the web server write down of a call? All but the secret in a calendar's address."""

import re
from typing import Any

from gunicorn.glogging import Logger

SECRET = re.compile(r"(/calendar/[a-z]+_[0-9a-f]+_)[^./ ?\"]+")


def masked(text: str) -> str:
    """Leave the handle, by which the office knows the calendar, and hide what opens it."""
    return SECRET.sub(r"\1…", text)


class MaskedLogger(Logger):
    """The server's own log of calls, with such secrets hidden."""

    def atoms(self, *args: Any) -> dict[str, Any]:
        """Hide the secret wherever the path is printed."""
        found: dict[str, Any] = super().atoms(*args)
        return {k: masked(v) if isinstance(v, str) else v for k, v in found.items()}
