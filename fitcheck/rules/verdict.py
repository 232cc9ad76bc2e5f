"""What is the answer as a whole: state, findings, cuts, fixings, panels, sealant, cautions?"""

from dataclasses import dataclass
from operator import attrgetter
from typing import Protocol

from fitcheck.rules.finding import Finding, Measured, State, uncertainty_text
from fitcheck.rules.length import NM_PER_INCH, Length, computed
from fitcheck.rules.quantity import kg_text
from fitcheck.rules.sources import Source


def _length(nm: int | None, mark: int, *, up: bool = False) -> dict[str, str] | None:
    return None if nm is None else computed(nm, "up" if up else "down", mark)


@dataclass(frozen=True, slots=True)
class Missing:
    """A reading to take, and why."""

    quantity: str
    side: str
    height: str | None
    why: str
    rules: tuple[str, ...]

    def as_json(self) -> dict[str, object]:
        """Return the missing reading as plain JSON."""
        return {
            "quantity": self.quantity,
            "side": self.side,
            "height": self.height,
            "why": self.why,
            "rules": list(self.rules),
        }


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Two or more readings of one thing that cannot all be right."""

    quantity: str
    side: str
    height: str | None
    apart_nm: int
    agree_within_nm: int
    readings: tuple[str, ...]
    mark: int

    def as_json(self) -> dict[str, object]:
        """Return the disagreement as plain JSON."""
        return {
            "quantity": self.quantity,
            "side": self.side,
            "height": self.height,
            "apart": computed(self.apart_nm, "up", self.mark),
            "agree_within": computed(self.agree_within_nm, "down", self.mark),
            "readings": list(self.readings),
            "do": f"Read it again: {len(self.readings)} readings differ by "
            f"{computed(self.apart_nm, 'up', self.mark)['inch']}.{self._likely_mistake()}",
        }

    def _likely_mistake(self) -> str:
        """Name a burned inch: the tape started at its 1, and the inch was never taken off."""
        if abs(self.apart_nm - NM_PER_INCH) <= self.agree_within_nm:
            return " That is about one inch: was the tape started at the 1?"
        return ""


@dataclass(frozen=True, slots=True)
class Cut:
    """A part to be trimmed: predicted here, released only from the as-fixed reading on site."""

    part: str
    count: int
    measured: str
    height: str
    distance: Measured | None
    deduct: Length
    length: Measured | None
    allowance: Length | None
    stock: Length
    end: str
    status: str
    state: State
    source: Source
    mark: int

    def as_json(self) -> dict[str, object]:
        """Return the cut as plain JSON; its length never rounds long."""
        waste = None
        if self.length and self.length.high_nm <= self.stock.nm:
            left = (self.stock.nm - self.length.high_nm, self.stock.nm - self.length.low_nm)
            waste = Measured(*left, self.length.u_mm).as_json("down", self.mark)
        return {
            "part": self.part,
            "count": self.count,
            "from": self.measured,
            "height": self.height,
            "distance": self.distance.as_json("down", self.mark) if self.distance else None,
            "deduct": self.deduct.entered,
            "length": self.length.as_json("down", self.mark) if self.length else None,
            "uncertainty": uncertainty_text(self.length.u_mm) if self.length else None,
            "allowance": self.allowance.entered if self.allowance else None,
            "stock": self.stock.entered,
            "waste": waste,
            "end": self.end,
            "status": self.status,
            "state": self.state,
            "source": self.source.as_json(),
        }


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer between the room and the structure."""

    layer: str
    thickness: str | None

    def as_json(self) -> dict[str, object]:
        """Return the layer as plain JSON."""
        return {"layer": self.layer, "thickness": self.thickness}


@dataclass(frozen=True, slots=True)
class Hole:
    """A drilled diameter, what it goes through, and who says so."""

    text: str
    through: str
    source: Source

    def as_json(self) -> dict[str, object]:
        """Return the hole as plain JSON."""
        return {"text": self.text, "through": self.through, "source": self.source.as_json()}


@dataclass(frozen=True, slots=True)
class Fixing:
    """A row of the fastener schedule: holes of one kind at one place."""

    place: str
    surface: str
    height: str
    count: int
    zone: str | None
    build_up: tuple[Layer, ...]
    stack_nm: int | None
    bit: str | None
    speed: str | None
    cooling: str | None
    pilot: Hole | None
    final_hole: Hole | None
    depth_nm: int | None
    anchor: str | None
    screw_size: str | None
    screw_length: str | None
    reach_nm: int | None
    backing_hit: str
    seal: str
    cautions: tuple[str, ...]
    questions: tuple[str, ...]
    state: State
    source: Source
    mark: int

    def in_zone(self, zone: str) -> "Fixing":
        """Return the same row in the zone with this id; shorter in time than `replace`."""
        members = (*_before_zone(self), zone, *_after_zone(self))
        return Fixing(*members)

    def as_json(self) -> dict[str, object]:
        """Return the fixing as plain JSON."""
        screw = {"size": self.screw_size, "length": self.screw_length} if self.screw_size else None
        return {
            "place": self.place,
            "surface": self.surface,
            "height": self.height,
            "count": self.count,
            "zone": self.zone,
            "build_up": [layer.as_json() for layer in self.build_up],
            "stack": _length(self.stack_nm, self.mark, up=True),
            "bit": self.bit,
            "speed": self.speed,
            "cooling": self.cooling,
            "pilot": self.pilot.as_json() if self.pilot else None,
            "final_hole": self.final_hole.as_json() if self.final_hole else None,
            "depth": _length(self.depth_nm, self.mark, up=True),
            "anchor": self.anchor,
            "screw": screw,
            "reach": _length(self.reach_nm, self.mark, up=True),
            "backing_hit": self.backing_hit,
            "seal": self.seal,
            "cautions": list(self.cautions),
            "questions": list(self.questions),
            "state": self.state,
            "source": self.source.as_json(),
        }


_MEMBERS = tuple(Fixing.__slots__)
_before_zone = attrgetter(*_MEMBERS[: _MEMBERS.index("zone")])
_after_zone = attrgetter(*_MEMBERS[_MEMBERS.index("zone") + 1 :])


@dataclass(frozen=True, slots=True)
class Panel:
    """One pane with its mass and the hands it takes."""

    name: str
    width: str
    height: str
    thickness: str
    mass_ug: int
    glass_ug: int
    order: int
    handing: str
    hands: int
    source: Source

    def as_json(self) -> dict[str, object]:
        """Return the panel as plain JSON."""
        return {
            "name": self.name,
            "width": self.width,
            "height": self.height,
            "thickness": self.thickness,
            "mass": kg_text(self.mass_ug),
            "glass_mass": kg_text(self.glass_ug),
            "order": self.order,
            "handing": self.handing,
            "hands": self.hands,
            "source": self.source.as_json(),
        }


@dataclass(frozen=True, slots=True)
class Bead:
    """A run of sealant with its length and the sealant it takes."""

    run: str
    length: Measured | None
    bead: str
    volume_text: str | None
    side: str
    source: Source
    mark: int

    def as_json(self) -> dict[str, object]:
        """Return the bead as plain JSON."""
        return {
            "run": self.run,
            "length": self.length.as_json("up", self.mark) if self.length else None,
            "bead": self.bead,
            "volume_ml": self.volume_text,
            "side": self.side,
            "source": self.source.as_json(),
        }


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning that belongs on every output where it matters."""

    code: str
    where: str
    text: str

    def as_json(self) -> dict[str, object]:
        """Return the caution as plain JSON."""
        return {"code": self.code, "where": self.where, "text": self.text}


@dataclass(frozen=True, slots=True)
class Question:
    """Something a person must find out; never guessed."""

    about: str
    text: str

    def as_json(self) -> dict[str, object]:
        """Return the question as plain JSON."""
        return {"about": self.about, "text": self.text}


class Members(Protocol):
    """What a later version of the rules adds to a verdict."""

    def as_json(self) -> dict[str, object]:
        """Return the members as plain JSON."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """All findings for one survey and one kit, with everything the crew and the yard need."""

    rules_version: str
    inputs_digest: str
    state: State
    size: str | None
    summary: str
    findings: tuple[Finding, ...]
    missing: tuple[Missing, ...]
    disagreements: tuple[Disagreement, ...]
    cuts: tuple[Cut, ...]
    fixings: tuple[Fixing, ...]
    panels: tuple[Panel, ...]
    hands_needed: int
    sealant: tuple[Bead, ...]
    cure_hours: int | None
    cautions: tuple[Caution, ...]
    questions: tuple[Question, ...]
    deep: Members | None = None

    def as_json(self) -> dict[str, object]:
        """Return the verdict as plain JSON, ready to be stored, digested and replayed."""
        return {
            "rules_version": self.rules_version,
            "inputs_digest": self.inputs_digest,
            "state": self.state,
            "size": self.size,
            "summary": self.summary,
            "findings": [each.as_json() for each in self.findings],
            "missing": [each.as_json() for each in self.missing],
            "disagreements": [each.as_json() for each in self.disagreements],
            "cuts": [each.as_json() for each in self.cuts],
            "fixings": [each.as_json() for each in self.fixings],
            "panels": [each.as_json() for each in self.panels],
            "hands_needed": self.hands_needed,
            "sealant": [each.as_json() for each in self.sealant],
            "cure_hours": self.cure_hours,
            "cautions": [each.as_json() for each in self.cautions],
            "questions": [each.as_json() for each in self.questions],
            **(self.deep.as_json() if self.deep else {}),
        }
