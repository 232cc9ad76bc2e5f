"""How is it read which anchor goes into masonry, and what does its evaluation report allow?"""

from fitcheck.rules.anchor_together import TOGETHER
from fitcheck.rules.length import Length
from fitcheck.rules.sheet_more import AnchorRule, ReportRule
from fitcheck.rules.strict import Strict
from fitcheck.rules.structure_inputs import force_of

BASES = ("block", "brick", "concrete")
ANCHOR = (
    *("anchor", "report", "base", "grouted", "holds_for", "diameter", "bit", "length"),
    *("embedment", "edge", "spacing", "head_joint", "stack_most"),
    *("tension", "shear", "together", "page"),
)
_REPORT = ("number", "edition", "page")
_FLUSH = Length(0, "0 in")


def anchor_rule_read(own: Strict) -> AnchorRule:
    """Read one anchor with what its report allows; mistakes are noted on `own`.

    Args:
        own: the opened anchor [-].

    Returns:
        The anchor [nm, lbf].
    """
    base = own.choice("base", BASES)
    if own.has("grouted") and base != "block":
        own.refuse("grouted", "not_a_block", "Only the cells of a block are grouted.")
    rule = AnchorRule(
        own.text("anchor"),
        _report(own.child("report", _REPORT)),
        base,
        own.flag("grouted", default=False),
        own.text("holds_for"),
        own.length("diameter"),
        own.length("bit"),
        own.length("length"),
        own.length("embedment"),
        own.length("edge"),
        own.length("spacing"),
        own.length_or_none("head_joint"),
        own.length_or_none("stack_most", zero=True) or _FLUSH,
        _allowed(own, "tension"),
        _allowed(own, "shear"),
        own.choice("together", TOGETHER, "straight"),
        own.text("page"),
    )
    if rule.embedment.nm > rule.length.nm:
        detail = f"An anchor {rule.length} long cannot be {rule.embedment} deep in masonry."
        own.refuse("embedment", "limits_crossed", detail)
    return rule


def _report(own: Strict) -> ReportRule:
    return ReportRule(own.text("number"), own.text("edition"), own.text("page"))


def _allowed(own: Strict, name: str) -> float:
    before = len(own.errors)
    found = force_of(own, name)
    if found <= 0 and len(own.errors) == before:
        own.refuse(name, "not_in_range", f"{name} is more than zero.")
    return found
