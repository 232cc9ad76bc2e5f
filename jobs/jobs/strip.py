"""How far is a job? Its states in a row, drawn for a page."""

from html import escape

from jobs.jobs.models import State

WAY = [state for state in State if state is not State.CANCELLED]
SHORT = {
    State.ENQUIRY: "enquiry",
    State.HANDED_OVER: "handed over",
    State.FOLLOWED_UP: "followed up",
}
STEP, TOP, WIDE = 88, 34, 20


def svg_strip(*, number: str, state: str, waits: str) -> str:
    """Draw the states of a job from enquiry to closed, with the one it is in.

    Args:
        number: the job's number, for the title.
        state: the state it is in.
        waits: one sentence on what comes next, for the description.
    """
    here = State(state)
    at = WAY.index(here) if here in WAY else -1
    width = STEP * len(WAY) + WIDE
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} 86" role="img"'
        f' aria-labelledby="t d" font-family="sans-serif" font-size="12">',
        f'<title id="t">{escape(number)}: {escape(here.label)}</title>',
        f'<desc id="d">{escape(waits)}</desc>',
        f'<rect width="{width}" height="86" fill="#fff"/>',
        f'<line x1="{STEP / 2 + 10}" y1="{TOP}" x2="{width - STEP / 2 - 10}" y2="{TOP}"'
        ' stroke="#7a7a7a" stroke-width="2"/>',
    ]
    parts += [_stop(index, one, at) for index, one in enumerate(WAY)]
    if at < 0:
        parts.append(
            f'<text x="{width / 2}" y="16" text-anchor="middle" font-weight="bold"'
            ' fill="#8a1c1c">Cancelled</text>'
        )
    return "".join([*parts, "</svg>"])


def _stop(index: int, state: State, at: int) -> str:
    x = 10 + STEP * index + STEP / 2
    fill = "#1d5c4d" if index < at else "#fff"
    own = index == at
    ring = (
        f'<circle cx="{x}" cy="{TOP}" r="12" fill="#ffd24d" stroke="#1a1a1a" stroke-width="3"/>'
        if own
        else f'<circle cx="{x}" cy="{TOP}" r="8" fill="{fill}" stroke="#1d5c4d" stroke-width="2"/>'
    )
    tick = (
        f'<path d="M{x - 4} {TOP} l3 3 l5 -6" fill="none" stroke="#fff" stroke-width="2"/>'
        if index < at
        else ""
    )
    weight = ' font-weight="bold"' if own else ""
    text = SHORT.get(state, state.value)
    return f'{ring}{tick}<text x="{x}" y="68" text-anchor="middle"{weight}>{text}</text>'
