"""What is in an order of panels cut to size: the opening, the panes, who may have it cut?"""

from collections.abc import Mapping
from dataclasses import dataclass

from fitcheck.rules.pane_outline import Pane
from fitcheck.rules.pane_taken import one_pane
from fitcheck.rules.panel_order import OrderAsked, answer, order_panes
from fitcheck.rules.strict import InputError, InputErrors, Strict
from fitcheck.rules.survey import House, house_read

DRAFT = "DRAFT: NOT FOR CUTTING"
NOT_ONE = "Its notches and holes do not leave one pane: it is not drawn."
CHECK = "TO CHECK AND HANG BY: NOT FOR CUTTING"


@dataclass(frozen=True, slots=True)
class Order:
    """An order as it was asked, its panes worked out, and what the rules say of them."""

    asked: OrderAsked
    panes: tuple[Pane, ...]
    house: House
    state: str
    cautions: tuple[str, ...]
    handles: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Release:
    """Who asked for an order's drawing, and who has signed that it may be cut; nobody yet, a draft.

    `checks` is for a crew's paper: what came is held against the drawing, nothing is cut from it.
    """

    number: str = ""
    asked_by: str = ""
    signed_by: str = ""
    signed_at: str = ""
    about: str = ""
    checks: bool = False

    @property
    def words(self) -> str:
        """Return what stands in the drawing itself."""
        if self.checks:
            return CHECK
        if not self.signed_by:
            return DRAFT
        return f"For the fabricator. Signed by {self.signed_by}, {self.signed_at}"


def order_of(question: Mapping[str, object], handles: Mapping[str, str] | None = None) -> Order:
    """Return an order with its panes, worked out as the rules answer it.

    `handles` says on which side a panel's handle holes are, by its name, where somebody knows.

    Raises:
        InputErrors: the question is malformed, or a panel's notches and holes do not leave one pane;
            one entry per mistake.
    """
    told = answer(question)
    asked, panes = order_panes(question)
    broken = [_broken(at) for at, pane in enumerate(panes) if not one_pane(pane)]
    if broken:
        raise InputErrors(broken)
    house = house_read(Strict.open(question, tuple(question), "", []))
    cautions = told["cautions"]
    said = tuple(str(one) for one in cautions) if isinstance(cautions, list | tuple) else ()
    return Order(asked, panes, house, str(told["state"]), said, handles or {})


def _broken(index: int) -> InputError:
    return InputError(
        f"/panels/{index}", "not_one_pane", NOT_ONE, "move them, or make them smaller"
    )
