"""How are masses, forces and plain numbers read out of a question about loads or panes?"""

from collections.abc import Callable
from decimal import Decimal
from typing import TypeVar

from fitcheck.rules.cautions import CLOSING
from fitcheck.rules.finding import Finding, worst
from fitcheck.rules.force import newton_to_lbf
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.quantity import force_parse, mass_parse
from fitcheck.rules.strict import Strict

Amount = TypeVar("Amount", int, Decimal)


def mass_of(own: Strict, name: str) -> int:
    """Read a mass that is more than zero.

    Args:
        own: the opened object [-].
        name: its member [-].

    Returns:
        The mass; 1 after a mistake was noted [ug].
    """
    return _amount(own, name, mass_parse, 1)


def force_of(own: Strict, name: str, default: str | None = None) -> float:
    """Read a force.

    Args:
        own: the opened object [-].
        name: its member [-].
        default: what an absent member stands for [-].

    Returns:
        The force; zero after a mistake was noted [lbf].
    """
    if default is not None and not own.has(name):
        return newton_to_lbf(force_parse(default))
    return newton_to_lbf(Decimal(_amount(own, name, force_parse, Decimal(0))))


def inches_of(own: Strict, name: str, *, zero: bool = False) -> float:
    """Read a length for a formula in inches.

    Args:
        own: the opened object [-].
        name: its member [-].
        zero: whether zero makes sense [-].

    Returns:
        The length [in].
    """
    return own.length(name, zero=zero).nm / NM_PER_INCH


def answered(
    findings: tuple[Finding, ...], cautions: tuple[str, ...], **rest: object
) -> dict[str, object]:
    """Return an answer as plain JSON: the worst state first, the closing caution last.

    Args:
        findings: the findings [-].
        cautions: what to mind, in words [-].
        rest: what else the question gives [-].

    Returns:
        The answer [-].
    """
    return {
        "state": worst(finding.state for finding in findings),
        **rest,
        "findings": [finding.as_json() for finding in findings],
        "cautions": [*cautions, CLOSING.text],
    }


def _amount(own: Strict, name: str, parse: Callable[[object], Amount], instead: Amount) -> Amount:
    try:
        found = parse(own.members.get(name))
    except ValueError as error:
        missing = own.members.get(name) is None
        code = "missing" if missing else "amount_not_understood"
        own.refuse(name, code, f"{name} is not understood.", str(error))
        return instead
    if found <= 0:
        own.refuse(name, "not_in_range", f"{name} is more than zero.")
        return instead
    return found
