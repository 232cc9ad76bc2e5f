"""How is a part read, checked by a second person, cut and bedded?"""

from jobs.packets.paper.phrases import Json, Step, step, word, words
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import say


def cut_step(cut: Json) -> Step:
    """Return the hold point before one cut: as-fixed reading, deduction, agreement, saw."""
    part = told(str(cut.get("part")))
    hide = cut.get("allowance")
    covers = say("The end covers can hide {hide}, no more.", hide=hide) if hide else ""
    said = [
        say(
            "As-fixed reading less {deduct} is the length of the {part}.",
            deduct=cut.get("deduct"),
            part=part,
        ),
        _predicted(cut),
        covers,
        say("Then mark, saw, deburr."),
    ]
    return step(
        " ".join(one for one in said if one),
        hold=say("{part} cut released", part=part),
        record=say("Mark released at (length)"),
        caution=say(
            "Do not saw before both boxes agree. A part cut short cannot be put right on site. "
            "Clamp it; eyes and ears covered; keep swarf off the glass."
        ),
    )


def _predicted(cut: Json) -> str:
    if not cut.get("length"):
        return say(
            "QUESTION: the survey predicts no length, so there is nothing to agree with. Ring the "
            "office before the saw."
        )
    return say(
        "The survey predicted {length}. The two must agree, and the second reader must sign.",
        length=words(cut["length"]),
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
        say(
            "Read the {what} at {height} for the {part}, two people, two readings, into the cut "
            "list.",
            what=word(cut.get("from")),
            height=cut.get("height"),
            part=told(str(cut.get("part"))),
        ),
        record=say("Reader 1 / reader 2"),
    )


def _on_sill(cut: Json) -> bool:
    return any(name in str(cut.get("part")).lower() for name in ("threshold", "sill", "deck"))


def _bedding(cut: Json) -> Step:
    return step(
        say(
            "Bed the {part} in sealant at its setback and put the end blocks on. Wipe what "
            "squeezes out on the outside: water must find its way in, not out.",
            part=told(str(cut.get("part"))),
        )
    )
