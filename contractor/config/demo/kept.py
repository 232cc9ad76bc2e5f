"""What must the demo remember between two runs? First day, passwords and tokens, readable by one user."""

import json
import os
import secrets
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

FILE = "demo-logins.json"


@dataclass(slots=True)
class Kept:
    """A small file beside the data; every change is on disk before anybody relies on it."""

    path: Path
    data: dict[str, Any]

    @classmethod
    def open(cls, data_dir: Path) -> "Kept":
        """Read the file, or begin an empty one.

        Raises:
            ValueError: it is there but cannot be read; its text says what to do.
        """
        path = data_dir / FILE
        if not path.exists():
            return cls(path, {"invented": True, "passwords": {}, "tokens": {}})
        try:
            data = json.loads(path.read_text(encoding="utf-8"))
            return cls(path, {"invented": True, "passwords": {}, "tokens": {}, **data})
        except (ValueError, TypeError) as error:
            raise ValueError(f"{path} is damaged: delete it and run this again.") from error

    def first_day(self, today: date) -> date:
        """Say on which day the story was first told here; it is told by that day ever after."""
        if "first_day" not in self.data:
            self.data["first_day"] = today.isoformat()
            self._save()
        return date.fromisoformat(self.data["first_day"])

    def password(self, login: str) -> str | None:
        """Give the password that was made for a login."""
        found: str | None = self.data["passwords"].get(login)
        return found

    def password_make(self, login: str) -> str:
        """Make a password and keep it before anybody gets it."""
        self.data["passwords"][login] = secrets.token_urlsafe(12)
        self._save()
        made: str = self.data["passwords"][login]
        return made

    def token(self, ref: str) -> str:
        """Give the token kept under a name of the story, or an empty text."""
        return str(self.data["tokens"].get(ref, ""))

    def token_keep(self, ref: str, token: str) -> None:
        """Keep a token that was issued just now."""
        self.data["tokens"][ref] = token
        self._save()

    def _save(self) -> None:
        """Write beside and rename: a kill leaves the old file or the new one, never half of one."""
        beside = self.path.with_suffix(".new")
        with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
            json.dump(self.data, file, indent=1)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(self.path)
