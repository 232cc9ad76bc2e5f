"""How does what the rules said stand on a page? Findings in words, worst first, then the lists."""

from collections.abc import Mapping
from typing import Any

from contractor.api.desk import Table
from contractor.api.desk_values import shown
from fitcheck.checks.desk_deep import DEEP, deep_tables

SENSES = {"least": "at least ", "most": "at most ", "one_of": "one of: ", "equal": "equal to "}
WORST_FIRST = ("fails", "unknown", "tight", "fits")
FINDING_HEADS = ("Says", "Question", "Where", "Read", "Limit", "Margin", "What to do", "Source")
CUT_HEADS = ("Says", "Part", "Count", "Cut to", "Stock", "End", "Status")
HOLE_HEADS = (
    "Says",
    "Where",
    "Count",
    "Bit",
    "Pilot",
    "Final hole",
    "Anchor",
    "Screw",
    "Depth",
    "Questions and cautions",
)
# What a page shows as tables and pictures, and need not repeat as plain facts.
TOLD = DEEP | {
    *("findings", "missing", "disagreements", "cuts", "fixings", "panels", "sealant"),
    "cautions",
    "questions",
    "summary",
    "inputs_digest",
    "rules_version",
    "state",
}


def result_tables(result: Mapping[str, Any]) -> list[Table]:
    """Write what the rules said as tables: findings worst first, then what to cut, drill, ask, mind."""
    findings = sorted(result["findings"], key=lambda one: WORST_FIRST.index(one["state"]))
    tables = [Table("Findings", FINDING_HEADS, [finding_row(one) for one in findings])]
    if result["missing"]:
        rows = [
            (one["quantity"].replace("_", " "), one["side"], one["height"] or "", one["why"])
            for one in result["missing"]
        ]
        tables.append(Table("Readings still to take", ("Reading", "Side", "Height", "Why"), rows))
    questions = [(one["about"], one["text"]) for one in result["questions"]]
    if questions:
        tables.append(Table("Questions, not guessed", ("About", "Question"), questions))
    tables += [Table("Cuts", CUT_HEADS, [_cut(one) for one in result["cuts"]], "Nothing is cut.")]
    tables += [Table("Fastener schedule", HOLE_HEADS, [_hole(one) for one in result["fixings"]])]
    cautions = [(one["where"], one["text"]) for one in result["cautions"]]
    tables.append(Table("Cautions", ("Where", "Caution"), cautions, "None from these rules."))
    return tables + deep_tables(result)


def finding_row(one: Mapping[str, Any]) -> list[Any]:
    """Write one finding as a row under `FINDING_HEADS`."""
    return [
        shown(one["state"], "state"),
        one["question"],
        one["place"],
        shown(one["reading"]),
        _limit(one),
        shown(one["margin"]) if one["margin"] else "",
        one["do"],
        _source(one["source"]),
    ]


def _cut(one: Mapping[str, Any]) -> list[Any]:
    length = shown(one["length"]) if one["length"] else "not known yet"
    names = ("part", "count", "stock", "end", "status")
    part, count, stock, end, status = (one[name] for name in names)
    return [shown(one["state"], "state"), part, count, length, stock, end, status]


def _hole(one: Mapping[str, Any]) -> list[Any]:
    screw, surface = one["screw"] or {}, one["surface"].replace("_", " ")
    where = f"{one['place']}, {surface}" + (f", at {one['height']}" if one["height"] else "")
    return [
        shown(one["state"], "state"),
        where,
        one["count"],
        one["bit"] or "",
        _drilled(one["pilot"]),
        _drilled(one["final_hole"]),
        one["anchor"] or "",
        f"{screw.get('size', '')} {screw.get('length', '')}".strip(),
        shown(one["depth"]) if one["depth"] else "",
        " ".join([*one["questions"], *one["cautions"]]),
    ]


def _drilled(hole: Mapping[str, Any] | None) -> str:
    """Write a hole with what it goes through, and whether anybody has read its source."""
    if not hole:
        return ""
    return f"{hole['text']} through {hole['through']} ({hole['source']['status']})"


def _limit(one: Mapping[str, Any]) -> str:
    """Write a limit with its sense: `at most 5/16 in`."""
    limit = one["limit"]
    if isinstance(limit, Mapping):
        return f"{SENSES.get(one['sense'], '')}{limit['inch']}"
    return f"one of: {limit}" if one["sense"] == "one_of" else str(limit)


def _source(source: Mapping[str, Any]) -> str:
    page = f", page {source['page']}" if source.get("page") else ""
    clause = f", {source['clause']}" if source.get("clause") else ""
    return f"{source['document']}{clause}{page}"
