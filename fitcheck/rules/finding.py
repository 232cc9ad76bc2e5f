"""What did one comparison of a reading with a limit say, and what is to be done about it?"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from fitcheck.rules.length import Direction, computed
from fitcheck.rules.sources import Source

State = Literal["fits", "tight", "fails", "unknown"]
Sense = Literal["least", "most", "one_of", "equal"]
WORST_FIRST: tuple[State, ...] = ("fails", "unknown", "tight", "fits")
MICROMETRE_NM = 1000


@dataclass(frozen=True, slots=True)
class Measured:
    """A value between two whole nanometres, equal when it is exact, with its uncertainty."""

    low_nm: int
    high_nm: int
    u_mm: float
    readings: tuple[str, ...] = ()

    def as_json(self, direction: Direction, mark: int) -> dict[str, str]:
        """Return the value rounded one way; one that came of a division keeps micrometres."""
        nm = self.low_nm if direction == "down" else self.high_nm
        if self.low_nm != self.high_nm:
            micro = nm // MICROMETRE_NM if direction == "down" else -(-nm // MICROMETRE_NM)
            nm = micro * MICROMETRE_NM
        return computed(nm, direction, mark)


def exactly(nm: int, readings: tuple[str, ...] = ()) -> Measured:
    """Return a value that carries no doubt, such as one that a sheet names.

    Args:
        nm: the value [nm].
        readings: ids of the readings behind it [-].

    Returns:
        The value [nm].
    """
    return Measured(nm, nm, 0.0, readings)


@dataclass(frozen=True, slots=True)
class Need:
    """A reading that a rule needs and does not have."""

    quantity: str
    side: str = "none"
    height: str | None = None
    height_nm: int | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """One comparison: reading, limit, margin, how sure, who says so, what to do."""

    rule: str
    question: str
    place: str
    reading: Measured | str | None
    limit_nm: int | None
    limit_text: str | None
    sense: Sense
    margin: Measured | None
    guard_nm: int | None
    chance: str | None
    state: State
    source: Source
    do: str
    readings: tuple[str, ...] = ()
    needs: tuple[Need, ...] = ()
    mark: int = 16
    far_nm: int | None = (
        None  # from the same end of the value to the farther limit, where there are two
    )

    def as_json(self) -> dict[str, object]:
        """Return the finding as plain JSON."""
        reading, limit, margin = self.reading, self.limit_text, self.margin
        most = self.sense == "most"
        return {
            "rule": self.rule,
            "question": self.question,
            "place": self.place,
            "reading": reading.as_json("up" if most else "down", self.mark)
            if isinstance(reading, Measured)
            else reading,
            "limit": limit
            if self.limit_nm is None
            else computed(self.limit_nm, "down" if most else "up", self.mark),
            "sense": self.sense,
            "margin": margin.as_json("down", self.mark) if margin else None,
            "uncertainty": uncertainty_text(margin.u_mm) if margin and margin.u_mm else None,
            "guard_band": None if self.guard_nm is None else hundredths_text(self.guard_nm),
            "chance": self.chance,
            "state": self.state,
            "source": self.source.as_json(),
            "do": self.do,
            "readings": list(self.readings),
        }


@lru_cache(maxsize=4096)
def hundredths_text(nm: int) -> str:
    """Print a small length in millimetres, rounded up to a hundredth.

    Args:
        nm: the length, zero or more [nm].

    Returns:
        A text such as "1.49 mm" [mm].
    """
    hundredths = -(-nm // 10_000)
    return f"{hundredths // 100}.{hundredths % 100:02d} mm"


@lru_cache(maxsize=4096)
def uncertainty_text(u_mm: float) -> str:
    """Print a standard uncertainty, rounded up to a hundredth of a millimetre.

    Args:
        u_mm: the standard uncertainty [mm].

    Returns:
        A text such as "0.79 mm" [mm].
    """
    return hundredths_text(round(u_mm * 1e6))


def worst(states: Iterable[State]) -> State:
    """Return the worst state: one failure fails, then nothing unknown may pass, then tight.

    Args:
        states: the states of some findings [-].

    Returns:
        The worst of them; "unknown" when there are none [-].
    """
    found = set(states)
    return next((state for state in WORST_FIRST if state in found), "unknown")
