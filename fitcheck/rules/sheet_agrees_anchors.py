"""Do the anchors of a sheet go into what it allows, as deep as their reports ask, once each?"""

from collections.abc import Iterator
from itertools import combinations

from fitcheck.rules.compare import words
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sheet_more import AnchorRule
from fitcheck.rules.sheet_said import Contradiction, contradiction


def anchors_agree(sheet: Sheet) -> Iterator[Contradiction]:
    """Yield what contradicts itself of the anchors in masonry.

    Source: the kit's own sheet; geometry.

    Args:
        sheet: the rule sheet [-].

    Yields:
        The contradictions [-].
    """
    for number, anchor in enumerate(sheet.anchors):
        yield from _anchor(sheet, number, anchor)
    yield from _anchors_twice(sheet)


def _anchor(sheet: Sheet, index: int, rule: AnchorRule) -> Iterator[Contradiction]:
    at, name, page = f"/anchors/{index}", rule.anchor, rule.page
    if rule.embedment.nm + rule.stack_most.nm > rule.length.nm:
        yield contradiction(
            "anchor_too_short",
            (f"{at}/length", f"{at}/embedment", f"{at}/stack_most"),
            page,
            anchor=name,
            length=rule.length,
            embedment=rule.embedment,
            stack=rule.stack_most,
        )
    rims = (("spacing", rule.spacing, 1), ("edge", rule.edge, 2))
    for member, length, share in rims:
        if length.nm * share <= rule.diameter.nm:
            yield contradiction(
                "anchor_rims_meet",
                (f"{at}/{member}", f"{at}/diameter"),
                page,
                anchor=name,
                diameter=rule.diameter,
                length=length,
            )
    if not rule.diameter.nm <= rule.bit.nm * 2 <= rule.diameter.nm * 4:
        pointers = (f"{at}/bit", f"{at}/diameter")
        yield contradiction(
            "anchor_bit", pointers, page, anchor=name, diameter=rule.diameter, bit=rule.bit
        )
    if sheet.substrates and rule.base not in sheet.substrates.structures:
        pointers = (f"{at}/base", "/substrates/structures")
        yield contradiction(
            "anchor_base_not_allowed", pointers, page, anchor=name, base=words(rule.base)
        )


def _anchors_twice(sheet: Sheet) -> Iterator[Contradiction]:
    for (i, one), (j, other) in combinations(enumerate(sheet.anchors), 2):
        if (one.anchor, one.base, one.grouted) == (other.anchor, other.base, other.grouted):
            pointers = (f"/anchors/{j}/anchor", f"/anchors/{i}/anchor")
            base = words(one.base)
            yield contradiction("anchor_twice", pointers, other.page, anchor=one.anchor, base=base)
