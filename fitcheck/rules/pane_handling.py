"""What does a pane do to its hinges, and may its crew lift it?"""

from functools import lru_cache

from fitcheck.rules.carrying import LiftScreen
from fitcheck.rules.compare import Asked, spoken
from fitcheck.rules.finding import Finding
from fitcheck.rules.force import force_json, spoken_finding, weight_lbf
from fitcheck.rules.glass_demand import hinge_share
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.lifting import Hold, LiftTask, lift_limits
from fitcheck.rules.panels import panel_rules
from fitcheck.rules.sheet import PanelRule, Sheet, Size
from fitcheck.rules.sheet_more import HingeRule
from fitcheck.rules.sources import Source
from fitcheck.rules.survey import House
from fitcheck.rules.tables_carrying import USUAL_LIFT

NEARER = "Are the hinges nearer to each other than the panel is high?"
ASK = "Ask the maker where the hinges go: so far apart they are not on the panel."


def pane_hinges(rule: PanelRule, mass_ug: int, hinge: HingeRule | None) -> dict[str, object] | None:
    """Return what a hinged pane does to its hinges; None when it hangs on none.

    Source: equilibrium, as in `hinge_share`.

    Args:
        rule: the pane [-].
        mass_ug: its mass with hardware [ug].
        hinge: where its hinges are [-].

    Returns:
        Pull, push and weight as plain JSON [-].
    """
    if hinge is None:
        return None
    width, offset, centres = (
        nm / NM_PER_INCH for nm in (rule.width.nm, hinge.offset.nm, hinge.centres.nm)
    )
    couple, shared, alone = hinge_share(weight_lbf(mass_ug), width, offset, centres)
    return {
        "top_pulls": force_json(couple, "up"),
        "bottom_pushes": force_json(couple, "up"),
        "down_if_two_share": force_json(shared, "up"),
        "down_if_one_carries_all": force_json(alone, "up"),
    }


def hinge_findings(sheet: Sheet, size: Size | None, house: House) -> list[Finding]:
    """Check that hinges are nearer to each other than the panel that hangs on them is high.

    Source: plane geometry, and the kit's own sheet. The rules before version 5 did not ask.

    Args:
        sheet: the rule sheet [-].
        size: the size, if one is chosen [-].
        house: the firm's settings [-].

    Returns:
        A failing finding for each panel whose hinges do not go on it [-].
    """
    if house.rules < 5:
        return []
    heights = {rule.name: rule.height.nm for rule in panel_rules(sheet, size)}
    hinged = [
        (one.bracket.hinge, one.page) for one in sheet.fixings if one.bracket and one.bracket.hinge
    ]
    return [
        _too_far_apart(hinge, heights[hinge.panel], sheet.source(page), house)
        for hinge, page in hinged
        if heights.get(hinge.panel, hinge.centres.nm + 1) <= hinge.centres.nm
    ]


def _too_far_apart(hinge: HingeRule, high_nm: int, source: Source, house: House) -> Finding:
    asked = Asked("hinge.centres", NEARER, f"{hinge.panel}, hinges", source, ASK)
    apart, high = (spoken(nm, house.mark) for nm in (hinge.centres.nm, high_nm))
    return spoken_finding(asked, apart, f"less than {high}", "fails", ASK)


@lru_cache(maxsize=512)
def pane_lift(
    mass_ug: int, hands: int, convention: str, *, stretched: bool = False
) -> dict[str, object]:
    """Screen the usual lift of a panel: from its rest to the rail, close to the body, not twisted.

    Source: DHHS (NIOSH) 94-110 as in `lift_limits`; where the hands are is a house setting.

    Args:
        mass_ug: mass of the pane with its hardware [ug].
        hands: how many lift it [-].
        convention: how a team's capability is reckoned [-].
        stretched: as `team_capability_kg` takes it [-].

    Returns:
        The screen as plain JSON [-].
    """
    lift = USUAL_LIFT.value
    origin = Hold(lift["horizontal"], lift["from"])
    destination = Hold(lift["horizontal"], lift["to"])
    task = LiftTask(origin, destination, lift["per_minute"], lift["hours"], "fair", control=True)
    limits = lift_limits(task)
    said = LiftScreen(limits, hands, convention, mass_ug, (), stretched=stretched).as_json()
    names = ("people", "team_may_lift", "index", "people_enough", "state", "do", "method")
    hands_at = f"hands {lift['horizontal']:g} cm out, from {lift['from']:g} to {lift['to']:g} cm up"
    return {name: said[name] for name in names} | {"posture": hands_at}
