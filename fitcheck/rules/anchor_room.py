"""Has an anchor the room in its wall that its evaluation report asks for?"""

from fitcheck.rules.compare import Asked, compared, spoken
from fitcheck.rules.finding import Finding, exactly
from fitcheck.rules.fixing_seat import Asking, Seat
from fitcheck.rules.force import spoken_finding
from fitcheck.rules.length import mm_text
from fitcheck.rules.masonry import face_shell_nm
from fitcheck.rules.sheet_more import AnchorRule
from fitcheck.rules.sources import Source
from fitcheck.rules.survey import House
from fitcheck.rules.tables_fixings import FACE_SHELL, HEAD_JOINT_CLEAR

MOVE = "Move the hole, or take an anchor whose report allows it here."


def anchor_room_findings(
    rule: AnchorRule, seat: Seat, asking: Asking, by: Source
) -> tuple[Finding, ...]:
    """Compare depth, edge, spacing, joint, face and stack with what the report asks for its loads.

    Source: the evaluation report; ASTM C90 (from memory) for the face of a hollow block; common
    practice for the joint when the report names no distance.

    Args:
        rule: the anchor as the sheet names it [-].
        seat: the bracket on its wall [-].
        asking: readings and settings [-].
        by: the report as a source [-].

    Returns:
        One finding each; distances that nobody read are not known, with what to read [-].
    """
    house = asking.house
    found = [
        _deep(rule, seat, house, by),
        _stack(rule, seat, house, by),
        _edge(rule, seat, asking, by),
    ]
    if seat.rule.count > 1:
        found.append(_apart(rule, seat, house, by))
    if rule.base == "block" and not rule.grouted:
        found += [_joint(rule, seat, asking, by), _face(rule, seat, house)]
    return tuple(found)


def embedded_nm(rule: AnchorRule, seat: Seat) -> int:
    """Return how deep the anchor goes into the masonry: its length less bracket and stack.

    Source: arithmetic.

    Args:
        rule: the anchor [-].
        seat: the bracket on its wall [-].

    Returns:
        The depth; negative when it does not reach it [nm].
    """
    return rule.length.nm - seat.bracket.thickness.nm - seat.stack_nm


def _deep(rule: AnchorRule, seat: Seat, house: House, by: Source) -> Finding:
    asked = Asked(
        "anchor.embedment",
        f"Is the anchor as deep in the masonry as its report asks, {rule.embedment}?",
        seat.where,
        by,
        "Take a longer anchor of the same report, or a thinner stack.",
    )
    deep = exactly(embedded_nm(rule, seat))
    return compared(asked, deep, house, least_nm=rule.embedment.nm)


def _stack(rule: AnchorRule, seat: Seat, house: House, by: Source) -> Finding:
    """Compare what lies between bracket and masonry; beyond the report's own case it says nothing."""
    asked = Asked(
        "anchor.stack",
        "Is the bracket as near to the masonry as in the anchor's report?",
        seat.where,
        by,
        "",
    )
    if seat.stack_nm <= rule.stack_most.nm:
        return compared(asked, exactly(seat.stack_nm), house, most_nm=rule.stack_most.nm)
    most = f"{rule.stack_most} in between"
    do = (
        f"The report allows its shear with up to {rule.stack_most} in between: take the finish away under "
        "the bracket, or an anchor whose report allows this stack."
    )
    return spoken_finding(asked, f"{mm_text(seat.stack_nm)} in between", most, "unknown", do)


def _edge(rule: AnchorRule, seat: Seat, asking: Asking, by: Source) -> Finding:
    asked = Asked("anchor.edge", "Is the anchor far enough from the edge?", seat.where, by, MOVE)
    read = asking.readings.near("masonry_edge", seat.side, seat.spot.height)
    return compared(asked, read, asking.house, least_nm=rule.edge.nm)


def _apart(rule: AnchorRule, seat: Seat, house: House, by: Source) -> Finding:
    remedy = "Take an anchor whose report allows this bracket's holes so close."
    asked = Asked(
        "anchor.spacing", "Is the anchor far enough from the next anchor?", seat.where, by, remedy
    )
    spacing = seat.bracket.spacing
    if spacing is not None:
        return compared(asked, exactly(spacing.nm), house, least_nm=rule.spacing.nm)
    least = spoken(rule.spacing.nm, house.mark, up=True)
    do = f"How far apart are the bracket's holes? The report asks {least}; have it added to the sheet."
    return spoken_finding(asked, None, least, "unknown", do)


def _joint(rule: AnchorRule, seat: Seat, asking: Asking, by: Source) -> Finding:
    source = by if rule.head_joint else HEAD_JOINT_CLEAR.source
    least_nm = rule.head_joint.nm if rule.head_joint else HEAD_JOINT_CLEAR.value
    asked = Asked(
        "anchor.head_joint", "Is the anchor clear of the upright joint?", seat.where, source, MOVE
    )
    read = asking.readings.near("head_joint", seat.side, seat.spot.height)
    return compared(asked, read, asking.house, least_nm=least_nm)


def _face(rule: AnchorRule, seat: Seat, house: House) -> Finding:
    asked = Asked(
        "anchor.face_shell",
        "Does the face of a hollow block hold the whole embedment?",
        seat.where,
        FACE_SHELL.source,
        "Use a grouted cell, a sleeve or screen, or a fixing right through: its report is needed.",
    )
    unit = seat.zone.unit
    if unit is None:
        do = "How thick is the block? Record it with the zone: a thin block has a thin face."
        return spoken_finding(asked, None, "a thickness of the block", "unknown", do)
    return compared(asked, exactly(rule.embedment.nm), house, most_nm=face_shell_nm(unit.nm))
