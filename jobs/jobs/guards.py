"""What may hold a job back? Small questions, each answered with why, and with what would satisfy it."""

from dataclasses import asdict, dataclass

from jobs.bookings.models import Visit
from jobs.jobs.look import Look
from jobs.jobs.moments import told_at
from jobs.receiving.standing import openings_without_order
from jobs.verdicts.models import State as VerdictState


@dataclass(frozen=True, slots=True)
class Block:
    """Which guard holds, why, and what would satisfy it."""

    guard: str
    why: str
    hint: str

    def as_json(self) -> dict[str, str]:
        """As it stands in answers."""
        return asdict(self)


def opening_there(look: Look) -> Block | None:
    """Does the job have an opening that was not dropped?"""
    if look.openings:
        return None
    return Block("opening_there", "The job has no opening.", "Add an opening to it.")


def openings_surveyed(look: Look) -> Block | None:
    """Has every opening a survey that still counts?"""
    if not look.unsurveyed:
        return None
    since = " since it was to be measured again" if look.job.survey_again_at else ""
    return Block(
        "openings_surveyed",
        f"Not measured{since}: {', '.join(look.unsurveyed)}.",
        "Book a survey and send its readings, or drop the opening from the job.",
    )


def kits_decided(look: Look) -> Block | None:
    """Is a kit chosen for every opening?"""
    missing = [one.number for one in look.openings if one.kit_id is None]
    if not missing:
        return None
    return Block(
        "kits_decided",
        f"No kit chosen for {', '.join(missing)}.",
        "Choose the kit on the opening's page, or drop the opening from the job.",
    )


def verdicts_current(look: Look) -> Block | None:
    """Is there a verdict for every opening and its kit, no older than the readings?"""
    missing = [opening.number for opening, verdict in look.verdicts if verdict is None]
    stale = [*missing, *look.outdated]
    if not stale:
        return None
    return Block(
        "verdicts_current",
        f"No verdict for what now stands of {', '.join(stale)}.",
        "Ask for a verdict with the opening's kit.",
    )


def verdicts_fit(look: Look) -> Block | None:
    """Does every verdict fit?"""
    against = [(o.number, v) for o, v in look.verdicts if v and v.state != VerdictState.FITS]
    if not against:
        return None
    says = "; ".join(f"{number} {v.state}: {v.result['summary']}" for number, v in against)
    return Block(
        "verdicts_fit",
        says,
        "Read again or choose another kit; or decide against the verdict, by name and with a reason.",
    )


def reason_given(look: Look) -> Block | None:
    """Is it said why?"""
    if look.reason.strip():
        return None
    return Block("reason_given", "This move needs a reason.", "Send why in `reason`.")


def goods_ordered(look: Look) -> Block | None:
    """Are goods on order for every opening?"""
    missing = openings_without_order(openings=look.openings)
    if not missing:
        return None
    return Block(
        "goods_ordered", f"Nothing is ordered for {', '.join(missing)}.", "Place an order."
    )


def goods_sound(look: Look) -> Block | None:
    """Is every piece that came sound, or come anew?"""
    standing = look.goods
    if not standing.damaged:
        return None
    return Block(
        "goods_sound",
        f"Not sound: {', '.join(standing.damaged)}.",
        "Order the piece anew and inspect it when it comes.",
    )


def goods_here(look: Look) -> Block | None:
    """Has everything that was ordered come, been looked over, and found sound?"""
    standing = look.goods
    if standing.received or standing.damaged:  # what is not sound is told by `goods_sound`
        return None
    return Block("goods_here", standing.why, "Inspect each piece when the delivery comes.")


def piece_amiss(look: Look) -> Block | None:
    """Is a piece damaged, short or wrong, so that the job must wait for another?"""
    standing = look.goods
    if standing.expected and not standing.received:
        return None
    return Block(
        "piece_amiss",
        "Every piece is here and sound.",
        "Record the piece's inspection as damaged, short or wrong first.",
    )


def install_booked(look: Look) -> Block | None:
    """Is a crew's time promised for the install; after one that was broken off, for the rest of it?"""
    if not look.installs_booked:
        return Block("install_booked", "No install is booked.", "Book an install visit.")
    broken_off = look.install.started and look.install.finished_at is None
    if not broken_off or set(look.installs_booked) & set(look.to_come):
        return None
    return Block(
        "install_booked",
        f"The visit {', '.join(look.installs_booked)} is over, and the install is not finished.",
        "Book another install visit.",
    )


def install_not_booked(look: Look) -> Block | None:
    """Is no install promised that would now be wrong?"""
    if not look.installs_booked:
        return None
    return Block(
        "install_not_booked",
        f"The install {', '.join(look.installs_booked)} is booked.",
        "Cancel that booking first.",
    )


def install_finished(look: Look) -> Block | None:
    """Are all openings' installs finished; or, kept on paper, does somebody say so?"""
    install = look.install
    if install.started:
        if install.finished_at is not None:
            return None
        open_ones = install.open_hold_points
        which = f": {', '.join(open_ones)}" if open_ones else ""
        return Block("install_finished", f"Hold points are open{which}.", "Record them and finish.")
    if look.reason.strip():
        return None
    return Block(
        "install_finished",
        "No install was recorded.",
        "Record it at its hold points; or say in `reason` who keeps the record on paper.",
    )


def cure_over(look: Look) -> Block | None:
    """Has the sealant had its time; or, kept on paper, does somebody say so?"""
    install = look.install
    if install.started:
        if install.cured_at is not None and install.cured_at <= look.now:
            return None
        if install.finished_at is None or install.cured_at is not None:
            zone = look.job.site.time_zone
            until = f" until {told_at(install.cured_at, zone)}" if install.cured_at else ""
            return Block("cure_over", f"The sealant cures{until}.", "Wait; nobody showers before.")
    if look.reason.strip():
        return None
    return Block("cure_over", "No cure time is known.", "Say in `reason` since when it is dry.")


def handover_signed(look: Look) -> Block | None:
    """Did a named person sign for it?"""
    missing = look.not_handed_over
    if not missing:
        return None
    if look.reason.strip() and not look.install.started:
        return None
    return Block(
        "handover_signed",
        f"Not handed over. {' '.join(missing)}",
        "Record the handover: label and care shown, name and signature; or say in `reason` who"
        " keeps it on paper.",
    )


def follow_up_done(look: Look) -> Block | None:
    """Was the customer visited again, or spoken to?"""
    visits = [one for one in look.bookings if one.visit == Visit.FOLLOW_UP]
    if any(one.ends_at <= look.now for one in visits) or look.reason.strip():
        return None
    return Block(
        "follow_up_done",
        "No follow-up visit is over.",
        "Visit, or say in `reason` who was asked and what was answered.",
    )


def visits_over(look: Look) -> Block | None:
    """Is no visit still promised?"""
    if not look.to_come:
        return None
    return Block(
        "visits_over", f"Still booked: {', '.join(look.to_come)}.", "Cancel or wait for the visit."
    )


def claims_settled(look: Look) -> Block | None:
    """Is every claim of the job settled?"""
    waiting = look.claims_open
    if not waiting:
        return None
    return Block("claims_settled", f"Open: {', '.join(waiting)}.", "Settle or withdraw the claim.")
