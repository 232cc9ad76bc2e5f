"""Does a wake-up that lies in a folder come out whole, however quick the worker is?"""

import json
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Empty
from typing import Any

import pytest
from kombu import Connection, Exchange, Producer, Queue
from kombu.transport.filesystem import exchange_queue_t

from contractor.config import message_files
from contractor.config.engines import broker


def queue_of(name: str) -> Queue:
    """A queue of the test's own: the library remembers per process what it has declared."""
    return Queue(name, Exchange(name), routing_key=name)


def opened(folder: Path) -> Connection:
    address, options = broker("", folder)
    return Connection(address, transport_options=options)


def channel_of(line: Connection) -> message_files.Channel:
    channel = line.default_channel
    assert isinstance(channel, message_files.Channel)
    return channel


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
        if named.suffix == ".msg":
            seen.append((json.loads(beside.read_text())["body"], list(named.parent.glob("*.msg"))))
        beside.rename(named)

    monkeypatch.setattr(message_files.os, "replace", watched)
    with opened(tmp_path) as line:
        put(line, queue_of("whole"), 1)
    ((body, earlier),) = seen
    assert body
    assert earlier == []
    assert len(list((tmp_path / "queue").glob("*.whole.msg"))) == 1


def test_of_many_readers_one_takes_a_message(tmp_path: Path) -> None:
    count, queue = 120, queue_of("shared")
    with opened(tmp_path) as line:
        for number in range(count):
            put(line, queue, number)

    def taken() -> list[int]:
        got = []
        with opened(tmp_path) as line:
            channel = channel_of(line)
            while True:
                try:
                    got.append(channel._get("shared")["properties"]["delivery_tag"])
                except Empty:
                    return got

    with ThreadPoolExecutor(4) as readers:
        parts = [reader.result() for reader in [readers.submit(taken) for _ in range(4)]]
    tags = [tag for part in parts for tag in part]
    assert len(tags) == len(set(tags)) == count
    assert list((tmp_path / "queue").iterdir()) == []


def test_queues_bound_and_dropped_at_once_leave_a_whole_table(tmp_path: Path) -> None:
    names = [f"q{number}" for number in range(12)]

    def bind(name: str) -> None:
        with opened(tmp_path) as line:
            for _ in range(20):
                channel_of(line)._queue_bind("all", name, "", name)
                channel_of(line)._delete(f"{name}-old", "all", name, "", f"{name}-old")
                channel_of(line)._queue_bind("all", name, "", f"{name}-old")

    def read() -> int:
        with opened(tmp_path) as line:
            return max(len(channel_of(line).get_table("all")) for _ in range(400))

    with ThreadPoolExecutor(len(names) + 1) as together:
        reader = together.submit(read)
        for done in [together.submit(bind, name) for name in names]:
            done.result()
        assert reader.result() <= 2 * len(names)
    with opened(tmp_path) as line:
        table = channel_of(line).get_table("all")
    expected = [exchange_queue_t(n, "", queue) for n in names for queue in (n, f"{n}-old")]
    assert sorted(table) == sorted(expected)
