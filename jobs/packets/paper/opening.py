"""What is printed about one opening: readings, verdict, cuts, schedule, order of work, sealant?"""

from datetime import datetime
from typing import Any

from fitcheck.drawings.cutbars import rounded, svg_cut_bars
from fitcheck.drawings.elevation import svg_elevation
from fitcheck.drawings.facts import unit_of
from fitcheck.drawings.handing import svg_handing
from fitcheck.drawings.hole_map import surfaces_drilled, svg_hole_map
from fitcheck.drawings.made import made_pictures
from fitcheck.drawings.margins import svg_margin, svg_state
from fitcheck.drawings.measures import length_nm
from fitcheck.drawings.order import Release
from fitcheck.drawings.plan import svg_plan
from fitcheck.drawings.section import svg_section
from fitcheck.rules.length import mm_text
from fitcheck.rules.sealing_told import hours_told
from jobs.packets.paper.handing import cure_words
from jobs.packets.paper.holding import held_by, share_used, with_loads
from jobs.packets.paper.loading import total_ml
from jobs.packets.paper.phrases import (
    Json,
    alike,
    day_of,
    findings_alike,
    hole_of,
    holes_in_order,
    holes_word,
    place_of,
    screw_size,
    source_of,
    state_of,
    word,
    words,
)
from jobs.packets.paper.sentences import told
from jobs.packets.paper.steps import sheet_steps, steps_for
from jobs.packets.paper.words import say

Page = dict[str, Any]


def opening_page(opening: Json) -> Page:
    """Return one opening's pages as strings and pictures."""
    inputs, verdict = opening.get("inputs") or {}, opening.get("verdict") or {}
    cuts = [_cut(c) for c in verdict.get("cuts") or []]
    return {
        "name": f"{opening.get('number')} {opening.get('name')}",
        "kit": kit_line(opening.get("kit"), verdict),
        "state": state_of(verdict),
        "state_word": told(state_of(verdict)),
        "sign": svg_state(state_of(verdict)),
        "summary": told(str(verdict.get("summary") or "")) or None,
        "rules_version": verdict.get("rules_version"),
        "digest": verdict.get("inputs_digest"),
        "elevation": svg_elevation(inputs, verdict),
        "views": [svg_plan(inputs, verdict), svg_section(inputs, verdict)],
        **_drilled(inputs, verdict),
        "handing": svg_handing(inputs, verdict) if verdict.get("panels") else None,
        "glass": glass_drawn(inputs, verdict),
        "readings": [_reading(r) for r in inputs.get("readings") or []],
        "findings": [
            _finding(f) for f in worst_first(findings_alike(verdict.get("findings") or []))
        ],
        "questions": questions_of(opening),
        "cuts": cuts,
        "bars": svg_cut_bars(verdict) if cuts else None,
        "sheet_steps": sheet_steps(inputs),
        "steps": steps_for(inputs, verdict),
        "sealant": [_sealant(s) for s in verdict.get("sealant") or []],
        "sealant_total": total_ml(verdict.get("sealant") or []),
        "cure": cure_words(hours_told(verdict)),
        "cautions": [
            {"where": word(c.get("where") or "always"), "text": told(str(c.get("text")))}
            for c in verdict.get("cautions") or []
        ],
        "photos": str(len(opening.get("photos") or [])),
    }


def glass_drawn(inputs: Json, verdict: Json) -> list[Page]:
    """Draw glass made to measure, its opening first, then each panel with every edge and hole."""
    drawn = made_pictures(verdict, unit_of(inputs), Release(checks=True))
    return [{"title": told(title), "picture": draw()} for title, draw in drawn.values()]


def questions_of(opening: Json) -> list[Page]:
    """Return what nobody knows yet: open questions, readings to take, readings that disagree."""
    verdict = opening.get("verdict") or {}
    asked = [
        {"about": told(str(q.get("about"))), "text": told(str(q.get("text")))}
        for q in verdict.get("questions") or []
    ]
    for missing in verdict.get("missing") or []:
        asked.append({"about": station(missing), "text": _not_read(missing)})
    for apart in verdict.get("disagreements") or []:
        asked.append({"about": station(apart), "text": told(str(apart.get("do")))})
    return asked


def _not_read(missing: Json) -> str:
    return say("Not read; {why}.", why=told(str(missing.get("why"))))


def station(item: Json) -> str:
    """Return what is read, and where: "width at 72 in"."""
    side = item.get("side")
    parts = [word(item.get("quantity"))]
    if side not in (None, "none"):
        parts.append(say(str(side)))
    if item.get("height"):
        parts.append(say("at {height}", height=item["height"]))
    if item.get("over"):
        parts.append(say("over {height}", height=item["over"]))
    return " ".join(parts)


def kit_line(kit: Json | None, verdict: Json) -> Page | None:
    """Return the kit's name, size, sheet and our version of it."""
    if not kit:
        return None
    size = verdict.get("size")
    return {
        "name": str(kit.get("name")),
        "version": str(kit.get("version")),
        "sheet": say(
            "{document}, edition {edition}",
            document=kit.get("document"),
            edition=kit.get("edition"),
        ),
        "size": None if size is None else str(size),
    }


def _reading(reading: Json) -> Page:
    nm = length_nm(reading.get("value"))
    return {
        "what": station(reading),
        "entered": str(reading.get("value")),
        "mm": mm_text(nm) if nm is not None else None,
        "tool": _tool(reading.get("tool") or {}),
        "by": str(reading.get("read_by") or say("nobody named")),
        "at": _moment(reading.get("taken_at")),
    }


def _moment(taken_at: Any) -> str:
    """Return when a reading was taken, on the clock of the person who took it."""
    try:
        read = datetime.fromisoformat(str(taken_at))
    except ValueError:
        return str(taken_at or say("no time"))
    return f"{day_of(read)} {read:%H:%M}{_offset(read)}"


def _offset(read: datetime) -> str:
    text = f"{read:%z}"
    return f" {text[:3]}:{text[3:5]}" if text else ""


def _tool(tool: Json) -> str:
    kind = word(tool.get("kind") or "tool not named")
    accuracy = str(tool.get("accuracy_class") or "none")
    known = {"none": "", "h44": " (Handbook 44)"}
    named = known.get(accuracy, " " + say("class {name}", name=accuracy))
    return f"{kind}{named}, {tool.get('graduation') or '?'}"


def worst_first(findings: list[Json]) -> list[Json]:
    """Return the findings as a crew needs them: what stops the job first."""
    order = ("fails", "unknown", "tight", "fits")
    return sorted(findings, key=lambda f: order.index(state_of(f)))


def _finding(finding: Json) -> Page:
    state = state_of(finding)
    passes = state == "fits"
    do = str(finding.get("do") or "")
    margin = finding.get("margin")
    return {
        "state": told(state),
        "sign": svg_state(state),
        "passes": passes,
        "bar": svg_margin(finding, slim=bool(passes and margin)),
        "has_bar": bool(margin) or not passes,
        "question": told(str(finding.get("question"))),
        "place": str(finding.get("place") or ""),
        "reading": words(finding.get("reading")) if finding.get("reading") else None,
        "limit": f"{word(finding.get('sense'))} {words(finding.get('limit'))}",
        "margin": words(margin) if margin else None,
        "uncertainty": finding.get("uncertainty"),
        "guard_band": finding.get("guard_band"),
        "chance": finding.get("chance"),
        "do": "" if passes and do.startswith("Nothing to do") else told(do),
        "source": source_of(finding),
    }


def _cut(cut: Json) -> Page:
    length = cut.get("length")
    return {
        "part": told(str(cut.get("part"))),
        "count": str(cut.get("count") or 1),
        "from": say("{what} at {height}", what=word(cut.get("from")), height=cut.get("height")),
        "distance": words(cut["distance"]) if cut.get("distance") else None,
        "deduct": words(cut.get("deduct")),
        "length": words(length) if length else None,
        "rounded": told(rounded(length)),
        "uncertainty": cut.get("uncertainty"),
        "allowance": cut.get("allowance"),
        "stock": words(cut.get("stock")),
        "waste": words(cut["waste"]) if cut.get("waste") else None,
        "status": told(str(cut.get("status") or "predicted")),
        "state": told(state_of(cut)),
        "sign": svg_state(state_of(cut)),
        "source": source_of(cut),
    }


def _drilled(inputs: Json, verdict: Json) -> Page:
    """Return each wall with its map and its fixings, and the cautions that all of them share."""
    fixings = alike(with_loads(verdict))
    said = [list(f.get("cautions") or []) for f in fixings]
    shared = [one for one in said[0] if all(one in own for own in said)] if len(said) > 1 else []
    walls = [
        {
            "where": word(at),
            "picture": svg_hole_map(inputs, verdict, at),
            "fixings": [_fixing(f, shared) for f in fixings if str(f.get("surface")) == at],
        }
        for at in surfaces_drilled(verdict)
    ]
    return {"walls": walls, "everywhere": " ".join(told(str(one)) for one in shared)}


def _fixing(fixing: Json, shared: list[Any]) -> Page:
    layers = [
        f"{word(layer.get('layer'))} {layer.get('thickness') or ''}".strip()
        for layer in fixing.get("build_up") or []
    ]
    figures = [
        (say("bit"), told(str(fixing.get("bit") or ""))),
        *[(name, hole_of(hole)) for name, hole, _ in holes_in_order(fixing)],
        (say("depth"), words(fixing["depth"]) if fixing.get("depth") else ""),
        (say("anchor"), told(str(fixing.get("anchor") or ""))),
        (say("screw"), screw_size(fixing)),
        (say("finish and backing"), words(fixing["stack"]) if fixing.get("stack") else ""),
        (say("reach past the face"), words(fixing["reach"]) if fixing.get("reach") else ""),
        (say("backing"), word(fixing.get("backing_hit") or "unknown")),
        (say("used"), share_used(fixing)),
    ]
    sentences = [
        (say("build-up"), ", ".join(layers)),
        (say("speed"), told(str(fixing.get("speed") or ""))),
        (say("cooling"), told(str(fixing.get("cooling") or ""))),
        (say("seal"), told(str(fixing.get("seal") or ""))),
        (say("holds by"), held_by(fixing)),
    ]
    return {
        "place": place_of(fixing),
        "count": holes_word(fixing),
        "state": told(state_of(fixing)),
        "sign": svg_state(state_of(fixing)),
        "figures": _labelled(figures),
        "sentences": _labelled(sentences),
        "caution": " ".join(told(str(c)) for c in fixing.get("cautions") or [] if c not in shared),
        "questions": [told(str(q)) for q in fixing.get("questions") or []],
        "source": source_of(fixing),
    }


def _labelled(rows: list[tuple[str, Any]]) -> list[Page]:
    return [{"label": label, "value": str(value)} for label, value in rows if value]


def _sealant(run: Json) -> Page:
    return {
        "run": told(str(run.get("run"))),
        "side": word(run.get("side") or "inside"),
        "bead": words(run.get("bead")),
        "length": words(run.get("length")),
        "volume": words(run.get("volume_ml")),
        "source": source_of(run),
    }
