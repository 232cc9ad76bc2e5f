"""The service's own processes, for tests that kill them or cut their lines."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit, urlunsplit

import pytest

from tests.jobs.processes import Processes

QUEUES = ("files", "redis")


@pytest.fixture
def processes(
    request: pytest.FixtureRequest, tmp_path: Path, transactional_db: None
) -> Iterator[Processes]:
    """Processes on message files, or on Redis where a test asks for it and there is one."""
    queue = getattr(request, "param", "files")
    redis_url = os.environ.get("REDIS_URL", "") if queue == "redis" else ""
    if queue == "redis" and not redis_url:
        pytest.skip("REDIS_URL names no Redis")
    if redis_url:  # a database of its own, so that no other worker takes the messages
        redis_url = urlunsplit(urlsplit(redis_url)._replace(path="/11"))
    made = Processes(tmp_path, redis_url)
    yield made
    made.stop()
    print(made.logs())  # shown when the test fails
    shutil.rmtree(tmp_path, ignore_errors=True)
