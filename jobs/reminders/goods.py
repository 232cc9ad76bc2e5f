"""What is known of ordered goods? Asked through the registry of rooms, so that it holds without that room."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from django.apps import apps

from contractor.api.numbered import key_of

ROOM = "receiving"


def _orders() -> Any:
    return apps.get_model(ROOM, "Order").objects.select_related("job__site__customer")


def order_of(number: str) -> Any:
    """Find an order by its number; None where goods are not kept."""
    if not apps.is_installed(f"jobs.{ROOM}"):
        return None
    letter = apps.get_model(ROOM, "Order").LETTER
    return _orders().filter(pk=key_of(number, letter)).first()


def goods_here(order: Any) -> bool:
    """Tell whether nothing is waited for any more: cancelled, or all here."""
    return bool(order.state != "placed" or order.deliveries.exists())


def orders_expected(until: date) -> Iterable[Any]:
    """List the orders promised up to a day of which nothing has come."""
    if not apps.is_installed(f"jobs.{ROOM}"):
        return []
    rows = _orders().filter(state="placed", expected_on__lte=until, deliveries=None)
    return rows.order_by("expected_on", "pk")  # type: ignore[no-any-return]
