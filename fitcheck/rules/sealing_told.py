"""How many cartridges does the sheet's sealant take, and how long may nothing wet touch it?"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any

from fitcheck.rules.cure import Conditions, Window, longest_window, product_hours
from fitcheck.rules.joints import cartridges, fillet_volume_um3, volume_parse
from fitcheck.rules.sealing import millilitre_text
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sources import Source
from fitcheck.rules.tables_sealing import CARTRIDGE, WASTE_PERCENT
from fitcheck.rules.verdict import Bead

NO_LENGTH = "Known once the width at the sill is read."
NOT_SAID = "Ask the maker of the sealant: its data sheet does not speak of this depth in this air."
SHOWER = "No shower earlier than {hours} h after the last bead; the moment is told at the install."


@dataclass(frozen=True, slots=True)
class SealingTold:
    """Sealant for all runs together, and the window in which it cures."""

    volume_um3: int | None
    cartridge_um3: int
    waste: Decimal
    count: int | None
    product: str | None
    air: Conditions | None
    window: Window | None
    do: str

    def as_json(self) -> dict[str, object]:
        """Return the sealing as plain JSON."""
        air = self.air
        return {
            "volume": None if self.volume_um3 is None else millilitre_text(self.volume_um3),
            "cartridge": millilitre_text(self.cartridge_um3),
            "waste_percent": f"{self.waste.normalize():f}",
            "cartridges": self.count,
            "product": self.product,
            "air": {"celsius": f"{air.celsius:f}", "humidity": f"{air.humidity:f}"}
            if air
            else None,
            "cure": self.window.as_json() if self.window else None,
            "do": self.do,
        }


def sealing_told(sheet: Sheet, beads: tuple[Bead, ...]) -> SealingTold | None:
    """Count cartridges over all runs, and take the longer of the sheet's and the product's cure.

    Source: `cartridges`, `product_hours`; the sheet's own hours where no product is named.

    Args:
        sheet: the rule sheet [-].
        beads: the runs with their length [-].

    Returns:
        The sealing, None when the sheet has no run of sealant [-].
    """
    if not beads:
        return None
    product = sheet.sealant_product
    cartridge = product.cartridge_um3 if product else volume_parse(CARTRIDGE.value)
    waste = product.waste_percent if product else Decimal(WASTE_PERCENT.value)
    volume = _volume(sheet, beads)
    window, spoken = _window(sheet)
    do = NOT_SAID if not spoken or window is None else _shower(window)
    if volume is None:
        do = f"{NO_LENGTH} {do}"
    return SealingTold(
        volume,
        cartridge,
        waste,
        None if volume is None else cartridges(volume, cartridge, waste),
        f"{product.title}, {product.edition}" if product else None,
        Conditions(product.celsius, product.humidity) if product else None,
        window if spoken else None,
        do,
    )


def hours_told(verdict: Mapping[str, Any]) -> str | None:
    """Return how long a verdict as plain JSON keeps water off: the longer of sheet and product.

    Source: the verdict's own; the first rules told the sheet's hours alone.

    Args:
        verdict: the verdict as plain JSON [-].

    Returns:
        The hours, None where nobody said, or the product does not speak of its depth and air [h].
    """
    sealing = verdict.get("sealing")
    if not sealing:
        hours = verdict.get("cure_hours")
        return None if hours is None else str(hours)
    window = sealing["cure"]
    return str(window["hours"]) if window else None


def _volume(sheet: Sheet, beads: tuple[Bead, ...]) -> int | None:
    total = 0
    for rule, bead in zip(sheet.sealant, beads, strict=True):
        if bead.length is None:
            return None
        total += fillet_volume_um3(rule.bead.nm, rule.bead.nm, bead.length.high_nm)
    return total


@lru_cache(maxsize=256)
def _window(sheet: Sheet) -> tuple[Window | None, bool]:
    """Return the longest window, and whether the product speaks of the deepest bead at all."""
    windows = []
    if sheet.cure:
        hours = Decimal(sheet.cure.amount)
        windows.append(Window(hours, "kit sheet", sheet.source(sheet.cure.page)))
    product = sheet.sealant_product
    if product is None:
        return longest_window(windows), True
    deepest = max(rule.bead.nm for rule in sheet.sealant)
    told = product_hours(product.rows, deepest, Conditions(product.celsius, product.humidity))
    if told is None:
        return longest_window(windows), False
    source = Source(product.title, product.edition, "kit sheet", page=product.page)
    windows.append(Window(told, "product data sheet", source))
    return longest_window(windows), True


def _shower(window: Window) -> str:
    return SHOWER.format(hours=f"{window.hours.normalize():f}")
