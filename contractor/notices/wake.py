"""How is a worker woken? Once, after commit, without ever holding or failing the request.

The row is the truth: a message that is lost here is found by the next sweep.
"""

import logging
import queue
import threading
from typing import Any

from django.conf import settings
from django.db import transaction

log = logging.getLogger(__name__)
_waiting: queue.Queue[tuple[str, dict[str, Any]]] = queue.Queue(maxsize=1000)
_lock = threading.Lock()
_thread: threading.Thread | None = None


def wake(task: str, **arguments: Any) -> None:
    """Ask for a registered task by name once the transaction has committed."""
    transaction.on_commit(lambda: _hand_over(task, arguments), robust=True)


def _hand_over(task: str, arguments: dict[str, Any]) -> None:
    if getattr(settings, "CELERY_TASK_ALWAYS_EAGER", False):
        _send(task, arguments)
        return
    _ensure_sender()
    try:
        _waiting.put_nowait((task, arguments))
    except queue.Full:
        log.warning("Too many wake-ups wait; the sweep will find the row of %s.", task)


def _ensure_sender() -> None:
    """Start the sending thread in this process; a forked child starts its own."""
    global _thread
    with _lock:
        if _thread is None or not _thread.is_alive():
            _thread = threading.Thread(target=_send_forever, name="wake", daemon=True)
            _thread.start()


def _send_forever() -> None:
    while True:
        _send(*_waiting.get())


def _send(task: str, arguments: dict[str, Any]) -> None:
    from celery import current_app

    try:
        current_app.tasks[task].apply_async(kwargs=arguments, ignore_result=True)
    except Exception as error:
        log.warning(
            "The queue does not answer (%s); the sweep will find the row of %s.", error, task
        )
