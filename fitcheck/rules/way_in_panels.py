"""Which of a verdict's panels get in by a site's way, and which place is the tightest of each?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fitcheck.rules.finding import State, worst
from fitcheck.rules.length import NM_PER_MM, LengthError, computed, length_parse, mm_text
from fitcheck.rules.tables_carrying import PACKING_EACH_SIDE, ROOM_FOR_HANDS
from fitcheck.rules.way_in import Passage, Place, Slab, passages, tightest
from fitcheck.rules.way_in_told import Way


@dataclass(frozen=True, slots=True)
class PanelWay:
    """How one panel gets in: each place that is told whole, and whether anything is to be asked."""

    name: str
    size: str
    found: tuple[Passage, ...]
    is_asked: bool
    is_unsized: bool = False

    @property
    def tightest(self) -> Passage | None:
        """Return the tightest place that is known, None where there is none [-]."""
        return tightest(self.found)

    @property
    def state(self) -> State:
        """Return the worst state; a way told whole without a place to pass fits [-]."""
        states = [each.state for each in self.found]
        states += ["unknown"] if self.is_asked else [] if states else ["fits"]
        return worst(states)

    def as_json(self) -> dict[str, object]:
        """Return the panel's way as plain JSON."""
        narrow = self.tightest
        return {
            "name": self.name,
            "size": self.size,
            "state": self.state,
            "tightest": narrow.as_json() if narrow else None,
            "says": self.says,
        }

    @property
    def says(self) -> str:
        """Return in a sentence how the panel gets in, or why not."""
        narrow = self.tightest
        packing = mm_text(PACKING_EACH_SIDE.value)
        what = (
            f"Panel {self.name} ({self.size}, with {packing} of packing all round, a house setting)"
        )
        if self.is_unsized:
            return f"The size of panel {self.name} is not known."
        if narrow is None:
            return f"{what}: not known." if self.state == "unknown" else f"{what}: straight in."
        where = f"the tightest place{' known' * self.is_asked} is {narrow.name}"
        if narrow.state == "fails":
            short = _inch(-narrow.margin_nm, "up", narrow.mark)
            return f"{what} does not get in: {where}, short by {short} in every pose tried."
        spare = _inch(narrow.margin_nm, "down", narrow.mark)
        rest = "; the rest is still to be measured" * self.is_asked
        return f"{what}: {where}, {spare} to spare, carried {narrow.pose}{rest}."


def panels_in(
    panels: Iterable[Mapping[str, object]], way: Way, mark: int = 16
) -> tuple[PanelWay, ...]:
    """Return how each panel of a verdict gets in, packed all round.

    Source: `passages`; packing and room for hands are house settings.

    Args:
        panels: with name, width, height and thickness as lengths [-].
        way: the site's way in [-].
        mark: parts of an inch that inches are printed to [-].

    Returns:
        One answer per panel; a panel without its sizes is unknown [-].
    """
    places = tuple(told.place() for told in way.places if not told.missing)
    seen: dict[Slab, tuple[Passage, ...]] = {}
    return tuple(_panel_in(panel, places, way, mark, seen) for panel in panels)


def packed(panel: Mapping[str, object]) -> Slab | None:
    """Return a panel as it is carried, packed all round; None without its sizes [mm].

    Args:
        panel: width, height and thickness as lengths [-].

    Returns:
        The panel with its packing [mm].
    """
    try:
        width, height, thick = (
            length_parse(panel.get(n)).nm for n in ("width", "height", "thickness")
        )
    except LengthError:
        return None
    more = 2 * PACKING_EACH_SIDE.value
    return Slab(*((size + more) / NM_PER_MM for size in (width, height, thick)))


def _panel_in(
    panel: Mapping[str, object],
    places: tuple[Place, ...],
    way: Way,
    mark: int,
    seen: dict[Slab, tuple[Passage, ...]],
) -> PanelWay:
    slab = packed(panel)
    if slab is not None and slab not in seen:  # both panels of a slider may be alike
        seen[slab] = passages(slab, places, ROOM_FOR_HANDS.value, mark)
    size = " × ".join(str(panel[n]) for n in ("width", "height") if panel.get(n))
    found = seen[slab] if slab else ()
    asked = bool(way.asks) or slab is None
    return PanelWay(str(panel.get("name") or ""), size, found, asked, slab is None)


def _inch(nm: int, way: str, mark: int) -> str:
    told = computed(nm, "up" if way == "up" else "down", mark)
    return f"{told['inch']} ({told['mm']})"
