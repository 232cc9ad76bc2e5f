"""Invented orders, arrivals, warranties and losses for tests; nothing here is real."""

from datetime import UTC, date, datetime
from decimal import Decimal

import factory
from uuid_utils.compat import uuid7

from jobs.claims.models import Warranty
from jobs.losses.models import Loss, Save
from jobs.receiving.models import Delivery as Arrived
from jobs.receiving.models import Inspection, Line, Order
from tests.factories import JobFactory, MemberFactory, OpeningFactory, kit_published


class OrderFactory(factory.django.DjangoModelFactory):
    """A kit ordered for a job, without lines."""

    class Meta:
        model = Order

    job = factory.SubFactory(JobFactory)
    kind = "kit"
    supplier = "Invented Wetrooms"


class LineFactory(factory.django.DjangoModelFactory):
    """One panel for an opening of the order's job."""

    class Meta:
        model = Line

    order = factory.SubFactory(OrderFactory)
    opening = factory.LazyAttribute(lambda one: OpeningFactory(job=one.order.job))
    what = "panel"
    name = "inner panel"


class ArrivalFactory(factory.django.DjangoModelFactory):
    """A sound delivery of an order."""

    class Meta:
        model = Arrived

    id = factory.LazyFunction(uuid7)
    order = factory.SubFactory(OrderFactory)
    carrier = "Bramblewick Freight (invented)"
    arrived_at = datetime(2026, 11, 2, 15, tzinfo=UTC)
    received_by = factory.SubFactory(MemberFactory, role="yard")
    packaging = "sound"
    caller = "system"


class InspectionFactory(factory.django.DjangoModelFactory):
    """One sound piece."""

    class Meta:
        model = Inspection

    id = factory.LazyFunction(uuid7)
    line = factory.SubFactory(LineFactory)
    delivery = factory.LazyAttribute(lambda one: ArrivalFactory(order=one.line.order))
    condition = "sound"
    count = 1
    inspected_by = "Sunniva Holt"
    inspected_at = datetime(2026, 11, 2, 16, tzinfo=UTC)
    caller = "system"


class WarrantyFactory(factory.django.DjangoModelFactory):
    """Four years on an opening."""

    class Meta:
        model = Warranty

    opening = factory.SubFactory(OpeningFactory)
    site = factory.LazyAttribute(lambda one: one.opening.job.site)
    sheet = factory.LazyAttribute(lambda one: kit_published().sheets.get(number=1))
    installed_on = date(2026, 10, 1)
    ends_on = date(2030, 10, 1)
    source = factory.LazyFunction(dict)


class LossFactory(factory.django.DjangoModelFactory):
    """A rail cut wrong."""

    class Meta:
        model = Loss

    job = factory.SubFactory(JobFactory)
    kind = "miscut"
    cause = "cut_wrong"
    says = "Rail cut at the wrong mark"
    happened_on = date(2026, 10, 12)
    cost = Decimal("240.00")
    currency = "USD"


class SaveFactory(factory.django.DjangoModelFactory):
    """A booking refused for a damaged panel."""

    class Meta:
        model = Save

    job = factory.SubFactory(JobFactory)
    guard = "goods_damaged"
    day = date(2026, 10, 12)
    says = "Damaged, so there is nothing whole to hang: inner panel."
    caller = "member:1"
    caller_name = "Imke Thorsby"
