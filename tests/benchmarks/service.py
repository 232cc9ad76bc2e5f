"""How does the service stand up for a benchmark? Own data, own database, one worker; gone after."""

import json
import os
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit, urlunsplit

import psycopg

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
START_S = 30
STOP_S = 10


@contextmanager
def service(database: str, redis: str, openings: int) -> Iterator[dict[str, Any]]:
    """Serve a freshly seeded database on loopback; yields what was seeded, with port and environment."""
    with tempfile.TemporaryDirectory() as folder, _own(database, folder) as own:
        env = _environment(own, redis, folder)
        _run(["manage.py", "migrate", "--run-syncdb", "-v", "0"], env)
        seeded = json.loads(_run([str(HERE / "seed.py"), str(openings)], env).splitlines()[-1])
        with _served(env) as port:
            yield {**seeded, "port": port, "env": env}


def _environment(database: str, redis: str, folder: str) -> dict[str, str]:
    return {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([str(ROOT), str(HERE)]),
        "DJANGO_SETTINGS_MODULE": "bare.settings",
        "DATABASE_URL": database,
        "REDIS_URL": redis,
        "DATA_DIR": folder,
        "PUBLIC_URL": "http://127.0.0.1:8000",
        "RATE_LIMIT_PER_MINUTE": "10000000",
        "LOG_LEVEL": "WARNING",
    }


@contextmanager
def _own(database: str, folder: str) -> Iterator[str]:
    """Lend a database of its own beside the one named; an empty name means SQLite."""
    if not database.startswith("postgres"):
        yield f"sqlite:///{folder}/benchmark.sqlite3"
        return
    parts = urlsplit(database)
    name = f"benchmark_{os.getpid()}"
    admin = urlunsplit(parts._replace(scheme="postgresql", path="/postgres"))
    with psycopg.connect(admin, autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{name}"')
        try:
            yield urlunsplit(parts._replace(path=f"/{name}"))
        finally:
            connection.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


def _run(arguments: list[str], env: dict[str, str]) -> str:
    done = subprocess.run(
        [sys.executable, *arguments], env=env, cwd=ROOT, capture_output=True, text=True
    )
    if done.returncode:
        sys.exit(f"{' '.join(arguments)} failed:\n{done.stderr}")
    return done.stdout


@contextmanager
def _served(env: dict[str, str]) -> Iterator[int]:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port: int = free.getsockname()[1]
    serve = f"-m gunicorn contractor.config.wsgi:application -b 127.0.0.1:{port} -w 1 -k gthread"
    limits = "--threads 2 --keep-alive 60 --log-level warning --no-control-socket"
    command = [sys.executable, *serve.split(), *limits.split()]
    process = subprocess.Popen(command, env=env, cwd=ROOT)
    try:
        _wait(process, port)
        yield port
    finally:
        process.terminate()
        process.wait(STOP_S)


def _wait(process: subprocess.Popen[bytes], port: int) -> None:
    until = time.monotonic() + START_S
    while time.monotonic() < until and process.poll() is None:
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.1)
    sys.exit("The server did not start.")
