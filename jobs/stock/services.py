"""What is in each van? Counted from movements by their own times; a shortfall is said, never hidden."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from contractor.api.callers import Caller
from contractor.api.facts import check_same, kept_once
from contractor.notices.services import notice_record, row_change
from contractor.people.models import Crew
from jobs.installs.models import Install
from jobs.installs.sent import Sent
from jobs.stock.models import Item, Move, Movement, VanItem


@transaction.atomic
def item_add(*, by: Caller, **values: Any) -> Item:
    """Add a kind of part to the list; announces `stock.item_added`."""
    item = Item.objects.create(**values)
    notice_record(by=by, type="stock.item_added", about=item.slug)
    return item


@transaction.atomic
def item_change(*, by: Caller, item: Item, reason: str = "", **values: Any) -> Item:
    """Change a kind of part, and what every van must load of it; announces `stock.item_changed`."""
    row_change(row=item, by=by, type="stock.item_changed", values=values, reason=reason)
    for van in VanItem.objects.select_for_update().filter(item=item):
        VanItem.objects.filter(pk=van.pk).update(to_load=to_load(item, van.on_hand))
    return item


def stock_move(
    *,
    by: Caller,
    sent: Sent,
    crew: Crew,
    item: Item,
    move: str,
    amount: int,
    install: Install | None = None,
) -> tuple[Movement, bool]:
    """Keep a movement and count anew; announces `stock.moved`.

    More used than there was is kept all the same, with how many were short: somebody forgot to
    load or to count.

    Raises:
        Problem: the id is taken by another movement.
    """
    how = {"move": move, "amount": amount, "install": install}
    return kept_once(lambda: _move(by, sent, crew, item, how))


def _move(
    by: Caller, sent: Sent, crew: Crew, item: Item, how: dict[str, Any]
) -> tuple[Movement, bool]:
    van, _ = VanItem.objects.get_or_create(crew=crew, item=item)
    van = VanItem.objects.select_for_update().get(pk=van.pk)
    known = Movement.objects.filter(pk=sent.id).first()
    if known is not None:
        check_same(known, sent.digest, "movement")
        return known, False
    row = Movement(
        id=sent.id,
        crew=crew,
        item=item,
        said_by=sent.said_by,
        taken_at=sent.taken_at,
        note=sent.body.get("note", ""),
        caller=by.key,
        digest=sent.digest,
        **how,
    )
    rows = sorted(
        [*Movement.objects.filter(crew=crew, item=item), row],
        key=lambda one: (one.taken_at, one.id),
    )
    row.short = count(rows, until=row).newly_short
    row.save(force_insert=True)
    before, after = (van.on_hand, van.short), count(rows)
    van.on_hand, van.short = after.on_hand, after.short
    van.to_load, van.version = to_load(item, after.on_hand), van.version + 1
    van.save()
    _announce(by, row, before, van)
    return row, True


def _announce(by: Caller, row: Movement, before: tuple[int, int], van: VanItem) -> None:
    notice_record(
        by=by,
        type="stock.moved",
        about=f"{row.crew.slug}:{row.item.slug}",
        version=van.version,
        reason=f"Short by {row.short}: load or count the van." if row.short else "",
        changes={
            "move": [None, f"{row.move} {row.amount}"],
            "on_hand": [before[0], van.on_hand],
            "short": [before[1], van.short],
        },
    )


@dataclass(frozen=True, slots=True)
class Counted:
    """What the movements come to."""

    on_hand: int
    short: int
    newly_short: int


def count(rows: Iterable[Movement], until: Movement | None = None) -> Counted:
    """Add movements up in the order of their times, from the last count.

    What was used beyond what was there stays as a shortfall until somebody counts the van.
    """
    on_hand = short = newly = 0
    for row in rows:
        newly = 0
        if row.move == Move.COUNTED:
            on_hand, short = row.amount, 0
        elif row.move == Move.LOADED:
            on_hand += row.amount
        else:
            newly = max(0, row.amount - on_hand)
            on_hand, short = max(0, on_hand - row.amount), short + newly
        if row is until:
            break
    return Counted(on_hand, short, newly)


def to_load(item: Item, on_hand: int) -> int:
    """How many to load so that the van is full again; nothing while it has enough."""
    return max(0, item.reload_to - on_hand) if on_hand < item.reload_below else 0


def sealant_data(*, slug: str) -> dict[str, Any] | None:
    """The product data of a sealant on the list, by which its cure is worked out; None when unknown."""
    item = Item.objects.filter(slug=slug).first()
    return item.data_sheet or None if item else None
