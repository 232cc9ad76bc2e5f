"""How does a bracket sit on its wall, and what is said of what it bears?"""

from dataclasses import dataclass

from fitcheck.rules.compare import words
from fitcheck.rules.demand import Bracket, Case
from fitcheck.rules.finding import Measured
from fitcheck.rules.hung_rail import HungRail
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.readings import Readings
from fitcheck.rules.sheet import FixingRule, Sheet, Size
from fitcheck.rules.sheet_more import BracketRule
from fitcheck.rules.substrates import Spot
from fitcheck.rules.survey import House, Zone
from fitcheck.rules.verdict import Fixing, Panel

DURATION = "permanent"
TOO_SHORT = "fixing.counts"
NO_BRACKET = "The sheet does not say how its bracket sits on the wall: reach and screw row."
NO_RAIL = "Known once the size is known: the panels decide."
NO_WALL = "Known once the build-up and the screw are known: see the fastener schedule."
NOTHING = "Nothing behind the finish carries a door, and no hollow-wall anchor does."
BY_REPORT = "Only the anchor's own evaluation report says what it carries in {base}."
NO_MILS = "How many mils is the steel stud? It is printed on it; gauge does not tell."
NO_STEEL_SCREW = "No published strength for this screw in steel: an engineer says what holds."


@dataclass(frozen=True, slots=True)
class FixingLoad:
    """One place: what the worst screw gets, what it holds, or why neither is told."""

    place: str
    surface: str
    height: str
    bears: str
    cases: tuple[Case, ...]
    capacity: dict[str, object] | None
    settings: dict[str, object]
    why: str | None

    def as_json(self) -> dict[str, object]:
        """Return the place as plain JSON."""
        return {
            "place": self.place,
            "surface": self.surface,
            "height": self.height,
            "bears": self.bears,
            "cases": [case.as_json() for case in self.cases],
            "capacity": self.capacity,
            "settings": self.settings,
            "why": self.why,
        }


@dataclass(frozen=True, slots=True)
class Asking:
    """What a load check needs to know besides the place itself."""

    sheet: Sheet
    size: Size | None
    readings: Readings
    panels: tuple[Panel, ...]
    rail: HungRail | None
    house: House


@dataclass(frozen=True, slots=True)
class Seat:
    """A bracket on a wall whose build-up is known."""

    spot: Spot
    zone: Zone
    bracket: BracketRule
    fixing: Fixing
    stack_nm: int

    @property
    def rule(self) -> FixingRule:
        """Return the sheet's rule."""
        return self.spot.fixing

    @property
    def where(self) -> str:
        """Return the place in words, as the fastener schedule says it."""
        spot = self.spot
        return f"{self.rule.place}, {words(spot.surface)}, {spot.height} above the sill"

    @property
    def side(self) -> str:
        """Return the side of the wall that it sits on; "sill" for what sits on none."""
        return self.spot.surface.removesuffix("_wall")

    def on_wall(self) -> Bracket:
        """Return the bracket as the demand sees it."""
        return bracket_on_wall(self.rule, self.bracket)


def bracket_on_wall(rule: FixingRule, bracket: BracketRule) -> Bracket:
    """Return a bracket of the sheet as the demand sees it.

    Args:
        rule: the sheet's rule of the fixing [-].
        bracket: how its bracket sits [-].

    Returns:
        The bracket [in].
    """
    return Bracket(
        bracket.reach.nm / NM_PER_INCH,
        bracket.screw_height.nm / NM_PER_INCH,
        rule.count,
        bracket.top_row,
        bracket.thickness.nm,
        bracket.metal,
        screw_width_in=bracket.screw_width.nm / NM_PER_INCH if bracket.screw_width else None,
    )


def off_centre(seat: Seat, readings: Readings) -> Measured | None:
    """Return how far the bracket's screws are off the middle of the stud that was read there.

    Args:
        seat: the bracket on its wall [-].
        readings: the readings of the survey [-].

    Returns:
        The distance without sign; None when the sheet or the survey does not tell [nm].
    """
    if seat.bracket.setback is None:
        return None
    centre = readings.near("backing_centre", seat.side, seat.spot.height)
    if not isinstance(centre, Measured):
        return None
    setback = seat.bracket.setback.nm
    near, far = sorted(abs(nm - setback) for nm in (centre.low_nm, centre.high_nm))
    return Measured(near, far, centre.u_mm, centre.readings)
