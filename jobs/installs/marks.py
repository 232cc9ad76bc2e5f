"""May the saw be used? A mark is released only when nothing speaks against it; else it is held."""

from typing import Any

from contractor.api.callers import Caller
from contractor.api.facts import check_same, kept_once
from contractor.api.problems import Problem
from contractor.notices.services import notice_record
from fitcheck.check import check
from fitcheck.rules import sawmark
from fitcheck.rules.sheet import CutRule, applies
from fitcheck.rules.sheet_agrees import contradicted
from fitcheck.rules.sheet_doubted import waits
from jobs.installs.models import Install, Kind, Mark, MarkState, Record
from jobs.installs.order import Standing, first_open
from jobs.installs.readers import reader_holds, readers_of, second_reader
from jobs.installs.sent import Sent
from jobs.installs.services import install_settle
from jobs.installs.stand import record_at, walked_of
from jobs.installs.stops import BRACKETS, cut_key, cuts_of
from jobs.losses.models import Kind as Again
from jobs.losses.models import Loss
from jobs.verdicts.models import Verdict
from jobs.verdicts.services import verdict_outdated, verdict_standing

MOST_READINGS = 20


def mark_ask(
    *, by: Caller, install: Install, sent: Sent, part: str, end: str = "", typed_why: str = ""
) -> tuple[Mark, bool]:
    """Answer at once where to saw, or why not; writes the mark, announces `mark.released` or `mark.held`.

    Args:
        typed_why: why the second reader is only a name, where it is.

    A mark is never edited: a new pair of readings makes a new one.

    Raises:
        Problem: the id is taken, or the kit has no such part to cut.
        InputErrors: a reading is malformed.
    """
    return kept_once(lambda: _ask(by, install, sent, part, end, typed_why))


def _ask(
    by: Caller, install: Install, sent: Sent, part: str, end: str, typed_why: str
) -> tuple[Mark, bool]:
    install = Install.objects.select_for_update(no_key=True).get(pk=install.pk)
    known = Mark.objects.filter(pk=sent.id).first()
    if known is not None:
        check_same(known, sent.digest, "saw mark")
        return known, False
    rule, verdict = cut_rule(install, part), verdict_standing(opening=install.opening)
    walked = walked_of(install)
    new_part = bool(sent.body.get("new_part"))
    asked = question(install, rule, verdict, walked, sent.body["as_fixed"], new_part=new_part)
    answer: dict[str, Any] = sawmark.answer(asked)
    readers = readers_of(by=by, install=install, rows=sent.body["as_fixed"], walked=walked)
    hold = [
        *_before(walked, part),
        *_verdict_holds(install, verdict),
        *_sheet_holds(install, rule),
        *_end_holds(rule, end),
        *reader_holds(readers, typed_why),
        *_miscut_holds(install, part, new_part=new_part),
        *answer["hold"],
    ]
    released = answer["decision"] == "release" and not hold
    mark = Mark.objects.create(
        id=sent.id,
        install=install,
        part=part,
        state=MarkState.RELEASED if released else MarkState.HELD,
        length=answer["mark"] if released else "",
        verdict=verdict,
        body=sent.body,
        result=_result(answer, asked, hold, released=released)
        | {"readers": readers, "second_reader": second_reader(readers), "typed_why": typed_why},
        said_by=sent.said_by,
        taken_at=sent.taken_at,
        caller=by.key,
        digest=sent.digest,
    )
    _announce(by, mark)
    install_settle(by=by, install=install)
    return mark, True


def _announce(by: Caller, mark: Mark) -> None:
    changes = {"mark": [None, str(mark.pk)], "part": [None, mark.part]}
    changes["length"] = [None, mark.length or None]
    notice_record(
        by=by,
        type=f"mark.{mark.state}",
        about=mark.install.number,
        changes=changes,
        reason="; ".join(mark.result["hold"])[:300],
    )


def cut_rule(install: Install, part: str) -> CutRule:
    """Find what the sheet says of a part that this install cuts.

    Raises:
        Problem: the kit has no such part to cut; the hint lists those that it has.
    """
    sheet = install.sheet.parsed()
    rules = cuts_of(sheet, sheet.size(install.size))
    for rule in rules:
        if rule.part == part:
            return rule
    names = ", ".join(rule.part for rule in rules) or "none"
    raise Problem(
        "part_unknown",
        f"This kit has no {part!r} that is cut on site.",
        hint=f"Its parts to cut: {names}.",
        pointer="/part",
    )


def question(
    install: Install,
    rule: CutRule,
    verdict: Verdict | None,
    walked: list[Standing],
    as_fixed: list[dict[str, Any]],
    *,
    new_part: bool = False,
) -> dict[str, Any]:
    """Put the question to the rules: the survey's prediction, the readings as fixed, the sheet."""
    sheet = install.sheet.parsed()
    asked: dict[str, Any] = {
        "part": rule.part,
        "predicted": predicted(verdict, rule.part) if verdict else None,
        "as_fixed": [*as_fixed, *_recorded(install, rule, walked)],
        "deduct": rule.deduct.entered,
        "stock": _stock(install, rule, new_part=new_part),
        "end": rule.end,
        "unit": "metric" if sheet.unit == "metric" else "inch",
    }
    for name in ("allowance", "least", "most", "kerf"):
        length = getattr(rule, name)
        if length is not None:
            asked[name] = length.entered
    if verdict is not None:
        asked["house"] = verdict.inputs["house"]
    return asked


def predicted(verdict: Verdict, part: str) -> dict[str, str] | None:
    """The distance that the survey alone foretells for a part, with its standard uncertainty."""
    found = _cut(verdict.result, part)
    if found and found["status"] != "predicted":
        # Somebody surveyed between the brackets: that is no second opinion on the same brackets.
        rows = [r for r in verdict.inputs["readings"] if r["quantity"] != "between_brackets"]
        again = check({**verdict.inputs, "readings": rows}, verdict.sheet.parsed())
        found = _cut(again.as_json(), part)
    if not found or not found["distance"] or not found["uncertainty"]:
        return None
    return {"distance": found["distance"]["mm"], "uncertainty": found["uncertainty"]}


def _cut(result: Any, part: str) -> dict[str, Any] | None:
    return next((one for one in result["cuts"] if one["part"] == part), None)


def _recorded(install: Install, rule: CutRule, walked: list[Standing]) -> list[dict[str, Any]]:
    """The distance as it was recorded when the brackets were fixed: it must agree as well."""
    if rule.measured != "between_brackets":
        return []
    record = record_at(install, walked, BRACKETS)
    rows = record.body.get("readings", []) if record and record.kind == Kind.STOP else []
    names = ("value", "read_by", "taken_at", "tool")
    return [
        {"id": f"at the brackets {index}", **{name: one[name] for name in names}}
        for index, one in enumerate(rows, start=1)
        if one["quantity"] == "between_brackets"
    ]


def _stock(install: Install, rule: CutRule, *, new_part: bool) -> str:
    """How long the part is now: as it came in the box, or as it was sawn already.

    A new part takes the place of a miscut one only when the crew says that it is there.
    """
    sawn = _sawn(install, rule.part)
    if sawn is None or (new_part and _is_miscut(sawn)):
        return str(rule.stock.entered)
    return str(sawn.body["sawn"])


def _sawn(install: Install, part: str) -> Record | None:
    return install.records.filter(kind=Kind.SAWN, stop=cut_key(part)).last()


def _is_miscut(sawn: Record) -> bool:
    return Loss.objects.filter(record=sawn, kind=Again.MISCUT).exists()


def _miscut_holds(install: Install, part: str, *, new_part: bool) -> list[str]:
    """Say what to do with a miscut part, while nobody says that a new one is there."""
    sawn = _sawn(install, part)
    if new_part or sawn is None or not _is_miscut(sawn):
        return []
    return [f"Do not saw: the {part} was cut wrong. When a new one is there, say so in `new_part`."]


def _before(walked: list[Standing], part: str) -> list[str]:
    wanting = first_open(walked, until=cut_key(part))
    if wanting is None:
        return []
    wants = " ".join(wanting.wants)
    return [f"Do not saw: {wanting.stop['title'].lower()} comes first. {wants}"]


def _verdict_holds(install: Install, verdict: Verdict | None) -> list[str]:
    if verdict is None:
        return ["Do not saw: no verdict foretells this cut. Survey the opening and ask for one."]
    if verdict.sheet_id != install.sheet_id:
        return ["Do not saw: the verdict is for another sheet than this install was started with."]
    if verdict_outdated(verdict=verdict):
        return ["Do not saw: the opening was surveyed again since the verdict. Ask for it anew."]
    return []


def _sheet_holds(install: Install, rule: CutRule) -> list[str]:
    """Hold what rests on members of the sheet that contradict each other, whatever the verdict took."""
    sheet = install.sheet.parsed()
    size = sheet.size(install.size)
    found = contradicted(sheet, size)
    own = [
        n for n, one in enumerate(sheet.cuts) if one.part == rule.part and applies(one.sizes, size)
    ]
    asks = (waits(f"/cuts/{n}", found) for n in own)
    return [f"Do not saw. {one}" for one in asks if one]


def _end_holds(rule: CutRule, end: str) -> list[str]:
    if end in {"", "either", rule.end} or rule.end == "either":
        return []
    which = "both ends" if rule.end == "both" else f"the {rule.end} end"
    return [f"Do not saw: the sheet takes it off {which}, not off the {end} one."]


def _result(
    answer: dict[str, Any], asked: dict[str, Any], hold: list[str], *, released: bool
) -> dict[str, Any]:
    """What is kept: the rules' answer, what they were asked, and every reason to hold."""
    own: dict[str, Any] = {"hold": list(dict.fromkeys(hold)), "asked": asked}
    if not released:
        own |= {"decision": "hold", "mark": None, "length": None, "saw": None}
    return {**answer, **own}
