"""Does the anchor that the sheet names hold a bracket in block, brick or concrete, by its own report?"""

from dataclasses import dataclass, replace

from fitcheck.rules import tables
from fitcheck.rules.anchor_room import anchor_room_findings, embedded_nm
from fitcheck.rules.anchor_together import anchor_used
from fitcheck.rules.compare import Asked, words
from fitcheck.rules.demand import Case
from fitcheck.rules.drilling import bit_for
from fitcheck.rules.finding import WORST_FIRST, Finding, State, worst
from fitcheck.rules.fixing_held import FixingHeld, settled
from fitcheck.rules.fixing_seat import BY_REPORT, Asking, FixingLoad, Seat
from fitcheck.rules.force import force_json, share_text, spoken_finding
from fitcheck.rules.holes import FixingAnswer
from fitcheck.rules.length import inch_text, mm_text
from fitcheck.rules.masonry import bit_depth_nm
from fitcheck.rules.plan import BIT_MARK
from fitcheck.rules.sheet_more import WALLS, AnchorRule
from fitcheck.rules.sources import Source
from fitcheck.rules.sources_structure import structure_source
from fitcheck.rules.stack import NO_LAYER
from fitcheck.rules.survey import House, Zone
from fitcheck.rules.tables_fixings import TIGHT_FROM
from fitcheck.rules.verdict import Fixing, Hole

CELLS = (
    "Are the cells of the block grouted where the anchors go? Sound the wall or drill one pilot, and "
    "record it with the zone: what an anchor holds differs."
)
ROTARY = (
    "Rotary only in block and brick, no hammer, unless the anchor's report says so (from memory)."
)


@dataclass(frozen=True, slots=True)
class _Judged:
    """One anchor on one seat: what its report says of it, and the greatest share used."""

    rule: AnchorRule
    findings: tuple[Finding, ...]
    used: float
    by: Source

    @property
    def rank(self) -> tuple[int, float]:
        """Return how far it is from holding: the lower, the better."""
        state = worst(one.state for one in self.findings)
        return -WORST_FIRST.index(state), self.used


def in_masonry(told: FixingLoad, seat: Seat, answer: FixingAnswer, asking: Asking) -> FixingHeld:
    """Hold the worst anchor of a bracket against what its evaluation report allows in this masonry.

    Of several anchors that the sheet names for it the one is told that comes nearest to holding.

    Source: the evaluation report as the sheet repeats it; nothing is worked out without one.

    Args:
        told: the row with its cases [-].
        seat: the bracket on its wall [-].
        answer: its row of the fastener schedule [-].
        asking: sheet, readings and settings [-].

    Returns:
        The place with capacity, findings and its row; what report is wanted when there is none [-].
    """
    zone, named = (
        seat.zone,
        [one for one in asking.sheet.anchors if one.base == seat.zone.structure],
    )
    if seat.side not in WALLS:
        return FixingHeld(replace(told, why=BY_REPORT.format(base=words(zone.structure))), answer)
    if named and zone.structure == "block" and zone.grouted == "unknown":
        return _cells_unknown(told, seat, answer)
    fitting = [one for one in named if one.grouted == _is_grouted(zone)]
    if not fitting:
        why = BY_REPORT.format(base=_base_words(zone))
        return FixingHeld(replace(told, why=why), answer, wanted=_base_words(zone))
    best = min(
        (_judged(one, seat, told.cases, asking) for one in fitting), key=lambda one: one.rank
    )
    return _held(told, seat, answer, asking, best)


def report_wanted(wanted: str, places: list[str]) -> Finding:
    """Return the one finding that asks for an anchor's report, whatever many places wait for it.

    Source: the evaluation report that nobody has entered yet.

    Args:
        wanted: the masonry, in words [-].
        places: where it is wanted [-].

    Returns:
        The finding, not known [-].
    """
    asked = Asked(
        "anchor.report",
        "Does the anchor's own evaluation report allow this load?",
        "; ".join(places),
        structure_source("report", "kit sheet", "none given"),
        "",
    )
    do = (
        f"Needs the anchor's evaluation report for {wanted}: have the office enter the anchor with the "
        "kit's sheet. No load is worked out without it."
    )
    return spoken_finding(asked, None, "a report", "unknown", do)


def _is_grouted(zone: Zone) -> bool:
    return zone.structure == "block" and zone.grouted == "yes"


def _base_words(zone: Zone) -> str:
    if zone.structure != "block" or zone.grouted == "unknown":
        return words(zone.structure)
    return "grouted block" if zone.grouted == "yes" else "hollow block"


def _cells_unknown(told: FixingLoad, seat: Seat, answer: FixingAnswer) -> FixingHeld:
    asked = Asked(
        "anchor.cells",
        "Is it known whether the cells of the block are grouted?",
        seat.where,
        structure_source("trade", "common practice, no source", "common practice"),
        "",
    )
    found = (spoken_finding(asked, None, "grouted, or hollow", "unknown", CELLS),)
    row = settled(answer, found, "masonry", CELLS, answer.fixing)
    return FixingHeld(replace(told, why=CELLS), row, found)


def _judged(rule: AnchorRule, seat: Seat, cases: tuple[Case, ...], asking: Asking) -> _Judged:
    by = report_source(rule)
    shares = [
        anchor_used(
            rule.together, case.pull_lbf / rule.tension_lbf, case.shear_lbf / rule.shear_lbf
        )
        for case in cases
    ]
    flush = seat.stack_nm <= rule.stack_most.nm
    loads = [
        _share(seat, rule, case, used, by)
        for case, used in zip(cases, shares, strict=True)
        if flush or used > 1
    ]
    room = anchor_room_findings(rule, seat, asking, by)
    return _Judged(rule, (*room, *loads), max(shares), by)


def report_source(rule: AnchorRule) -> Source:
    """Return the report behind an anchor, as it stands on the kit's sheet.

    Args:
        rule: the anchor [-].

    Returns:
        The source, with the report's own edition and page [-].
    """
    report = rule.report
    return Source(
        f"Evaluation report {report.number}",
        report.edition,
        "kit sheet",
        clause=f"page {report.page}",
    )


def _share(seat: Seat, rule: AnchorRule, case: Case, used: float, by: Source) -> Finding:
    asked = Asked(
        "anchor.report",
        "Does the anchor's own evaluation report allow this load?",
        f"{seat.where}, {case.name}",
        by,
        "",
    )
    state: State = "fails" if used > 1 else "tight" if used > TIGHT_FROM.value else "fits"
    do = f"Nothing to do: {share_text(used)} of it is used."
    if state != "fits":
        do = "Use more or larger anchors, each by its own report."
    return spoken_finding(asked, share_text(used), "1.00", state, do)


def _held(
    told: FixingLoad, seat: Seat, answer: FixingAnswer, asking: Asking, best: _Judged
) -> FixingHeld:
    rule = best.rule
    load = replace(told, capacity=_capacity(rule, seat), settings=_settings(rule))
    row = _drilled(answer.fixing, seat, rule, best.by, asking.house)
    settled_row = settled(answer, best.findings, "masonry", "", row)
    told_used = seat.stack_nm <= rule.stack_most.nm or best.used > 1
    return FixingHeld(load, settled_row, best.findings, best.used if told_used else None, best.by)


def _capacity(rule: AnchorRule, seat: Seat) -> dict[str, object]:
    return {
        "anchor": rule.anchor,
        "tension": force_json(rule.tension_lbf, "down"),
        "shear": force_json(rule.shear_lbf, "down"),
        "embedment_least": mm_text(rule.embedment.nm),
        "edge_least": mm_text(rule.edge.nm),
        "spacing_least": mm_text(rule.spacing.nm),
        "embedment": mm_text(max(embedded_nm(rule, seat), 0)),
    }


def _settings(rule: AnchorRule) -> dict[str, object]:
    return {
        "report": f"{rule.report.number}, {rule.report.edition}, page {rule.report.page}",
        "holds_for": rule.holds_for,
        "together": rule.together,
        "named_on": f"page {rule.page} of the sheet",
    }


def _drilled(fixing: Fixing, seat: Seat, rule: AnchorRule, by: Source, house: House) -> Fixing:
    """Return the row with the anchor's holes: a clear one through the finish, the report's own behind it."""
    zone, deep_nm = seat.zone, max(embedded_nm(rule, seat), 0)
    through = None if zone.finish in NO_LAYER["finish"] else _clear(rule, zone)
    bit = bit_for(
        zone.finish if through else "masonry", through.text if through else rule.bit.entered
    )
    return replace(
        fixing,
        bit=bit.name if bit else None,
        speed=bit.speed if bit else None,
        cooling=bit.cooling if bit else None,
        pilot=Hole(rule.bit.entered, words(zone.structure), by),
        final_hole=through,
        depth_nm=bit_depth_nm(seat.stack_nm, deep_nm),
        anchor=f"{rule.anchor}, {rule.length.entered} long",
        reach_nm=deep_nm,
        cautions=(*fixing.cautions, *_care(rule), *_tip(rule, deep_nm, house)),
    )


def _clear(rule: AnchorRule, zone: Zone) -> Hole:
    """Return a hole that the anchor passes without touching, up to the next 1/64 in bit."""
    step = tables.BIT_STEP.value
    wanted = rule.diameter.nm + tables.CLEARANCE_OVER_MAJOR.value
    text = inch_text(-(-wanted // step) * step, BIT_MARK)
    return Hole(text, words(zone.finish), tables.CLEARANCE_OVER_MAJOR.source)


def _care(rule: AnchorRule) -> tuple[str, ...]:
    holds = f"The anchor's report holds for {rule.holds_for}: make sure that this wall is."
    return (holds, ROTARY) if rule.base in ("block", "brick") else (holds,)


def _tip(rule: AnchorRule, deep_nm: int, house: House) -> tuple[str, ...]:
    """Say what to look for before a hole goes into masonry, from version 5 of the rules on."""
    if house.rules < 5:
        return ()
    return (
        "Locate pipes, cables and reinforcing bars first: the anchor goes "
        f"{inch_text(deep_nm, house.mark, 'up')} into the {words(rule.base)} (common practice, no source).",
    )
