"""Does an anchor in block, brick or concrete have room, and what does its own report allow?"""

from fitcheck.rules.compare import Asked, advised, compared
from fitcheck.rules.demand import Case
from fitcheck.rules.finding import Finding, Measured, State, exactly
from fitcheck.rules.force import share_text, spoken_finding
from fitcheck.rules.length import Length, computed, mm_text
from fitcheck.rules.masonry import (
    Anchor,
    Report,
    anchor_room,
    bit_depth_nm,
    head_joint_nm,
    hole_depth_nm,
    hollow_face_nm,
    report_used,
)
from fitcheck.rules.sources import Source
from fitcheck.rules.sources_structure import structure_source
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import force_of
from fitcheck.rules.survey import House
from fitcheck.rules.tables_fixings import ANCHOR_THUMB, FACE_SHELL, HEAD_JOINT_CLEAR, TIGHT_FROM

ANCHOR = (
    "kind",
    "anchor",
    "embedment",
    "edge",
    "spacing",
    "head_joint",
    "unit",
    "grouted",
    "report",
)
_REPORT = ("number", "tension", "shear", "edge", "spacing", "embedment", "stack_most")
GROUTED = ("yes", "no", "unknown")


def anchor_read(own: Strict, stack_nm: int) -> Anchor:
    """Read an anchor in masonry; mistakes are noted on `own`.

    Args:
        own: the opened base [-].
        stack_nm: finish and mortar over the masonry [nm].

    Returns:
        The anchor [-].
    """
    unit = own.length_or_none("unit")
    if unit and unit.nm < min(FACE_SHELL.value):
        own.refuse("unit", "length_out_of_range", "No block is made this thin.")
    return Anchor(
        own.choice("kind", ("block", "brick", "concrete")),
        own.length("anchor").nm,
        own.length("embedment").nm,
        stack_nm,
        _nm(own.length_or_none("edge")),
        _nm(own.length_or_none("spacing")),
        _nm(own.length_or_none("head_joint", zero=True)),
        _nm(unit),
        own.choice("grouted", GROUTED, "unknown"),
        own.optional("report", _REPORT, _report),
    )


def masonry_findings(
    place: str, anchor: Anchor, cases: tuple[Case, ...], house: House
) -> tuple[tuple[Finding, ...], dict[str, object] | None, dict[str, object]]:
    """Screen an anchor's room, and compare its loads with its report; nothing is computed for it.

    Source: the evaluation report; ASTM C90 (from memory) for the face of a hollow block.

    Args:
        place: the fixing [-].
        anchor: the anchor [-].
        cases: what the worst anchor gets [-].
        house: the firm's settings [-].

    Returns:
        The findings, hole and bit depth, and whose distances were used [-].
    """
    findings = [*_room(place, anchor, house), *_shell(place, anchor, house)]
    report = anchor.report
    findings += _of_report(place, anchor, report, house) if report else []
    far = report is not None and anchor.stack_nm > report.stack_most_nm
    loads = [_report_finding(place, report, case) for case in cases]
    findings += [one for one in loads if not far or one.state == "fails"]
    depths: dict[str, object] = {
        "hole_depth": computed(hole_depth_nm(anchor.embedment_nm), "up", house.mark),
        "bit_depth": computed(bit_depth_nm(anchor.stack_nm, anchor.embedment_nm), "up", house.mark),
        "load": "from the anchor's evaluation report only",
    }
    whose = anchor.report.number if anchor.report else "rule of thumb, a screen only"
    return tuple(findings), depths, {"distances": whose}


def _nm(length: Length | None) -> int | None:
    return length.nm if length else None


def _report(own: Strict) -> Report:
    return Report(
        own.text("number"),
        force_of(own, "tension"),
        force_of(own, "shear"),
        own.length("edge").nm,
        own.length("spacing").nm,
        _nm(own.length_or_none("embedment")),
        _nm(own.length_or_none("stack_most", zero=True)) or 0,
    )


def _room(place: str, anchor: Anchor, house: House) -> list[Finding]:
    room = anchor_room(anchor)
    behind = _report_source(anchor.report) if anchor.report else ANCHOR_THUMB.source
    asked = [
        ("edge", "far enough from the edge", anchor.edge_nm, room.edge_nm, behind),
        ("spacing", "far enough from the next anchor", anchor.spacing_nm, room.spacing_nm, behind),
    ]
    if anchor.base == "block":
        joint = (
            "head_joint",
            "clear of the upright joint",
            anchor.head_joint_nm,
            head_joint_nm(),
            HEAD_JOINT_CLEAR.source,
        )
        asked.append(joint)
    return [_distance(place, house, *each) for each in asked]


def _distance(
    place: str, house: House, rule: str, words: str, value: int | None, least: int, behind: Source
) -> Finding:
    asked = Asked(f"anchor.{rule}", f"Is the anchor {words}?", place, behind, "Move the anchor.")
    if value is None:
        limit = computed(least, "up", house.mark)["inch"]
        do = f"Measure it: the anchor stays {limit} away."
        return spoken_finding(asked, None, limit, "unknown", do)
    return compared(asked, Measured(value, value, 0.0), house, least_nm=least)


def _shell(place: str, anchor: Anchor, house: House) -> list[Finding]:
    face = hollow_face_nm(anchor)
    if face is None:
        return []
    asked = Asked(
        "anchor.face_shell",
        "Does the face of a hollow block hold the whole embedment?",
        place,
        FACE_SHELL.source,
        "Use a grouted cell, a sleeve or screen, or a fixing right through: its report is needed.",
    )
    value = Measured(anchor.embedment_nm, anchor.embedment_nm, 0.0)
    return [compared(asked, value, house, most_nm=face)]


def _of_report(place: str, anchor: Anchor, report: Report, house: House) -> list[Finding]:
    """Compare depth and stack with those that the report's loads are allowed for."""
    by = _report_source(report)
    deep = Asked(
        "anchor.embedment",
        "Is the anchor as deep in the masonry as its report asks?",
        place,
        by,
        "Take a longer anchor of the same report, or a thinner stack.",
    )
    if report.embedment_nm is None:
        do = "Which embedment does the report ask for these loads? Add it to the report."
        found = spoken_finding(deep, None, "the report's embedment", "unknown", do)
    else:
        found = compared(deep, exactly(anchor.embedment_nm), house, least_nm=report.embedment_nm)
    return [found, _stack(place, anchor, report, house)]


def _stack(place: str, anchor: Anchor, report: Report, house: House) -> Finding:
    asked = Asked(
        "anchor.stack",
        "Is the bracket as near to the masonry as in the anchor's report?",
        place,
        _report_source(report),
        "",
    )
    if anchor.stack_nm <= report.stack_most_nm:
        return advised(asked, anchor.stack_nm, house, most_nm=report.stack_most_nm)
    do = (
        "Take the finish away under the bracket, or an anchor whose report allows this stack: the report "
        "says nothing of its loads through so much."
    )
    most = f"{mm_text(report.stack_most_nm)} in between"
    return spoken_finding(asked, f"{mm_text(anchor.stack_nm)} in between", most, "unknown", do)


def _report_finding(place: str, report: Report | None, case: Case) -> Finding:
    asked = Asked(
        "anchor.report",
        "Does the anchor's own evaluation report allow this load?",
        f"{place}, {case.name}",
        _report_source(report),
        "",
    )
    if report is None:
        do = "Get the anchor's evaluation report for this base: no load is worked out without it."
        return spoken_finding(asked, None, "a report", "unknown", do)
    used = report_used(report, case.pull_lbf, case.shear_lbf)
    state: State = "fails" if used > 1 else "tight" if used > TIGHT_FROM.value else "fits"
    do = f"Nothing to do: {share_text(used)} of it is used."
    if state != "fits":
        do = "Use more or larger anchors, each by its own report."
    return spoken_finding(asked, share_text(used), "1.00", state, do)


def _report_source(report: Report | None) -> Source:
    clause = report.number if report else "none given"
    return structure_source("report", "kit sheet", clause)
