"""Housekeeping of the manners: old idempotency keys."""

from celery import shared_task

from contractor.api.idempotency import keys_forget


@shared_task(name="api.keys_forget")
def forget_keys() -> int:
    """Forget keys that no client can still be retrying."""
    return keys_forget()
