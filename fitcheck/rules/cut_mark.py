"""What is said of a part whose saw mark the survey foretells?"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fitcheck.rules.finding import Measured, hundredths_text, uncertainty_text
from fitcheck.rules.length import Length, inch_text, mm_text
from fitcheck.rules.saw_told import DOWN


@dataclass(frozen=True, slots=True)
class CutForetold:
    """One part: the mark that the survey foretells, how it is sawn, and what must agree with it."""

    part: str
    height: str
    distance: Measured | None
    mark_nm: int | None
    saw: str | None
    end: str
    kerf_nm: int
    kerf_said: bool
    brackets_take: Length | None
    agree_within_nm: int | None
    do: str
    mark: int
    metric: bool

    def as_json(self) -> dict[str, object]:
        """Return the part as plain JSON; the mark rounds down, never long."""
        text = None
        if self.mark_nm is not None:
            nm = self.mark_nm
            text = mm_text(nm) if self.metric else inch_text(nm, self.mark, DOWN)
        return {
            "part": self.part,
            "height": self.height,
            "distance": self.distance.as_json(DOWN, self.mark) if self.distance else None,
            "uncertainty": uncertainty_text(self.distance.u_mm) if self.distance else None,
            "mark": text,
            "released": False,
            "rounded": "down: a cut is never rounded long",
            "end": self.end,
            "saw": self.saw,
            "kerf": mm_text(self.kerf_nm),
            "kerf_from": "kit sheet" if self.kerf_said else "common practice, no source",
            "brackets_take": self.brackets_take.entered if self.brackets_take else None,
            "agree_within": None
            if self.agree_within_nm is None
            else hundredths_text(self.agree_within_nm),
            "do": self.do,
        }

    def held(self, doubted: Mapping[str, str]) -> "CutForetold":
        """Return the part without a mark when it rests on a reading in doubt."""
        ids = self.distance.readings if self.distance else ()
        first = next((one for one in ids if one in doubted), None)
        if first is None:
            return self
        return replace(self, mark_nm=None, saw=None, agree_within_nm=None, do=doubted[first])
