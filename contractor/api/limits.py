"""How often may one caller call? A fixed window per minute, counted atomically."""

import logging
import time
from typing import Any

from django.conf import settings
from django.core.cache import cache
from rest_framework.exceptions import Throttled
from rest_framework.request import Request
from rest_framework.throttling import BaseThrottle

from contractor.api.callers import NOBODY
from contractor.api.roles import caller_of

log = logging.getLogger(__name__)
WINDOW_S = 60


def count(key: str, limit: int) -> tuple[bool, int, float]:
    """Count one call; tell whether it may pass, how many remain, and the seconds until the window turns.

    A cache that does not answer lets the call pass: limits protect the service and are no guard of
    rights, and a measurer in a bathroom must not be turned away because of it.
    """
    now = time.time()
    window = int(now // WINDOW_S)
    name = f"limit:{key}:{window}"
    try:
        used = _counted(name)
    except Exception:
        log.warning("The limits are not counted: the cache does not answer.")
        used = 0
    return used <= limit, max(0, limit - used), WINDOW_S - now % WINDOW_S


def _counted(name: str) -> int:
    """Add one to a counter; without Redis it is nearly always there already."""
    if hasattr(cache, "count_up"):
        return int(cache.count_up(name, WINDOW_S * 2))
    try:
        return cache.incr(name)
    except ValueError:
        return 1 if cache.add(name, 1, WINDOW_S * 2) else cache.incr(name)


class CallerLimit(BaseThrottle):
    """Let each caller make so many calls a minute; the reply says how many remain."""

    wait_s: float | None = None

    def allow_request(self, request: Request, view: Any) -> bool:
        """Count and decide; the figures go into the reply's headers."""
        caller = caller_of(request)
        key = address_of(request) if caller is NOBODY else caller.key
        passes, self.wait_s = _counted_for(request, key)
        return passes

    def wait(self) -> float | None:
        """Seconds until the next window."""
        return self.wait_s


def address_of(request: Request) -> str:
    """Name who calls without a name: where the call comes from."""
    return "address:" + str(request._request.META.get("REMOTE_ADDR", ""))


def check_strangers(request: Request) -> None:
    """Count a call whose token is refused as one of nobody's, so that tokens cannot be tried at will.

    Raises:
        Throttled: too many from one address in this minute.
    """
    passes, wait_s = _counted_for(request, address_of(request))
    if not passes:
        raise Throttled(wait_s)


def _counted_for(request: Request, key: str) -> tuple[bool, float]:
    limit = settings.RATE_LIMIT_PER_MINUTE
    passes, remaining, wait_s = count(key, limit)
    request._request.limit = (limit, remaining, wait_s)  # type: ignore[attr-defined]
    return passes, wait_s
