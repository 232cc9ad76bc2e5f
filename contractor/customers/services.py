"""What changes about customers and sites, each in one transaction with its notice."""

from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.customers.models import Customer, Site
from contractor.notices.services import notice_record


@transaction.atomic
def customer_create(*, by: Caller, **values: Any) -> Customer:
    """Add a customer; announces `customer.added`."""
    customer = Customer.objects.create(**values)
    notice_record(by=by, type="customer.added", about=customer.number)
    return customer


@transaction.atomic
def site_create(*, by: Caller, **values: Any) -> Site:
    """Add a site of a customer; announces `site.added`."""
    site = Site.objects.create(**values)
    notice_record(by=by, type="site.added", about=site.number)
    return site
