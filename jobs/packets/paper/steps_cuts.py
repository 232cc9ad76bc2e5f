"""How is a part read, checked by a second person, cut and bedded?"""

from fitcheck.drawings.measures import word, words
from jobs.packets.paper.phrases import Json, Step, step


def cut_step(cut: Json) -> Step:
    """Return the hold point before one cut: as-fixed reading, deduction, agreement, saw."""
    part, deduct = cut.get("part"), cut.get("deduct")
    hide = cut.get("allowance")
    covers = f" The end covers can hide {hide}, no more." if hide else ""
    return step(
        f"As-fixed reading less {deduct} is the {part}'s length. {_predicted(cut)}{covers} Then "
        "mark, saw, deburr.",
        hold=f"Hold: {part} cut released",
        record="Mark released at (length)",
        caution="Do not saw before both boxes agree. A part cut short cannot be put right on site. "
        "Clamp it; eyes and ears covered; keep swarf off the glass.",
    )


def _predicted(cut: Json) -> str:
    if not cut.get("length"):
        return (
            "QUESTION: the survey predicts no length, so there is nothing to agree with. Ring the "
            "office before the saw."
        )
    return (
        f"The survey predicted {words(cut['length'])}. The two must agree, and the second reader "
        "must sign."
    )


def cut_steps(cuts: list[Json]) -> list[Step]:
    """Return how each part is read, cut and, where it lies on the sill, bedded."""
    steps: list[Step] = []
    for cut in cuts:
        steps += [_reading(cut), cut_step(cut)]
        if _on_sill(cut):
            steps.append(_bedding(cut))
    return steps


def _reading(cut: Json) -> Step:
    return step(
        f"Read the {word(cut.get('from'))} at {cut.get('height')} for the {cut.get('part')}, two "
        "people, two readings, into the cut list.",
        record="Reader 1 / reader 2",
    )


def _on_sill(cut: Json) -> bool:
    return any(name in str(cut.get("part")).lower() for name in ("threshold", "sill"))


def _bedding(cut: Json) -> Step:
    return step(
        f"Bed the {cut.get('part')} in sealant at its setback and put the end blocks on. Wipe what "
        "squeezes out on the outside: water must find its way in, not out."
    )
