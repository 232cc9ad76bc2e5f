"""How does a drawing for outside come to be? Asked for, drawn by a worker, signed by a second person.

Until somebody else than the asker has signed, a panel's drawing says in itself that nobody may cut
from it; signing has it drawn anew.
"""

import hashlib
import json
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from contractor.api.callers import Caller
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from fitcheck.drawings.made import made_order
from fitcheck.drawings.order import NOT_ONE
from jobs.drawings.age import drawing_stale, verdict_drawn
from jobs.drawings.content import order_read
from jobs.drawings.corners import order_filled
from jobs.drawings.making import DRAWN
from jobs.drawings.models import Drawing, State, What
from jobs.openings.models import Opening
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_standing

MOST_HOLES = 24  # a panel; house setting


@transaction.atomic
def drawing_ask(
    *,
    by: Caller,
    opening: Opening,
    what: str,
    order: dict[str, Any] | None = None,
    verdict: Verdict | None = None,
) -> Drawing:
    """Freeze what is to be drawn and ask for its file; announces `drawing.asked`.

    Raises:
        InputErrors: the order makes no sense.
        Problem: there is nothing to draw it from.
    """
    verdict = verdict or verdict_standing(opening=opening)
    says, order = _checked(what, order, verdict)
    # One drawing of an opening at a time: of two asked for at once, one must supersede the other.
    Opening.objects.select_for_update().only("pk").get(pk=opening.pk)
    drawing = Drawing.objects.create(
        opening=opening,
        verdict=verdict,
        what=what,
        order=order,
        says=says,
        digest=_digest(what, order, verdict),
        asked_by=by.name,
        asked_member=by.member_id,
    )
    _supersede(by, drawing)
    changes = {"opening": [None, opening.number], "what": [None, what]}
    notice_record(by=by, type="drawing.asked", about=drawing.number, changes=changes)
    DRAWN.wake(drawing)
    return drawing


def _checked(
    what: str, order: dict[str, Any] | None, verdict: Verdict | None
) -> tuple[str, dict[str, Any]]:
    """Work out what is asked for once, so that a mistake is told before anything is written."""
    if what == What.ELEVATION:
        if verdict is None:
            raise Problem(
                "no_verdict",
                "This opening has no verdict yet.",
                status=409,
                hint="Post a survey with a kit first.",
            )
        return verdict.state, {}
    if not order and verdict is not None and verdict.result.get("made_glass"):
        return verdict.state, _of_verdict(verdict)
    if not order:
        raise Problem(
            "order_missing",
            "Panels are drawn from their order.",
            hint="Send `order`: opening, gaps, thickness, panels with holes and notches.",
            pointer="/order",
        )
    _check_readable(order)
    asked = {"house": {"mark": settings.INCH_MARK}, **order}
    asked = order_filled(asked, verdict.inputs["readings"] if verdict else None)
    return order_read(asked).state, asked


def _of_verdict(verdict: Verdict) -> dict[str, Any]:
    """Take the order of the glass that a verdict cuts to its opening."""
    order = made_order(verdict.result)
    if order is None:
        raise Problem(
            "glass_not_cut",
            f"This verdict cuts no glass yet: {verdict.result['made_glass']['why'] or NOT_ONE}",
            status=409,
            hint="Do what is said, or send `order`.",
        )
    _check_readable(order)
    return order


def _check_readable(order: dict[str, Any]) -> None:
    """Refuse a panel with more holes than anybody could read in its drawing."""
    panels = order.get("panels")
    for index, panel in enumerate(panels if isinstance(panels, list) else []):
        parts = (
            [panel.get(name) for name in ("holes", "notches")] if isinstance(panel, dict) else []
        )
        if sum(len(part) for part in parts if isinstance(part, list)) > MOST_HOLES:
            raise Problem(
                "too_many_holes",
                f"A drawing shows at most {MOST_HOLES} holes and notches a panel.",
                hint="Send the maker's own file for such a panel.",
                pointer=f"/order/panels/{index}",
            )


def _digest(what: str, order: dict[str, Any], verdict: Verdict | None) -> str:
    frozen = [what, order, verdict.inputs_digest if verdict else None]
    text = json.dumps(frozen, sort_keys=True, separators=(",", ":"))
    return "sha256:" + hashlib.sha256(text.encode()).hexdigest()


def _supersede(by: Caller, drawing: Drawing) -> None:
    """Mark earlier drawings of the same thing; whoever looks one up is told the newer."""
    earlier = Drawing.objects.filter(
        opening=drawing.opening, what=drawing.what, superseded_by=None
    ).exclude(pk=drawing.pk)
    for old in earlier.select_for_update():
        old.superseded_by = drawing
        old.version += 1
        old.save(update_fields=["superseded_by", "version"])
        notice_record(
            by=by,
            type="drawing.superseded",
            about=old.number,
            version=old.version,
            changes={"superseded_by": [None, drawing.number]},
        )


def drawing_retry(*, by: Caller, drawing: Drawing) -> Drawing:
    """Ask anew for a drawing that was given up; announces `drawing.retried`.

    Raises:
        Problem: it was not given up.
    """
    return DRAWN.again(by=by, row=drawing)


def drawing_sign(*, by: Caller, drawing: Drawing, reason: str = "") -> Drawing:
    """Sign that panels may be cut so, as a second person; announces `drawing.signed`.

    The file is drawn anew, now for the fabricator.

    Raises:
        Problem: the asker signs, nobody signs in person, the rules are against it, it is no longer
            current, or it has not been drawn yet.
    """
    _check_signer(by, drawing)
    _check_signable(drawing, reason)
    drawing.signed_by, drawing.signed_at, drawing.sign_reason = by.name, timezone.now(), reason
    for name, value in DRAWN.anew().items():
        setattr(drawing, name, value)
    drawing.version += 1
    drawing.save()
    notice_record(
        by=by,
        type="drawing.signed",
        about=drawing.number,
        version=drawing.version,
        reason=reason,
        changes={"signed_by": ["", by.name]},
    )
    DRAWN.wake(drawing)
    return drawing


def _check_signer(by: Caller, drawing: Drawing) -> None:
    if by.member_id is None:
        raise Problem(
            "not_a_person", "Only a person can sign an order.", status=409, hint="Log in by name."
        )
    if by.member_id == drawing.asked_member:
        raise Problem(
            "same_person",
            f"{drawing.asked_by} asked for {drawing.number}; a second person signs it.",
            status=409,
            hint="Let somebody else look at every figure and sign.",
        )


def _check_signable(drawing: Drawing, reason: str) -> None:
    if drawing.what != What.PANELS:
        _refuse("nothing_to_sign", f"{drawing.number} is no order of panels.", "Sign orders only.")
    if drawing.signed_by:
        _refuse("signed_already", f"{drawing.signed_by} has signed {drawing.number}.", "Read it.")
    if drawing.state != State.DONE:
        _refuse("drawing_not_ready", f"{drawing.number} is {drawing.state}.", "Look at it first.")
    if stale := drawing_stale(drawing=drawing):
        _refuse("drawing_superseded", f"{drawing.number}: {stale}.", "Ask for a new drawing.")
    if drawing.says == "fails":
        _refuse("order_fails", "The rules are against this order.", "Change the order, ask anew.")
    if drawing.says == "unknown" and verdict_drawn(drawing):
        detail = "Glass made to measure waits for a verdict that fits; this one is not known to."
        _refuse("verdict_not_known", detail, "Read what is missing, and ask for a new drawing.")
    if drawing.says != "fits" and not reason.strip():
        detail = f"The rules say {drawing.says} of this order."
        hint = "Say in `reason` why it may be cut all the same."
        raise Problem("reason_missing", detail, status=409, hint=hint, pointer="/reason")


def _refuse(code: str, detail: str, hint: str) -> None:
    raise Problem(code, detail, status=409, hint=hint)
