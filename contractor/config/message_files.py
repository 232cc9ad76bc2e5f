"""How does a wake-up lie in a folder so that a worker sees all of it or nothing?

The library's own transport opens the file that a worker may already take, and writes it then: a worker
that is quick reads an empty message and ends. Here it is written beside and renamed.
"""

import os
import uuid
from pathlib import Path
from time import monotonic
from typing import Any

from kombu.transport import TRANSPORT_ALIASES, filesystem
from kombu.utils.encoding import str_to_bytes
from kombu.utils.json import dumps

NAME = "messagefiles"


class Channel(filesystem.Channel):
    """The library's channel with whole messages."""

    def _put(self, queue: str, payload: Any, **kwargs: Any) -> None:  # type: ignore[override]
        name = f"{round(monotonic() * 1000)}_{uuid.uuid4()}"
        folder = Path(self.data_folder_out)
        beside = folder / f"{name}.written"  # not yet the name that a worker looks for
        beside.write_bytes(str_to_bytes(dumps(payload)))
        os.replace(beside, folder / f"{name}.{queue}.msg")


class Transport(filesystem.Transport):
    """The library's transport over that channel."""

    Channel = Channel


def register() -> None:
    """Let the broker's address name it."""
    TRANSPORT_ALIASES[NAME] = f"{__name__}:Transport"
