"""How is a force printed, and is a load within what holds it?"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import lru_cache

from fitcheck.rules.compare import Asked
from fitcheck.rules.finding import Finding, State
from fitcheck.rules.length import Direction
from fitcheck.rules.quantity import UG_PER_KG
from fitcheck.rules.tables_fixings import GRAVITY_N_PER_KG, LBF_IN_NEWTON, TIGHT_FROM

_TENTH = Decimal("0.1")
_HUNDREDTH = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Share:
    """A load, what holds it, and the share of it that is used."""

    load_lbf: float
    holds_lbf: float

    @property
    def used(self) -> float:
        """Return the load over the capacity; infinite where nothing holds [-]."""
        return self.load_lbf / self.holds_lbf if self.holds_lbf > 0 else float("inf")

    @property
    def state(self) -> State:
        """Return "fits" below the house's share, "tight" up to the whole, else "fails" [-]."""
        if self.used > 1:
            return "fails"
        return "tight" if self.used > TIGHT_FROM.value else "fits"

    def as_json(self) -> dict[str, object]:
        """Return load, capacity and share as plain JSON."""
        return {
            "load": force_json(self.load_lbf, "up"),
            "holds": force_json(self.holds_lbf, "down"),
            "used": share_text(self.used) if self.holds_lbf > 0 else None,
            "state": self.state,
        }


def weight_lbf(mass_ug: int) -> float:
    """Return the weight of a mass.

    Source: NIST SP 811, standard acceleration of free fall.

    Args:
        mass_ug: the mass [ug].

    Returns:
        Its weight [lbf].
    """
    return mass_ug / UG_PER_KG * GRAVITY_N_PER_KG.value / LBF_IN_NEWTON.value


def newton_to_lbf(newton: Decimal) -> float:
    """Return a force in pounds.

    Args:
        newton: the force [N].

    Returns:
        The force [lbf].
    """
    return float(newton) / LBF_IN_NEWTON.value


def force_json(lbf: float, direction: Direction) -> dict[str, str]:
    """Give out a force: a load rounds up, what holds it rounds down.

    Args:
        lbf: the force [lbf].
        direction: which way it is rounded [-].

    Returns:
        A mapping with pounds and newtons to a tenth [-].
    """
    return {
        "lbf": f"{_rounded(lbf, direction, _TENTH)} lbf",
        "newton": f"{_rounded(lbf * LBF_IN_NEWTON.value, direction, _TENTH)} N",
        "rounded": direction,
    }


def share_text(used: float) -> str:
    """Print a share to two places, rounded up.

    Args:
        used: the share [-].

    Returns:
        A text such as "0.62" [-].
    """
    return str(_rounded(used, "up", _HUNDREDTH))


def holds(asked: Asked, share: Share) -> Finding:
    """Compare a load with what holds it.

    Source: allowable-stress design; the share kept clear is a house setting.

    Args:
        asked: question, place, source and remedy [-].
        share: load and capacity [lbf].

    Returns:
        The finding [-].
    """
    load, capacity = force_json(share.load_lbf, "up"), force_json(share.holds_lbf, "down")
    do = (
        f"Nothing to do: {share_text(share.used)} of it is used."
        if share.used <= 1
        else asked.remedy
    )
    if share.state == "tight":
        do = f"Have it looked at by the crew lead: {share_text(share.used)} of it is used."
    return spoken_finding(
        asked,
        f"{load['lbf']} ({load['newton']})",
        f"{capacity['lbf']} ({capacity['newton']})",
        share.state,
        do,
    )


def spoken_finding(asked: Asked, reading: str | None, limit: str, state: State, do: str) -> Finding:
    """Return a finding whose reading and limit are words, not lengths.

    Args:
        asked: question, place and source [-].
        reading: what was found, None when it is not known [-].
        limit: what is asked for [-].
        state: what it means [-].
        do: what is to be done [-].

    Returns:
        The finding [-].
    """
    return Finding(
        rule=asked.rule,
        question=asked.question,
        place=asked.place,
        reading=reading,
        limit_nm=None,
        limit_text=limit,
        sense="most",
        margin=None,
        guard_nm=None,
        chance=None,
        state=state,
        source=asked.source,
        do=do,
    )


@lru_cache(maxsize=4096)
def _rounded(value: float, direction: Direction, step: Decimal) -> Decimal:
    """Round a float one way, after taking off the noise of its last digits."""
    steady = Decimal(repr(round(value, 9)))
    return steady.quantize(step, ROUND_CEILING if direction == "up" else ROUND_FLOOR)
