"""What is a row of each kind of list: its columns, how it is written out, how it is taken in?

Rows are read by the same shapes as the API's own bodies, so that a list can say nothing that a form
could not, and every mistake has the code and the hint that it has there.
"""

import json
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping
from typing import Any
from zoneinfo import ZoneInfo

from rest_framework import serializers

from contractor.api.callers import Caller
from contractor.api.inputs import inputs_checked
from contractor.api.numbered import key_of
from contractor.api.problems import Problem
from contractor.customers.api import CustomerSerializer, SiteSerializer
from contractor.customers.models import Customer, Site
from contractor.customers.services import customer_create, site_create
from contractor.notices.services import row_change
from fitcheck.kits.api import KitSerializer
from fitcheck.kits.models import Kit
from fitcheck.kits.services import kit_create, sheet_digest, sheet_publish
from fitcheck.rules.way_in_kinds import PASSES, SIZES
from jobs.bookings.api_shapes import BookingSerializer
from jobs.bookings.models import Booking
from jobs.bookings.services import booking_make, booking_move
from jobs.lists.models import Kind

NEW, CHANGED, SAME = "new", "changed", "same"
Taken = tuple[str, Any]


def wrong(column: str, code: str, text: str, hint: str) -> Problem:
    """Refuse one cell."""
    return Problem(code, text, hint=hint, pointer=f"/{column}")


def by_number(rows: Any, letter: str, text: str, column: str = "id") -> Any:
    """Find the row that a cell names by its number.

    Raises:
        Problem: it is no number, or there is none.
    """
    try:
        found = rows.filter(pk=key_of(text, letter)).first()
    except ValueError as error:
        raise wrong(
            column, "number", f"{text!r} is no number of ours.", f"Write {error}."
        ) from None
    if found is None:
        hint = "Leave it empty for a new row, or write the number of one that exists."
        raise wrong(column, "does_not_exist", f"There is no {text}.", hint)
    return found


def checked(shape: type[serializers.Serializer], row: Any, body: Any) -> dict[str, Any]:
    """Read a body by a room's own shape."""
    read = shape(row, data=body, partial=True) if row is not None else shape(data=body)
    read.is_valid(raise_exception=True)
    return dict(read.validated_data)


class Lines(ABC):
    """One kind of list."""

    columns: tuple[str, ...]
    needed: tuple[str, ...]
    says: Mapping[str, str]

    @abstractmethod
    def rows(self) -> Iterator[dict[str, str]]:
        """Write out every row."""

    @abstractmethod
    def take(self, by: Caller, cells: dict[str, str]) -> Taken:
        """Take one row in; returns whether it was new, changed or the same, and the row."""


def told(cells: Mapping[str, str], names: Any, *, drop_empty: frozenset[str]) -> dict[str, Any]:
    """Gather the cells that the file has; an empty cell of a kind that cannot be empty says nothing."""
    return {
        name: cells[name]
        for name in names
        if name in cells and not (name in drop_empty and not cells[name].strip())
    }


class Customers(Lines):
    """Customers; without a number one is known by its mail address, else by name and telephone."""

    own = ("name", "email", "phone", "language", "preferred_channel", "notes")
    columns = ("id", *own)
    needed = ("name",)
    says = {
        "id": "C-0001; empty for a new one",
        "email": "a mail address: name@example.com",
        "phone": "the number with its country: +15555550123",
        "language": "en or es",
        "preferred_channel": "email, text or none",
    }

    def rows(self) -> Iterator[dict[str, str]]:
        """Write out every customer."""
        for one in Customer.objects.order_by("pk").iterator():
            yield {"id": one.number, **{name: getattr(one, name) for name in self.own}}

    def take(self, by: Caller, cells: dict[str, str]) -> Taken:
        """Add or change a customer."""
        row = self._known(cells)
        drop = frozenset({"language", "preferred_channel"})
        values = checked(CustomerSerializer, row, told(cells, self.own, drop_empty=drop))
        if row is None:
            return NEW, customer_create(by=by, **values)
        return _changed(by, row, "customer.changed", values)

    def _known(self, cells: dict[str, str]) -> Customer | None:
        rows = Customer.objects.select_for_update()
        if cells.get("id"):
            found: Customer = by_number(rows, "C", cells["id"])
            return found
        email, name = cells.get("email", "").strip(), cells.get("name", "").strip()
        same = {"email": email} if email else {"email": "", "name": name}
        if not email:
            same["phone"] = cells.get("phone", "").strip()
        one: Customer | None = _only(rows.filter(**same), "email" if email else "name")
        return one


class Sites(Lines):
    """Sites; without a number one is known by its customer, street, flat and town."""

    address = {
        "street_address": "streetAddress",
        "extended_address": "extendedAddress",
        "address_locality": "addressLocality",
        "address_region": "addressRegion",
        "postal_code": "postalCode",
        "address_country": "addressCountry",
    }
    ways = tuple(SIZES)
    plain = ("time_zone", "latitude", "longitude", "access_notes", "year_built")
    columns = ("id", "customer", *address, *plain, "passes", *ways)
    needed = ("customer", "street_address", "address_locality", "time_zone")
    says = {
        "id": "S-0001; empty for a new one",
        "customer": "C-0001, or the mail address of one",
        "address_country": "two letters, ISO 3166-1",
        "time_zone": "IANA name: America/Chicago",
        "latitude": "decimal degrees beside a longitude: 41.878113",
        "longitude": "decimal degrees beside a latitude: -87.629799",
        "year_built": "a year: 1998",
        "passes": f"what glass passes on its way in, with spaces between: {', '.join(PASSES)}",
        **dict.fromkeys(ways, "a length with its unit: 31 1/2 in, 800 mm"),
    }

    def rows(self) -> Iterator[dict[str, str]]:
        """Write out every site."""
        names = (*self.address, *self.plain, *self.ways)
        for one in Site.objects.order_by("pk").iterator():
            own = {name: _text(getattr(one, name)) for name in names}
            own["passes"] = " ".join(one.passes)
            yield {"id": one.number, "customer": f"C-{one.customer_id:04d}", **own}

    def take(self, by: Caller, cells: dict[str, str]) -> Taken:
        """Add or change a site."""
        customer = self._customer(cells.get("customer", "").strip())
        row = self._known(cells, customer)
        values = checked(SiteSerializer, row, self._body(cells, customer))
        if row is None:
            return NEW, site_create(by=by, **values)
        return _changed(by, row, "site.changed", values)

    def _body(self, cells: dict[str, str], customer: Customer) -> dict[str, Any]:
        drop = frozenset({"address_country", "time_zone"})
        body: dict[str, Any] = {"customer": customer.number}
        body["address"] = {
            self.address[name]: value
            for name, value in told(cells, self.address, drop_empty=drop).items()
        }
        body |= told(cells, self.plain, drop_empty=drop)
        for name in ("latitude", "longitude", "year_built"):
            if name in body and not body[name].strip():
                body[name] = None
        ways = told(cells, self.ways, drop_empty=frozenset())
        ways |= {"passes": cells["passes"].split()} if "passes" in cells else {}
        return {**body, "way_in": ways} if ways else body

    def _customer(self, text: str) -> Customer:
        rows = Customer.objects.all()
        if "@" not in text:
            found: Customer = by_number(rows, "C", text, "customer")
            return found
        known: Customer | None = _only(rows.filter(email=text), "customer")
        if known is None:
            hint = "Take the customers over first, or write a number such as C-0007."
            raise wrong("customer", "does_not_exist", f"No customer has {text}.", hint)
        return known

    def _known(self, cells: dict[str, str], customer: Customer) -> Site | None:
        rows = Site.objects.select_for_update()
        if cells.get("id"):
            found: Site = by_number(rows, "S", cells["id"])
            return found
        names = ("street_address", "extended_address", "address_locality", "postal_code")
        same = {name: cells.get(name, "").strip() for name in names if name in cells}
        one: Site | None = _only(rows.filter(customer=customer, **same), "street_address")
        return one


class Kits(Lines):
    """Kits by their short name; a sheet that differs from the newest is published as the next."""

    own = ("slug", "name", "maker", "invented")
    columns = (*own, "sheet")
    needed = ("slug", "name", "maker")
    says = {
        "slug": "letters, digits and dashes; the kit is known by it",
        "invented": "true or false",
        "sheet": "the newest rule sheet as JSON; empty: none",
    }

    def rows(self) -> Iterator[dict[str, str]]:
        """Write out every kit with its newest sheet."""
        for one in Kit.objects.prefetch_related("sheets").order_by("pk"):
            sheets = sorted(one.sheets.all(), key=lambda sheet: sheet.number)
            body = json.dumps(sheets[-1].body, ensure_ascii=False) if sheets else ""
            own = {name: _text(getattr(one, name)) for name in self.own}
            yield {**own, "sheet": body}

    def take(self, by: Caller, cells: dict[str, str]) -> Taken:
        """Add a kit, or publish its next sheet."""
        body = told(cells, self.own, drop_empty=frozenset({"invented"}))
        row = Kit.objects.select_for_update().filter(slug=cells.get("slug", "").strip()).first()
        sheet = self._sheet(cells.get("sheet", ""))
        if row is None:
            row, what = kit_create(by=by, **checked(KitSerializer, None, body)), NEW
        else:
            what = SAME
            self._check_same(row, checked(KitSerializer, row, body))
        newest = row.sheets.order_by("-number").first()
        if sheet and (newest is None or newest.digest != sheet_digest(sheet)):
            with inputs_checked("/sheet"):
                sheet_publish(by=by, kit=row, body=sheet)
            what = CHANGED if what == SAME else what
        return what, row

    def _sheet(self, text: str) -> dict[str, Any]:
        try:
            body = json.loads(text) if text.strip() else {}
        except ValueError as error:
            hint = "Leave the cell as it was exported, or empty."
            raise wrong("sheet", "not_json", f"The sheet is no JSON: {error}.", hint) from None
        if not isinstance(body, dict):
            hint = 'Write {"format": 1, …}.'
            raise wrong("sheet", "not_an_object", "A rule sheet is an object.", hint)
        return body

    def _check_same(self, row: Kit, values: dict[str, Any]) -> None:
        for name, value in values.items():
            if getattr(row, name) != value:
                text = f"The {name} of {row.slug} is {_text(getattr(row, name))!r} here."
                hint = "A list does not rename kits; leave it as it is, or take another short name."
                raise wrong(name, "not_changed_here", text, hint)


class Bookings(Lines):
    """Bookings; without a number one is known by its job, visit and start."""

    own = ("override_name", "override_reason", "notes")
    columns = ("id", "job", "crew", "visit", "starts_at", "ends_at", "state", *own)
    needed = ("job", "crew", "visit", "starts_at", "ends_at")
    says = {
        "id": "B-0001; empty for a new one",
        "job": "J-0001",
        "crew": "short name of the crew",
        "visit": "survey, install or follow_up",
        "starts_at": "with its offset: 2027-03-02T09:00:00-06:00",
        "ends_at": "with its offset",
        "state": "booked; other states are changed on the booking's page",
    }

    def rows(self) -> Iterator[dict[str, str]]:
        """Write out every booking, its times by the site's clock with their offset."""
        for one in Booking.objects.select_related("job__site", "crew").order_by("pk"):
            zone = ZoneInfo(one.job.site.time_zone)
            own = {name: getattr(one, name) for name in (*self.own, "visit", "state")}
            yield {
                "id": one.number,
                "job": f"J-{one.job_id:04d}",
                "crew": one.crew.slug,
                "starts_at": one.starts_at.astimezone(zone).isoformat(),
                "ends_at": one.ends_at.astimezone(zone).isoformat(),
                **own,
            }

    def take(self, by: Caller, cells: dict[str, str]) -> Taken:
        """Book a visit, or move one that is booked."""
        names = ("job", "crew", "visit", "starts_at", "ends_at", *self.own)
        body = {name: value for name, value in told(cells, names, drop_empty=EMPTY).items()}
        row = self._known(cells)
        if row is not None and self._as_it_is(row, cells):
            return SAME, row  # whatever its state: nothing is asked of it
        values = checked(BookingSerializer, None, body)
        row = row or self._at_that_time(values)
        self._check_state(row, cells)
        if row is None:
            return NEW, booking_make(by=by, **values)
        return self._moved(by, row, values)

    def _known(self, cells: dict[str, str]) -> Booking | None:
        rows = Booking.objects.select_related("job__site", "crew")
        return by_number(rows, "B", cells["id"]) if cells.get("id") else None

    def _at_that_time(self, values: dict[str, Any]) -> Booking | None:
        same = {name: values[name] for name in ("job", "visit", "starts_at")}
        rows = Booking.objects.select_related("job__site", "crew")
        return rows.filter(**same).exclude(state__in=["cancelled", "lapsed"]).first()

    def _as_it_is(self, row: Booking, cells: dict[str, str]) -> bool:
        zone = ZoneInfo(row.job.site.time_zone)
        now = {
            "job": f"J-{row.job_id:04d}",
            "crew": row.crew.slug,
            "starts_at": row.starts_at.astimezone(zone).isoformat(),
            "ends_at": row.ends_at.astimezone(zone).isoformat(),
            **{name: getattr(row, name) for name in (*self.own, "visit", "state")},
        }
        return all(now[name] == value for name, value in cells.items() if name in now)

    def _check_state(self, row: Booking | None, cells: dict[str, str]) -> None:
        now = row.state if row else "booked"
        if cells.get("state", "").strip() not in {"", now} or now != "booked":
            number = row.number if row else "A new booking"
            hint = "A list books and moves; cancel, confirm or hold on the booking's own page."
            raise wrong("state", "not_changed_here", f"{number} is {now} here.", hint)

    def _moved(self, by: Caller, row: Booking, values: dict[str, Any]) -> Taken:
        for name, value in values.items():
            if name not in MOVED and getattr(row, name) != value:
                hint = "Make a new booking, or change it on the booking's own page."
                text = f"The {name} of {row.number} is {_text(getattr(row, name))!r} here."
                raise wrong(name, "not_changed_here", text, hint)
        new = {name: values[name] for name in MOVED if getattr(row, name) != values[name]}
        if not new:
            return SAME, row
        return CHANGED, booking_move(by=by, booking=row, reason="Moved by a list.", **new)


EMPTY = frozenset({"override_name", "override_reason", "notes"})
MOVED = ("crew", "starts_at", "ends_at")
LISTS: dict[str, Lines] = {
    Kind.CUSTOMERS.value: Customers(),
    Kind.SITES.value: Sites(),
    Kind.KITS.value: Kits(),
    Kind.BOOKINGS.value: Bookings(),
}


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return getattr(value, "number", None) or str(value)


def _only(rows: Any, column: str) -> Any:
    found = list(rows[:2])
    if len(found) > 1:
        text = f"More than one row here is like this: {found[0].number} and {found[1].number}."
        raise wrong(column, "more_than_one", text, "Write the number into the column `id`.")
    return found[0] if found else None


def _changed(by: Caller, row: Any, type: str, values: dict[str, Any]) -> Taken:
    before: int = row.version
    row = row_change(row=row, by=by, type=type, values=values, reason="Changed by a list.")
    return (CHANGED if row.version != before else SAME), row
