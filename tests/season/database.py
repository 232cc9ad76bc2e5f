"""Where does a season take place? In an empty database of its own, made before and dropped after."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from urllib.parse import urlsplit, urlunsplit

import psycopg


@contextmanager
def own_database(named: str) -> Iterator[None]:
    """Set Django up on an empty database: a SQLite file, or one beside the PostgreSQL named."""
    with tempfile.TemporaryDirectory() as folder, _own(named, folder) as own:
        os.environ |= {
            "DATABASE_URL": own,
            "DATA_DIR": folder,
            "DJANGO_SETTINGS_MODULE": "contractor.config.settings",
            "RATE_LIMIT_PER_MINUTE": "10000000",
            "LOG_LEVEL": "ERROR",
        }
        os.environ.pop("REDIS_URL", None)
        import django

        django.setup()
        from django.core.management import call_command
        from django.db import connections
        from django.test.utils import setup_test_environment, teardown_test_environment

        from contractor.config.celery import app

        app.conf.broker_url, app.conf.broker_transport_options = "memory://", {}
        setup_test_environment(debug=False)
        call_command("migrate", verbosity=0)
        yield
        teardown_test_environment()
        connections.close_all()


@contextmanager
def _own(named: str, folder: str) -> Iterator[str]:
    if not named.startswith("postgres"):
        yield f"sqlite:///{folder}/season.sqlite3"
        return
    parts = urlsplit(named)
    name = f"season_{os.getpid()}"
    admin = urlunsplit(parts._replace(scheme="postgresql", path="/postgres"))
    with psycopg.connect(admin, autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{name}"')
        try:
            yield urlunsplit(parts._replace(path=f"/{name}"))
        finally:
            connection.execute(f'DROP DATABASE "{name}" WITH (FORCE)')
