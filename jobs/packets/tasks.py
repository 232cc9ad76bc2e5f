"""Setting packets: one woken by name, and the sweep for strays."""

from celery import shared_task
from django.utils import timezone

from jobs.packets.services import packet_set, packets_waiting


@shared_task(name="packets.render")
def render(key: int) -> bool:
    """Set one packet."""
    return packet_set(key=key)


@shared_task(name="packets.sweep")
def sweep() -> int:
    """Set every packet that waits or whose worker died."""
    return sum(packet_set(key=key) for key in packets_waiting(now=timezone.now()))
