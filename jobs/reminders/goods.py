"""Which ordered goods are still waited for? Those of which a piece has not been looked over."""

from datetime import date

from django.db.models import Exists, OuterRef, Q, QuerySet

from contractor.api.numbered import key_of
from jobs.receiving.models import Line, Order, OrderState


def _orders() -> QuerySet[Order]:
    return Order.objects.select_related("job__site__customer")


def order_of(number: str) -> Order | None:
    """Find an order by its number."""
    return _orders().filter(pk=key_of(number, Order.LETTER)).first()


def waited_for() -> QuerySet[Order]:
    """Select the orders that are not cancelled and of which a piece, or everything, has not come."""
    awaited = Line.objects.filter(order=OuterRef("pk"), inspections=None)
    return _orders().filter(Q(deliveries=None) | Exists(awaited), state=OrderState.PLACED)


def goods_here(order: Order) -> bool:
    """Tell whether nothing is waited for any more: cancelled, or every piece was looked over."""
    return not waited_for().filter(pk=order.pk).exists()


def orders_expected(until: date) -> QuerySet[Order]:
    """List the orders promised up to a day of which something has not come."""
    rows = waited_for().filter(expected_on__lte=until)
    return rows.order_by("expected_on", "pk").distinct()
