"""In which words is a crew told how to saw a part at its mark, or that it is filed?"""

from fitcheck.rules.compare import spoken
from fitcheck.rules.length import NM_PER_INCH, Direction, inch_text, mm_text
from fitcheck.rules.sawmark_read import MarkAsked
from fitcheck.rules.survey import House
from fitcheck.rules.tables_saw import METRIC_STEP

DOWN: Direction = "down"
FINEST = 64  # parts of an inch: blades are named by them


def mark_step_nm(mark: int, *, metric: bool) -> int:
    """Return the step that a saw mark is rounded to.

    Source: house setting.

    Args:
        mark: parts of an inch [-].
        metric: whether the crew's tape is metric [-].

    Returns:
        The step [nm].
    """
    return METRIC_STEP.value if metric else NM_PER_INCH // mark


def saw_text(asked: MarkAsked, mark_nm: int, house: House) -> str:
    """Say from which end to measure, which end to saw off, and on which side the blade runs.

    What is thinner than the blade cannot be sawn off: it is filed. Where the sheet takes it off both
    ends and half of it is thinner than the blade, all of it comes off one end.

    Source: common practice; a kerf that the sheet does not name is a house setting.

    Args:
        asked: the part [-].
        mark_nm: the mark [nm].
        house: the firm's settings [-].

    Returns:
        The sentence [-].
    """
    if house.rules < 5:
        return _as_before(asked, mark_nm, house)
    sliver = asked.stock_nm - mark_nm
    if sliver == 0:
        return "Do not saw: the part is already as long as its mark."
    length = mm_text(mark_nm) if asked.metric else inch_text(mark_nm, house.mark, DOWN)
    if sliver < asked.kerf_nm:
        thin = _small(asked, sliver)
        where = "half at each end" if asked.end == "both" else f"at {_sawn_end(asked)}"
        return (
            f"File it down to {length}, {where}: {thin} comes off, thinner than the blade "
            f"({_small(asked, asked.kerf_nm)})."
        )
    if asked.end != "both":
        keep = "right" if asked.end == "left" else "left"
        start = f"Measure {length} from the {keep} end and saw off {_sawn_end(asked)}"
        return f"{start}; {_kerf_text(asked)}"
    step = mark_step_nm(house.mark, metric=asked.metric)
    each = sliver // (2 * step) * step
    if each < asked.kerf_nm:
        return (
            f"Measure {length} from one end and saw all of it off the other: half of it would be "
            f"thinner than the blade; {_kerf_text(asked)}"
        )
    first = mm_text(each) if asked.metric else inch_text(each, house.mark, DOWN)
    return (
        f"Saw {first} off one end first, then measure {length} from that fresh end and mark it; "
        f"{_kerf_text(asked)}"
    )


def _sawn_end(asked: MarkAsked) -> str:
    return "the left end" if asked.end == "left" else "the right end"


def _small(asked: MarkAsked, nm: int) -> str:
    """Return a length below an inch as the crew's tape names it, never too little."""
    return mm_text(nm) if asked.metric else spoken(nm, FINEST, up=True)


def _kerf_text(asked: MarkAsked) -> str:
    if not asked.kerf_nm:
        return "the line stays on the part."
    kerf = _small(asked, asked.kerf_nm)
    text = f"the blade, {kerf} wide, runs on the waste side and the line stays on the part."
    if asked.allowance_nm is None:
        return text
    hidden = asked.kerf_nm <= asked.allowance_nm
    hides = "the end covers would hide" if hidden else "the end covers cannot hide"
    return f"{text} On the wrong side it comes out {kerf} short, which {hides}."


def _as_before(asked: MarkAsked, mark_nm: int, house: House) -> str:
    """Say it as versions 2 to 4 did, without a look at how much comes off."""
    length = mm_text(mark_nm) if asked.metric else inch_text(mark_nm, house.mark, DOWN)
    if mark_nm == asked.stock_nm:
        return "Do not saw: the part is already as long as its mark."
    if asked.end == "both":
        step = mark_step_nm(house.mark, metric=asked.metric)
        each = (asked.stock_nm - mark_nm) // (2 * step) * step
        first = mm_text(each) if asked.metric else inch_text(each, house.mark, DOWN)
        return (
            f"Saw {first} off one end first, then measure {length} from that fresh end and mark it; "
            f"{_kerf_before(asked)}"
        )
    off = {"left": "left", "right": "right", "either": "right"}[asked.end]
    keep = "left" if off == "right" else "right"
    return f"Measure {length} from the {keep} end and saw off the {off} end; {_kerf_before(asked)}"


def _kerf_before(asked: MarkAsked) -> str:
    kerf = mm_text(asked.kerf_nm)
    text = f"the blade ({kerf}) runs on the waste side and the line stays on the part."
    if asked.allowance_nm is None:
        return text
    hides = (
        "the end covers would hide"
        if asked.kerf_nm <= asked.allowance_nm
        else ("the end covers cannot hide")
    )
    return f"{text} On the wrong side it comes out {kerf} short, which {hides}."
