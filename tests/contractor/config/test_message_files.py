"""Does a wake-up that lies in a folder come out whole, however quick the worker is?"""

import json
import threading
from pathlib import Path
from typing import Any

import pytest
from kombu import Connection, Exchange, Producer, Queue

from contractor.config import message_files
from contractor.config.engines import broker


def queue_of(name: str) -> Queue:
    """A queue of the test's own: the library remembers per process what it has declared."""
    return Queue(name, Exchange(name), routing_key=name)


def opened(folder: Path) -> Connection:
    address, options = broker("", folder)
    return Connection(address, transport_options=options)


def put(line: Connection, queue: Queue, number: int) -> None:
    where = {"exchange": queue.exchange, "routing_key": queue.name, "declare": [queue]}
    Producer(line).publish({"n": number}, **where)


def test_a_reader_that_never_rests_reads_every_message_whole(tmp_path: Path) -> None:
    count, queue = 200, queue_of("quick")
    got: list[int] = []

    def take(body: Any, message: Any) -> None:
        got.append(body["n"])
        message.ack()

    def read() -> None:
        with opened(tmp_path) as line, line.Consumer(queue, callbacks=[take]):
            while len(got) < count:
                line.drain_events(timeout=20)

    reader = threading.Thread(target=read)
    reader.start()
    with opened(tmp_path) as line:
        for number in range(count):
            put(line, queue, number)
    reader.join(timeout=30)
    assert sorted(got) == list(range(count))


def test_a_message_gets_its_name_when_it_is_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen = []

    def watched(beside: Path, named: Path) -> None:
        seen.append((json.loads(beside.read_text())["body"], list(beside.parent.glob("*.msg"))))
        beside.rename(named)

    monkeypatch.setattr(message_files.os, "replace", watched)
    with opened(tmp_path) as line:
        put(line, queue_of("whole"), 1)
    ((body, earlier),) = seen
    assert body
    assert earlier == []
    assert len(list((tmp_path / "queue").glob("*.whole.msg"))) == 1
