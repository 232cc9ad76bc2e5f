"""How does a wake-up lie in a folder so that a worker sees all of it or nothing?

The library's own transport opens a file under its final name and writes it then: a worker that is quick
reads an empty message, or an empty table of queues, and ends. Here both are written beside and renamed.
Taking one renames it too, so that of two workers one has it, on whatever disk the folder lies.
"""

import fcntl
import os
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from queue import Empty
from time import monotonic
from typing import Any

from kombu.transport import TRANSPORT_ALIASES, filesystem, virtual
from kombu.utils.encoding import str_to_bytes
from kombu.utils.json import dumps, loads

NAME = "messagefiles"
Table = list[filesystem.exchange_queue_t]


class Channel(filesystem.Channel):
    """The library's channel with whole messages and whole tables of queues."""

    def _put(self, queue: str, payload: Any, **kwargs: Any) -> None:  # type: ignore[override]
        name = f"{round(monotonic() * 1000)}_{uuid.uuid4()}"
        folder = Path(self.data_folder_out)
        _write_whole(folder / f"{name}.{queue}.msg", payload)

    def _get(self, queue: str, timeout: float | None = None) -> Any:
        folder = Path(self.data_folder_in)
        for name in sorted(os.listdir(folder)):
            if name.partition(".")[2] != f"{queue}.msg":
                continue
            taken = folder / f"{name}.taken"
            try:
                os.rename(folder / name, taken)
            except FileNotFoundError:
                continue  # another worker was quicker
            payload = taken.read_bytes()
            taken.unlink()
            return loads(payload)
        raise Empty

    def queue_bind(
        self,
        queue: str,
        exchange: str | None = None,
        routing_key: str = "",
        arguments: Any = None,
        **kwargs: Any,
    ) -> None:
        """Bind in the folder before this process remembers it: a thread that believes it may send."""
        named = exchange or "amq.direct"
        meta = self.typeof(named).prepare_bind(queue, named, routing_key, arguments)
        self._queue_bind(named, *meta)
        super().queue_bind(queue, named, routing_key, arguments, **kwargs)

    def _queue_bind(self, exchange: str, *meta: Any) -> None:
        bound = _entry(*meta)
        self._change_table(exchange, lambda table: table if bound in table else [bound, *table])

    def _delete(self, queue: str, exchange: str, *meta: Any, **kwargs: Any) -> None:
        virtual.Channel._delete(self, queue)
        gone = _entry(*meta)
        self._change_table(exchange, lambda table: [entry for entry in table if entry != gone])

    def _change_table(self, exchange: str, change: Callable[[Table], Table]) -> None:
        """Let one process at a time change which queues an exchange feeds; readers never wait."""
        self.control_folder.mkdir(exist_ok=True)
        file = self._exchange_file(exchange)  # type: ignore[attr-defined]
        with _one_at_a_time(file.with_suffix(".lock")):
            before = self.get_table(exchange)
            after = change(before)
            if after != before:
                _write_whole(file, after)


def _entry(routing_key: str, pattern: str, queue: str, *_: Any) -> filesystem.exchange_queue_t:
    return filesystem.exchange_queue_t(routing_key or "", pattern or "", queue or "")


@contextmanager
def _one_at_a_time(lock: Path) -> Iterator[None]:
    with lock.open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)  # let go when the file closes
        yield


def _write_whole(named: Path, content: Any) -> None:
    beside = named.with_name(f"{uuid.uuid4()}.written")  # not yet a name that a reader looks for
    beside.write_bytes(str_to_bytes(dumps(content)))
    os.replace(beside, named)


class Transport(filesystem.Transport):
    """The library's transport over that channel."""

    Channel = Channel


def register() -> None:
    """Let the broker's address name it."""
    TRANSPORT_ALIASES[NAME] = f"{__name__}:Transport"
