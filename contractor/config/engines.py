"""Which database, cache and queue stand under the service? Two variables decide."""

from pathlib import Path
from typing import Any

import environ

SQLITE_OPTIONS: dict[str, Any] = {
    # A deferred transaction that wants to write fails at once when another writes; an immediate
    # one waits its turn.
    "transaction_mode": "IMMEDIATE",
    "timeout": 20,
    "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA foreign_keys=ON;",
}
POSTGRES_OPTIONS: dict[str, Any] = {
    "pool": {"min_size": 1, "max_size": 16, "timeout": 10},
    "options": "-c lock_timeout=5000",
    # What is asked again and again is planned once a connection: planning costs more than asking.
    "server_side_binding": True,
    "prepare_threshold": 5,
}
# A broker that accepts and never answers would hold a request for minutes without these.
REDIS_PATIENCE = {"socket_timeout": 2, "socket_connect_timeout": 1}


def database(env: environ.Env, data_dir: Path) -> dict[str, Any]:
    """Say how to reach the database: `DATABASE_URL`, or a SQLite file in `data_dir`."""
    found: dict[str, Any] = env.db_url(
        "DATABASE_URL", default=f"sqlite:///{data_dir}/service.sqlite3"
    )
    if found["ENGINE"].endswith("sqlite3"):
        found["OPTIONS"] = dict(SQLITE_OPTIONS)
    else:
        found["OPTIONS"] = {**found.get("OPTIONS", {}), **POSTGRES_OPTIONS}
    return found


def cache(redis_url: str) -> dict[str, Any]:
    """Say where rate limits are counted: Redis, or this process when there is none."""
    if not redis_url:
        return {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}
    return {
        "BACKEND": "contractor.api.counting.CountingCache",
        "LOCATION": redis_url,
        "OPTIONS": {"socket_timeout": 0.5, "socket_connect_timeout": 0.5},
    }


def broker(redis_url: str, data_dir: Path) -> tuple[str, dict[str, Any]]:
    """Say what wakes the workers: Redis, or message files in `data_dir/queue`."""
    if redis_url:
        return redis_url, {
            **REDIS_PATIENCE,
            "visibility_timeout": 120,
            # kombu looks for abandoned messages only on every tenth of its own rounds otherwise.
            "unacked_restore_interval": 10,
            "unacked_restore_throttle": 1,
            "max_retries": 1,
        }
    messages, control = data_dir / "queue", data_dir / "queue-control"
    for folder in (messages, control):
        folder.mkdir(parents=True, exist_ok=True)
    return "messagefiles://localhost", {
        "data_folder_in": str(messages),
        "data_folder_out": str(messages),
        "control_folder": str(control),
        "polling_interval": 0.1,
    }
