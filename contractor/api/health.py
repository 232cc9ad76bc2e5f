"""Is this process alive, and can it do its work? Asked without a login."""

from django.conf import settings
from django.core.cache import cache
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, JsonResponse


def live(request: HttpRequest) -> JsonResponse:
    """Answer as long as the process answers at all."""
    return JsonResponse({"live": True})


def ready(request: HttpRequest) -> JsonResponse:
    """Answer 200 when database, migrations and cache are in order, 503 saying what is not."""
    checks = {"database": _database(), "cache": _cache()}
    good = all(said == "ok" for said in checks.values())
    return JsonResponse({"ready": good, "checks": checks}, status=200 if good else 503)


def _database() -> str:
    try:
        executor = MigrationExecutor(connection)
        left = executor.migration_plan(executor.loader.graph.leaf_nodes())
    except Exception as error:
        return f"does not answer ({type(error).__name__})"
    return f"{len(left)} migrations are missing" if left else "ok"


def _cache() -> str:
    if not settings.REDIS_URL:
        return "ok"
    try:
        cache.set("ready", 1, 5)
    except Exception as error:
        return f"does not answer ({type(error).__name__})"
    return "ok"
