"""Which safety category does a pane need, and which mark is looked for on it?"""

from dataclasses import dataclass, replace
from typing import Literal

from fitcheck.rules import RULES_VERSION
from fitcheck.rules.glass import TUB_AND_SHOWER, Category, safety_category
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.tables_pane import (
    DROP_BAG,
    DROP_CLASS_OF_CATEGORY,
    DROP_EN12600,
    DROP_HEIGHTS,
    EN12150_FRAGMENTS,
    GLASS_STRENGTH,
    HAZARD_AWAY,
    HAZARD_EDGE,
    MARK_SMALL_PANE,
    TEMPERED_COMPRESSION,
)

Jurisdiction = Literal["us", "other"]
JURISDICTIONS: tuple[Jurisdiction, ...] = ("us", "other")
Kind = Literal["tempered", "heat_strengthened", "neither"]
NO_MARK = "No mark, or a mark that comes off: refuse the pane."
_NM2_PER_SQ_FT = (12 * NM_PER_INCH) ** 2


@dataclass(frozen=True, slots=True)
class SafetyMark:
    """The category of a pane, and what its permanent mark must say."""

    category: Category | None
    drop_class: str | None
    look_for: str
    refuse: str


def safety_mark(
    product: str,
    area_nm2: int,
    edition: str,
    rules: int = int(RULES_VERSION),
    jurisdiction: Jurisdiction = "us",
) -> SafetyMark:
    """Return the category of a pane and the mark to look for on it.

    In the United States, whose codes all rules here go by, a pane made by the European edition needs
    the American mark as well; before version 5 of the rules only its own was asked for.

    Source: 16 CFR 1201.2; IRC R308.1 and IBC 2406.2, 2406.3 as quoted: the Z97.1 alternative is
    not open to doors and enclosures of tubs and showers. EN 12150-1 for the European mark.

    Args:
        product: what the pane belongs to, such as "shower door" [-].
        area_nm2: area of one side [nm2].
        edition: "c1048" or "en12150" [-].
        rules: the version of the rules that answers [-].
        jurisdiction: "us", or "other" where 16 CFR 1201 is no law [-].

    Returns:
        Category, drop class, the mark in words, and what is refused; no category where another law
        holds [-].
    """
    european = "a permanent mark with the maker's name and EN 12150 on every pane"
    if jurisdiction == "other":
        text = european if edition == "en12150" else "the mark that local law asks of safety glass"
        return SafetyMark(None, None, text, f"{NO_MARK} Ask which law holds where the pane goes.")
    marked = _american(product, area_nm2)
    if edition == "en12150":
        if rules < 5:
            return replace(marked, look_for=european, refuse=NO_MARK)
        return replace(marked, look_for=f"{marked.look_for}; and besides {european}")
    return marked


def _american(product: str, area_nm2: int) -> SafetyMark:
    area_sq_ft = area_nm2 / _NM2_PER_SQ_FT
    category = safety_category(product, area_sq_ft)
    drop = DROP_CLASS_OF_CATEGORY.value[category]
    refuse = NO_MARK
    if area_sq_ft <= MARK_SMALL_PANE.value:
        text = f'"16 CFR 1201" with Category {category} on one pane at least, "16 CFR 1201" on all'
    else:
        text = (
            f'a mark that stays visible: who tempered it, "tempered", "16 CFR 1201 Category '
            f'{category}"; etched, sandblasted, fired, lasered or embossed'
        )
    if product in TUB_AND_SHOWER:
        refuse += " A mark of ANSI Z97.1 alone is not enough at a tub or shower."
    return SafetyMark(category, drop, text, refuse)


def glass_kind(compression_mpa: float) -> Kind:
    """Return what a surface compression makes of heat-treated glass; only tempered is safety glass.

    Source: ASTM C1048 as restated: tempered from 69 MPa, heat-strengthened 24 to 52 MPa.

    Args:
        compression_mpa: surface compression [MPa].

    Returns:
        "tempered", "heat_strengthened" or "neither" [-].
    """
    if compression_mpa >= TEMPERED_COMPRESSION.value["tempered"][0]:
        return "tempered"
    low, high = TEMPERED_COMPRESSION.value["heat_strengthened"]
    if high is not None and low <= compression_mpa <= high:
        return "heat_strengthened"
    return "neither"


def glass_strength_mpa(kind: str) -> int:
    """Return the characteristic bending strength of a kind of glass.

    Source: EN 572-1, EN 1863-1 and EN 12150-1 as two restatements agree.

    Args:
        kind: "annealed", "heat_strengthened", "tempered" and its patterned and enamelled forms [-].

    Returns:
        The strength [MPa].

    Raises:
        KeyError: the kind is not known.
    """
    return GLASS_STRENGTH.value[kind]


def hazardous_by_water(edge_above_floor_nm: int, away_nm: int) -> bool:
    """Return whether glass by a tub or shower is in a hazardous place.

    Source: IRC R308.4.5 as summarised: lower edge below 60 in, unless more than 60 in from water.

    Args:
        edge_above_floor_nm: lower exposed edge above the standing or walking surface [nm].
        away_nm: straight, level distance from the water's edge [nm].

    Returns:
        True when safety glass is asked for [-].
    """
    return edge_above_floor_nm < HAZARD_EDGE.value and away_nm <= HAZARD_AWAY.value


def drop_energy_ft_lb(drop_class: str) -> float:
    """Return the energy of the impact test of a class.

    Source: ANSI Z97.1-2015 as summarised: a bag of 100 lb from 48 in (A) or 18 in (B).

    Args:
        drop_class: "A" or "B" [-].

    Returns:
        The energy [ft lbf].
    """
    return DROP_BAG.value * DROP_HEIGHTS.value[drop_class] / (12 * NM_PER_INCH)


def drop_height_en12600_nm(impact_class: int) -> int:
    """Return the drop height of a class of the European pendulum test.

    Source: EN 12600 as summarised.

    Args:
        impact_class: 1, 2 or 3 [-].

    Returns:
        The height [nm].

    Raises:
        KeyError: no such class.
    """
    return DROP_EN12600.value[impact_class]


def dices_enough(fragments: int) -> bool:
    """Return whether a broken pane of 4 to 12 mm made enough pieces in 50 mm by 50 mm.

    Source: EN 12150-1 (from memory): 40 at least.

    Args:
        fragments: pieces counted [-].

    Returns:
        True when it is toughened enough [-].
    """
    return fragments >= EN12150_FRAGMENTS.value
