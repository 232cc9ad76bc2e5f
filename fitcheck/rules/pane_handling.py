"""What does a pane do to its hinges, and may its crew lift it?"""

from functools import lru_cache

from fitcheck.rules.carrying import LiftScreen
from fitcheck.rules.force import force_json, weight_lbf
from fitcheck.rules.glass_demand import hinge_share
from fitcheck.rules.length import NM_PER_INCH
from fitcheck.rules.lifting import Hold, LiftTask, lift_limits
from fitcheck.rules.sheet import PanelRule
from fitcheck.rules.sheet_more import HingeRule
from fitcheck.rules.tables_carrying import USUAL_LIFT


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


@lru_cache(maxsize=512)
def pane_lift(mass_ug: int, hands: int, convention: str) -> dict[str, object]:
    """Screen the usual lift of a panel: from its rest to the rail, close to the body, not twisted.

    Source: DHHS (NIOSH) 94-110 as in `lift_limits`; where the hands are is a house setting.

    Args:
        mass_ug: mass of the pane with its hardware [ug].
        hands: how many lift it [-].
        convention: how a team's capability is reckoned [-].

    Returns:
        The screen as plain JSON [-].
    """
    lift = USUAL_LIFT.value
    origin = Hold(lift["horizontal"], lift["from"])
    destination = Hold(lift["horizontal"], lift["to"])
    task = LiftTask(origin, destination, lift["per_minute"], lift["hours"], "fair", control=True)
    said = LiftScreen(lift_limits(task), hands, convention, mass_ug, ()).as_json()
    names = ("people", "team_may_lift", "index", "people_enough", "state", "do", "method")
    hands_at = f"hands {lift['horizontal']:g} cm out, from {lift['from']:g} to {lift['to']:g} cm up"
    return {name: said[name] for name in names} | {"posture": hands_at}
