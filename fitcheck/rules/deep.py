"""What does a verdict say besides the first rules: shape, loads, saw marks, panes, sealing, chance?"""

from dataclasses import dataclass

from fitcheck.rules.chance_bounds import ChanceBounds
from fitcheck.rules.cut_mark import CutForetold
from fitcheck.rules.hung_rail import HungRail
from fitcheck.rules.pane_told import PaneTold
from fitcheck.rules.sealing_told import SealingTold
from fitcheck.rules.shape_state import ShapeTold
from fitcheck.rules.verdict import Members


@dataclass(frozen=True, slots=True)
class Deep:
    """The members that version 2 adds to a verdict; what a sheet leaves out is null or says why."""

    shape: ShapeTold
    chance: ChanceBounds
    saw: tuple[CutForetold, ...]
    rail: HungRail | None
    loads: tuple[Members, ...]
    panes: tuple[PaneTold, ...]
    sealing: SealingTold | None

    def as_json(self) -> dict[str, object]:
        """Return the members as plain JSON."""
        return {
            **self.shape.as_json(),
            "chance": self.chance.as_json(),
            "saw": [each.as_json() for each in self.saw],
            "rail": self.rail.as_json() if self.rail else None,
            "loads": [each.as_json() for each in self.loads],
            "panes": [each.as_json() for each in self.panes],
            "sealing": self.sealing.as_json() if self.sealing else None,
        }
