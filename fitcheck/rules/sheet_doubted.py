"""What of a verdict may not be relied on because the kit's sheet contradicts itself?"""

from dataclasses import replace

from fitcheck.rules.cuts import CutAnswer
from fitcheck.rules.finding import Finding
from fitcheck.rules.fixing_held import FixingHeld
from fitcheck.rules.holes import FixingAnswer
from fitcheck.rules.parts import Parts
from fitcheck.rules.sheet import FixingRule, Sheet, applies
from fitcheck.rules.sheet_agrees import agree_findings, contradicted, not_relied_on
from fitcheck.rules.sheet_said import ASK_THE_MAKER, Contradiction
from fitcheck.rules.verdict import Members
from fitcheck.rules.version_2 import Borne

Told = dict[int, Finding]
BORNE = ("/panels", "/made_glass", "/rail")
NO_HOLE = "No hole here."


def sheet_doubted(sheet: Sheet, parts: Parts, borne: Borne | None) -> tuple[Parts, Borne | None]:
    """Say of each contradiction that it stands, and take back what rests on it.

    A part that is cut gets no length and so no mark, a fixing no hole, anchor or screw, its load no number.

    Source: house setting: unknown never passes.

    Args:
        sheet: the sheet as it was published [-].
        parts: what the rules worked out [-].
        borne: what each bracket gets and holds [-].

    Returns:
        The parts and what brackets bear; the same when the sheet agrees with itself [-].
    """
    found = contradicted(sheet, parts.size)
    if not found:
        return parts, borne
    told: Told = {}
    cuts = _cuts(sheet, parts, found, told)
    waiting = {rule: do for rule in sheet.fixings if (do := _fixing_waits(sheet, rule, found))}
    rows = zip(parts.spots, parts.fixings, strict=True)
    fixings = tuple(
        _fixing(answer, waiting[spot.fixing], told) if spot.fixing in waiting else answer
        for spot, answer in rows
    )
    findings = (
        *agree_findings(sheet, found),
        *(told.get(id(finding), finding) for finding in parts.findings),
    )
    doubted = replace(parts, cuts=cuts, fixings=fixings, findings=findings)
    if borne is None:
        return doubted, None
    borne = _borne(parts, borne, waiting)
    hung = any(one.touches(member) for one in found for member in BORNE)
    return doubted, replace(borne, rail=None) if hung else borne


def waits(rule: str, found: tuple[Contradiction, ...]) -> str:
    """Return whom to ask what before a rule of the sheet is relied on; empty when nothing speaks against it.

    Args:
        rule: pointer to the rule, such as "/cuts/0" [-].
        found: contradictions of the sheet [-].

    Returns:
        The sentence [-].
    """
    first = next((one for one in found if one.touches(rule)), None)
    return ASK_THE_MAKER.format(what=first.detail) if first else ""


def _fixing_waits(sheet: Sheet, rule: FixingRule, found: tuple[Contradiction, ...]) -> str:
    """Return why a fixing waits: for itself, or for the panels and the rail whose load it bears."""
    own = [f"/fixings/{sheet.fixings.index(rule)}"]
    if rule.bracket and rule.bracket.bears != "load":
        own += BORNE
    return next((do for one in own if (do := waits(one, found))), "")


def _cuts(
    sheet: Sheet, parts: Parts, found: tuple[Contradiction, ...], told: Told
) -> tuple[CutAnswer, ...]:
    rules = [n for n, rule in enumerate(sheet.cuts) if applies(rule.sizes, parts.size)]
    rows = zip(rules, parts.cuts, strict=True)
    return tuple(_cut(answer, waits(f"/cuts/{n}", found), told) for n, answer in rows)


def _cut(answer: CutAnswer, do: str, told: Told) -> CutAnswer:
    if not do:
        return answer
    findings = _taken_back(answer.findings, do, told)
    return CutAnswer(
        replace(answer.cut, distance=None, length=None, state="unknown"), findings, waits=do
    )


def _taken_back(findings: tuple[Finding, ...], do: str, told: Told) -> tuple[Finding, ...]:
    """Return findings without their numbers, and remember which stands for which."""
    told |= {id(one): not_relied_on(one, do) for one in findings}
    return tuple(told[id(one)] for one in findings)


def _fixing(answer: FixingAnswer, do: str, told: Told) -> FixingAnswer:
    row, findings = answer.fixing, _taken_back(answer.findings, do, told)
    bare = replace(
        row,
        bit=None,
        speed=None,
        cooling=None,
        pilot=None,
        final_hole=None,
        depth_nm=None,
        anchor=None,
        screw_size=None,
        screw_length=None,
        reach_nm=None,
        seal=NO_HOLE,
        questions=(do, *row.questions),
        state="unknown",
    )
    return FixingAnswer(bare, findings)


def _borne(parts: Parts, borne: Borne, waiting: dict[FixingRule, str]) -> Borne:
    """Leave the loads of places that wait without a number, and their findings unknown."""
    asked = [spot for spot in parts.spots if spot.fixing.carries or spot.fixing.bracket is not None]
    rows: list[Members] = []
    told: Told = {}
    for spot, row in zip(asked, borne.rows, strict=True):
        do = waiting.get(spot.fixing)
        if do and isinstance(row, FixingHeld):
            load = replace(row.load, cases=(), capacity=None, settings={}, why=do)
            kept = _taken_back(row.findings, do, told)
            rows.append(replace(row, load=load, findings=kept, used=None, by=None))
        else:
            rows.append(row)
    findings = [told.get(id(one), one) for one in borne.findings]
    return replace(borne, rows=tuple(rows), findings=findings)
