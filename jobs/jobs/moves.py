"""Which moves does a job's life have? A table: from a state, by an action, to a state, past its guards."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from contractor.api.callers import LEAD, MEASURER, OFFICE, TABLET, YARD
from jobs.jobs import guards as g
from jobs.jobs.look import Look
from jobs.jobs.models import State

Guard = Callable[[Look], g.Block | None]


@dataclass(frozen=True, slots=True)
class Action:
    """What a move is called, whose it is, and whether it follows by itself once the rows say so."""

    title: str
    says: str
    who: str
    follows: bool = False
    back: bool = False


FIELD = frozenset({LEAD, TABLET})
WHO: Mapping[str, frozenset[str]] = {
    OFFICE: frozenset({OFFICE}),
    MEASURER: frozenset({OFFICE, MEASURER}) | FIELD,
    YARD: frozenset({OFFICE, YARD}) | FIELD,
    LEAD: frozenset({OFFICE}) | FIELD,
}
ACTIONS: Mapping[str, Action] = {
    "survey": Action("Measured", "Every opening has been read.", MEASURER, follows=True),
    "decide": Action("Decide", "The kits are chosen, and their verdicts fit.", OFFICE),
    "decide_anyway": Action(
        "Decide against a verdict", "You answer for it by name; say why.", OFFICE
    ),
    "order": Action("Ordered", "Every opening's goods are ordered.", OFFICE, follows=True),
    "receive": Action("Received", "Everything is here, looked over, sound.", YARD, follows=True),
    "book": Action("Install booked", "A crew's time is promised.", OFFICE, follows=True),
    "unbook": Action(
        "Install no longer booked", "Its booking was cancelled.", OFFICE, follows=True, back=True
    ),
    "install": Action("Installed", "Every hold point is recorded.", LEAD, follows=True),
    "cure": Action("Cured", "The sealant has had its time.", LEAD, follows=True),
    "hand_over": Action("Handed over", "Label and care shown, signed for.", LEAD, follows=True),
    "follow_up": Action("Followed up", "The customer was asked how it does.", OFFICE),
    "close": Action("Close", "Nothing is left to do.", OFFICE),
    "survey_again": Action(
        "Measure again", "The survey was bad: it no longer counts.", OFFICE, back=True
    ),
    "change": Action("Customer changes the order", "Decide anew.", OFFICE, back=True),
    "damage": Action(
        "Park for a damaged piece", "A piece must come anew.", YARD, follows=True, back=True
    ),
    "cancel": Action("Cancel the job", "Nothing more is done.", OFFICE, back=True),
    "reopen": Action("Open the job again", "Work goes on.", OFFICE, back=True),
}


@dataclass(frozen=True, slots=True)
class Move:
    """Where an action leads from one state, and the guards that it must pass."""

    to: State
    guards: tuple[Guard, ...] = ()


ENQUIRY, SURVEYED, DECIDED, ORDERED = State.ENQUIRY, State.SURVEYED, State.DECIDED, State.ORDERED
RECEIVED, BOOKED, INSTALLED, CURED = State.RECEIVED, State.BOOKED, State.INSTALLED, State.CURED
HANDED_OVER, FOLLOWED_UP = State.HANDED_OVER, State.FOLLOWED_UP
CLOSED, CANCELLED = State.CLOSED, State.CANCELLED
FORWARD: Mapping[tuple[State, str], Move] = {
    (ENQUIRY, "survey"): Move(SURVEYED, (g.opening_there, g.openings_surveyed)),
    (SURVEYED, "decide"): Move(
        DECIDED,
        (g.opening_there, g.openings_surveyed, g.kits_decided, g.verdicts_current, g.verdicts_fit),
    ),
    (DECIDED, "order"): Move(ORDERED, (g.opening_there, g.goods_ordered)),
    (ORDERED, "receive"): Move(
        RECEIVED, (g.opening_there, g.goods_ordered, g.goods_sound, g.goods_here)
    ),
    (RECEIVED, "book"): Move(BOOKED, (g.opening_there, g.goods_sound, g.install_booked)),
    (BOOKED, "install"): Move(INSTALLED, (g.opening_there, g.goods_sound, g.install_finished)),
    (INSTALLED, "cure"): Move(CURED, (g.opening_there, g.cure_over)),
    (CURED, "hand_over"): Move(HANDED_OVER, (g.opening_there, g.handover_signed)),
    (HANDED_OVER, "follow_up"): Move(FOLLOWED_UP, (g.follow_up_done,)),
    (FOLLOWED_UP, "close"): Move(CLOSED, (g.visits_over, g.claims_settled)),
}
_BEFORE_INSTALL = (SURVEYED, DECIDED, ORDERED, RECEIVED, BOOKED)
BACK: Mapping[tuple[State, str], Move] = {
    (SURVEYED, "decide_anyway"): Move(
        DECIDED, (g.openings_surveyed, g.kits_decided, g.verdicts_current, g.reason_given)
    ),
    **{
        (state, "survey_again"): Move(ENQUIRY, (g.reason_given, g.install_not_booked))
        for state in _BEFORE_INSTALL
    },
    **{
        (state, "change"): Move(SURVEYED, (g.reason_given, g.install_not_booked))
        for state in _BEFORE_INSTALL[1:]
    },
    **{(state, "damage"): Move(ORDERED, (g.piece_amiss,)) for state in (RECEIVED, BOOKED)},
    (BOOKED, "unbook"): Move(RECEIVED, (g.install_not_booked,)),
    **{
        (state, "cancel"): Move(CANCELLED, (g.reason_given, g.visits_over))
        for state in (ENQUIRY, *_BEFORE_INSTALL)
    },
    (CANCELLED, "reopen"): Move(ENQUIRY, (g.reason_given,)),
    (CLOSED, "reopen"): Move(FOLLOWED_UP, (g.reason_given,)),
}
MOVES: Mapping[tuple[State, str], Move] = {**FORWARD, **BACK}


def actions_from(state: str) -> list[str]:
    """Name the actions that a job in this state has at all."""
    return [action for start, action in MOVES if start == state]


def forward_from(state: str) -> str | None:
    """Name the action that leads a job on from this state, None at the end of its life."""
    return next((action for start, action in FORWARD if start == state), None)
