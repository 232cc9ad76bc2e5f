"""What every test of the service stands on: its own database and folders, and named callers."""

import os
import uuid
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import hypothesis
import pytest
from django.conf import settings as django_settings
from django.core.cache import caches
from django.db import connections, transaction
from django.db.models.signals import post_migrate

from tests.clients import Caller

# One run is like the next, so that a change lands or not on its own merits. To look for what no run
# has met yet: HYPOTHESIS_PROFILE=search.
SLOW = [hypothesis.HealthCheck.too_slow]  # a busy machine is no fault of a test
hypothesis.settings.register_profile(
    "same", derandomize=True, deadline=None, suppress_health_check=SLOW
)
hypothesis.settings.register_profile(
    "search", max_examples=500, deadline=None, suppress_health_check=SLOW
)
hypothesis.settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "same"))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Run what needs real parts in one process: two workers on one queue take each other's messages."""
    for item in items:
        if item.get_closest_marker("real"):
            item.add_marker(pytest.mark.xdist_group("real"))


def _deletable(using: str = "default", **_: Any) -> None:
    """Drop the triggers that keep SQLite's flush from emptying the tables between tests.

    Connected after the application's own receivers, so that it acts on what they put in place.
    """
    connection = connections[using]
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT name FROM sqlite_master WHERE type='trigger' AND name LIKE '%_no_delete'"
        )
        for (name,) in cursor.fetchall():
            cursor.execute(f"DROP TRIGGER {name}")


def _emptied(style: Any, tables: Sequence[str], **_: Any) -> list[str]:
    """Delete what a test wrote on PostgreSQL: truncating all tables makes their files anew each time."""
    has_rows = "SELECT '{0}' WHERE EXISTS (SELECT 1 FROM \"{0}\")"
    with connections["default"].cursor() as cursor:
        cursor.execute(" UNION ALL ".join(has_rows.format(one) for one in tables))
        full = [row[0] for row in cursor.fetchall()]
    deletes = [f'DELETE FROM "{one}"' for one in full]  # noqa: S608
    return ["SET LOCAL session_replication_role = replica", *deletes]


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None, django_db_blocker: Any) -> None:
    """Empty tables the quick way where the test's user may."""
    connection = connections["default"]
    with django_db_blocker.unblock():
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SHOW is_superuser")
                if cursor.fetchone() == ("on",):
                    connection.ops.sql_flush = _emptied  # type: ignore[method-assign]


@pytest.fixture(scope="session", autouse=True)
def _own_folders(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Keep files, messages and password hashing of the tests away from the service's data."""
    from contractor.config.celery import app

    folder: Path = tmp_path_factory.mktemp("data")
    django_settings.DATA_DIR = folder
    django_settings.STORAGES["default"]["OPTIONS"]["location"] = str(folder / "files")
    # A paper beyond its limits ends the process that sets it: only children are tried so.
    django_settings.PAPER_SECONDS, django_settings.PAPER_MEGABYTES = 600.0, 8000.0
    # Each client of a test loads the middleware anew, which would read all static files each time.
    django_settings.WHITENOISE_AUTOREFRESH = True
    django_settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    app.conf.broker_url = "memory://"
    app.conf.broker_transport_options = {}
    return folder


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    tmp_path_factory: pytest.TempPathFactory, django_db_modify_db_settings_parallel_suffix: None
) -> None:
    """Put SQLite's test database into a file, which threads share as in the service."""
    connection = connections["default"]
    if connection.vendor == "sqlite":
        path = tmp_path_factory.mktemp("database") / "test.sqlite3"
        connection.settings_dict["TEST"]["NAME"] = str(path)
    post_migrate.connect(_deletable, dispatch_uid="tests may delete", weak=False)


@pytest.fixture(autouse=True)
def _fresh_limits(settings: Any) -> None:
    """Count limits anew for each test, and high enough not to be met by chance."""
    django_settings.CACHES["default"]["KEY_PREFIX"] = uuid.uuid4().hex
    if hasattr(caches._connections, "default"):  # type: ignore[attr-defined]
        del caches["default"]
    settings.RATE_LIMIT_PER_MINUTE = 100_000
    settings.LOGIN_LIMIT_PER_MINUTE = 100_000


@pytest.fixture(scope="module")
def beneath(django_db_setup: None, django_db_blocker: Any) -> Iterator[None]:
    """Let a module's fixtures make rows once: a transaction around those of its tests."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield
        transaction.set_rollback(True)


def named(role: str) -> Caller:
    """Make the caller of a role; what it takes is loaded when a test first asks."""
    from tests.named import CALLERS

    return CALLERS[role]()


@pytest.fixture
def client() -> Caller:
    """Nobody in particular; the replies are held against the schema."""
    return Caller()


@pytest.fixture
def anonymous() -> Caller:
    """Nobody who is logged in."""
    return Caller()


@pytest.fixture
def office(db: None) -> Caller:
    """Imke Thorsby at the office's desk."""
    return named("office")


@pytest.fixture
def measurer(db: None) -> Caller:
    """Tobias Ankrah, who reads openings, at a browser."""
    return named("measurer")


@pytest.fixture
def lead(db: None) -> Caller:
    """Marisol Quintero, who leads a crew, at a browser."""
    return named("lead")


@pytest.fixture
def helper(db: None) -> Caller:
    """Callum Reyes, who helps in a crew, at a browser."""
    return named("helper")


@pytest.fixture
def yard(db: None) -> Caller:
    """Sunniva Holt of the yard, at a browser."""
    return named("yard")


@pytest.fixture
def tablet(db: None) -> Caller:
    """Hien Phan's tablet; `member` is the holder."""
    return named("tablet")


@pytest.fixture
def scheduler(db: None) -> Caller:
    """A scheduling program with every scope."""
    return named("scheduler")


@pytest.fixture
def callers(db: None, request: pytest.FixtureRequest) -> dict[str, Caller]:
    """Every kind of caller by its role."""
    from tests.named import CALLERS

    return {name: request.getfixturevalue(name) for name in CALLERS}
