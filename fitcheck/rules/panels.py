"""Which panels belong to this size, what do they weigh and on which side are their handles?"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from fitcheck.rules.glass import glass_mass_ug, thickness_for_mass
from fitcheck.rules.handling import hands_for
from fitcheck.rules.quantity import kg_text
from fitcheck.rules.sheet import PanelRule, Sheet, Size, applies
from fitcheck.rules.survey import House, Opening
from fitcheck.rules.tables import LEAST_HANDS
from fitcheck.rules.verdict import Panel, Question

SHOWER_HEAD_SIDE = "shower-head side"


@dataclass(frozen=True, slots=True)
class PanelAnswer:
    """The panels, the hands they take, and what must be asked about them."""

    panels: tuple[Panel, ...]
    hands: int
    questions: tuple[Question, ...]


def panels(sheet: Sheet, size: Size | None, opening: Opening, house: House) -> PanelAnswer:
    """Work out mass, hands and handing of every panel, in the order of hanging.

    Without a size every panel of the sheet counts, so that no crew is sent too small.

    Source: the kit's own sheet; EN 572-1 for the mass; the lifting convention of the firm.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].
        opening: the opening, for the shower-head side [-].
        house: the firm's settings [-].

    Returns:
        The panels with the hands needed for the heaviest [-].
    """
    return _panels(sheet, size, opening.shower_head_side, house)


@lru_cache(maxsize=256)
def _panels(sheet: Sheet, size: Size | None, side: str, house: House) -> PanelAnswer:
    """Answer once for a size; nothing but the shower-head side comes from the opening."""
    rules = panel_rules(sheet, size)
    glass = {
        rule: glass_mass_ug(rule.width.nm, rule.height.nm, thickness_for_mass(rule.thickness.nm))
        for rule in rules
    }
    return _weighed(sheet, glass, side, house)


def panels_weighed(
    sheet: Sheet, glass_ug: Mapping[PanelRule, int], opening: Opening, house: House
) -> PanelAnswer:
    """Work out hands and handing of panels whose glass is weighed already, in the order of hanging.

    Source: the kit's own sheet; the lifting convention of the firm.

    Args:
        sheet: the rule sheet [-].
        glass_ug: the mass of each panel's glass [ug].
        opening: the opening, for the shower-head side [-].
        house: the firm's settings [-].

    Returns:
        The panels with the hands needed for the heaviest [-].
    """
    rules = sorted(glass_ug, key=lambda rule: rule.order)
    return _weighed(sheet, {r: glass_ug[r] for r in rules}, opening.shower_head_side, house)


def _weighed(
    sheet: Sheet, glass_ug: Mapping[PanelRule, int], side: str, house: House
) -> PanelAnswer:
    questions: list[Question] = []
    rows = tuple(_panel(r, glass, sheet, side, house, questions) for r, glass in glass_ug.items())
    sheet_hands = sheet.hands.amount if sheet.hands else LEAST_HANDS.value
    hands = max([LEAST_HANDS.value, sheet_hands, *(row.hands for row in rows)])
    return PanelAnswer(rows, hands, tuple(dict.fromkeys(questions)))


def panel_rules(sheet: Sheet, size: Size | None) -> list[PanelRule]:
    """Return the panels of a size in the order of hanging; every panel when no size is known.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].

    Returns:
        The panels; one name may stand for a panel of every size [-].
    """
    return sorted((r for r in sheet.panels if _belongs(r, size)), key=lambda rule: rule.order)


def _belongs(rule: PanelRule, size: Size | None) -> bool:
    if size is not None and size.panels:
        return rule.name in size.panels
    return applies(rule.sizes, size)


def _panel(
    rule: PanelRule,
    glass: int,
    sheet: Sheet,
    side: str,
    house: House,
    questions: list[Question],
) -> Panel:
    mass = glass + rule.hardware_ug
    sheet_hands = sheet.hands.amount if sheet.hands else LEAST_HANDS.value
    hands, by_hand = hands_for(mass, sheet_hands, house.lift_convention, stretched=house.rules < 5)
    if not by_hand:
        text = f"{kg_text(mass)} is more than a team may lift: which lifting aid will be there?"
        questions.append(Question(f"panel {rule.name}", text))
    return Panel(
        name=rule.name,
        width=rule.width.entered,
        height=rule.height.entered,
        thickness=rule.thickness.entered,
        mass_ug=mass,
        glass_ug=glass,
        order=rule.order,
        handing=_handing(rule, side, questions),
        hands=hands,
        source=sheet.source(rule.page),
    )


def _handing(rule: PanelRule, side: str, questions: list[Question]) -> str:
    if SHOWER_HEAD_SIDE not in rule.handing:
        return rule.handing
    if side == "unknown":
        text = "On which side is the shower head? The handle holes go on that side."
        questions.append(Question(f"panel {rule.name}", text))
        return f"{rule.handing} (side not known yet)"
    return f"{rule.handing}: {side}"
