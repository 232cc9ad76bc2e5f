"""Which kits of the whole catalogue fit this opening, the roomiest first, and why not the others?

Ranked by what the opening's readings say; what screws, rail and tracks must bear is for the verdict.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fitcheck.rules import tables_shape
from fitcheck.rules.asked_case import Case, failed, read_findings, sheet_from, wall_findings
from fitcheck.rules.catalogue import FAR_NM, Asked, Catalogue, catalogue_compile
from fitcheck.rules.catalogue_blocks import Integers, Laid, Limits
from fitcheck.rules.finding import Finding, State, worst
from fitcheck.rules.length import computed
from fitcheck.rules.readings import Readings
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.strict import MOST_ITEMS, InputErrors, Strict
from fitcheck.rules.survey import House, Survey, house_read, survey_read
from fitcheck.rules.uncertainty import guard_band_nm

Flags = NDArray[np.bool_]
STATES: tuple[State, ...] = ("fits", "tight", "unknown", "fails")
FITS, TIGHT, UNKNOWN, FAILS = range(len(STATES))
_KIT_BITS, _MARGIN_BITS = 20, 39  # a million kits; half a kilometre in nanometres
_ANSWER = ("opening", "readings", "zones", "house", "kits", "reasons_for")


@dataclass(frozen=True, slots=True)
class Looked:
    """What one opening gives for every key: by lower and upper limit, in turn."""

    offsets_nm: Integers
    guards_nm: Integers
    unknown: Flags
    partial: Flags
    bands_nm: Integers


@dataclass(frozen=True, slots=True)
class Ranked:
    """Every size's state and least margin by its limits, and each kit's best size, best kit first."""

    states: Integers
    margins_nm: Integers
    chosen: Integers
    order: Integers


@dataclass(frozen=True, slots=True)
class Reason:
    """Why one kit does or does not fit, told in full."""

    state: State
    findings: tuple[Finding, ...]

    def as_json(self) -> dict[str, object]:
        """Return the reason as plain JSON."""
        told = [
            {"rule": f.rule, "place": f.place, "state": f.state, "do": f.do} for f in self.findings
        ]
        return {"state": self.state, "reasons": told}


def looked_up(catalogue: Catalogue, asked: Asked) -> Looked:
    """Look up what the readings say for everything that any kit limits, each thing once.

    Args:
        catalogue: the catalogue [-].
        asked: the opening [-].

    Returns:
        Tables by key; what is not known is far inside every limit and marked unknown [nm].
    """
    known = [probe(asked) for probe in catalogue.probes]
    factor = float(asked.house.guard_factor)
    offsets, guards, bands = [], [], []
    for each in known:
        value = each.value
        guard = guard_band_nm(value.u_mm, factor) if value else 0
        offsets += [value.low_nm, -value.high_nm] if value else [FAR_NM, FAR_NM]
        guards += [guard, guard]
        bands += [0, -guard]
    unknown = np.repeat([each.value is None or not each.whole for each in known], 2)
    partial = np.repeat([each.value is not None and not each.whole for each in known], 2)
    # one more at the end, for the limit that is always kept
    return Looked(
        np.array([*offsets, 0], dtype=np.int64),
        np.array([*guards, 0], dtype=np.int64),
        np.append(unknown, False),
        np.append(partial, False),
        np.array([*bands, 0], dtype=np.int64),
    )


def sizes_compared(catalogue: Catalogue, asked: Asked, looked: Looked | None = None) -> Ranked:
    """Compare every size of every kit with an opening, and rank the kits by their least margin.

    The state speaks for the limits of readings and for what the door stands on; what the walls
    are made of is told for the kits that are asked about. Of a kit's sizes the one stands for it
    that the verdict would choose: the one whose window holds the widths best.

    Source: the kits' own sheets; JCGM 106:2012, 8.3, with the firm's guard factor.

    Args:
        catalogue: the catalogue [-].
        asked: the opening [-].
        looked: what the opening gives for every key, if it was looked up already [nm].

    Returns:
        States and margins by size, the size chosen for each kit, and the kits in order [-].
    """
    looked = looked or looked_up(catalogue, asked)
    windows, margins = least_margins(catalogue.laid, looked)
    failing = (margins < 0) | ~catalogue.stands[asked.survey.opening.stands_on]
    states = np.where(failing, FAILS, FITS)
    open_rows = np.flatnonzero(~failing)
    if len(open_rows):
        states[open_rows] = _unsure(catalogue, looked, open_rows)
    chosen = _chosen(catalogue, windows)
    return Ranked(states, margins, chosen, ranked_by(states[chosen], margins[chosen]))


def _margins(limits: Limits, looked: Looked) -> Integers:
    margins: Integers = np.take(looked.offsets_nm, limits.keys)
    margins += limits.signed_nm
    if looked.partial.any():
        # a difference among the heights read so far can fail, but cannot pass
        margins[looked.partial[limits.keys] & (margins >= 0)] = FAR_NM
    return margins


def _least(limits: Limits, looked: Looked) -> Integers:
    least: Integers = np.minimum.reduceat(_margins(limits, looked), limits.starts)
    return least


def least_margins(laid: Laid, looked: Looked) -> tuple[Integers, Integers]:
    """Return the least margin of every size by its windows, and by all of its limits.

    Args:
        laid: the limits of every size [nm].
        looked: what the opening gives for every key [nm].

    Returns:
        Both by size [nm].
    """
    count = len(laid.loose) + sum(len(block.sizes) for block in laid.blocks)
    windows, margins = np.empty((2, count), dtype=np.int64)
    room = np.empty(laid.most_numbers, dtype=np.int64)
    for block in laid.blocks:
        found = room[: block.signed_nm.size].reshape(block.signed_nm.shape)
        np.add(block.signed_nm, looked.offsets_nm[block.keys, None], out=found)
        for line in np.flatnonzero(looked.partial[block.keys]):
            found[line, found[line] >= 0] = FAR_NM
        widths = found[: block.windows].min(axis=0, initial=FAR_NM)
        windows[block.sizes] = widths
        margins[block.sizes] = np.minimum(
            widths, found[block.windows :].min(axis=0, initial=FAR_NM)
        )
    if len(laid.loose):
        widths = _least(laid.loose_windows, looked)
        windows[laid.loose] = widths
        margins[laid.loose] = np.minimum(widths, _least(laid.loose_others, looked))
    return windows, margins


def _unsure(catalogue: Catalogue, looked: Looked, rows: Integers) -> Integers:
    """Return which of the sizes that do not fail are tight, or wait for a reading."""
    tight, unknown = np.zeros(len(rows), dtype=bool), np.zeros(len(rows), dtype=bool)
    for limits in (catalogue.windows, catalogue.others):
        own = limits.of(rows)
        spare = _margins(own, looked) - looked.guards_nm[own.keys]
        tight |= np.minimum.reduceat(spare, own.starts) <= 0
        unknown |= np.logical_or.reduceat(looked.unknown[own.keys], own.starts)
    covers = catalogue.covers.of(rows)
    spare = covers.signed_nm + looked.bands_nm[covers.keys]
    tight |= np.minimum.reduceat(spare, covers.starts) < 0
    unknown |= np.logical_or.reduceat(looked.unknown[covers.keys], covers.starts)
    return np.where(unknown, UNKNOWN, np.where(tight, TIGHT, FITS))


def _chosen(catalogue: Catalogue, windows: Integers) -> Integers:
    """Return the first size of each kit whose windows hold the known widths best."""
    starts = catalogue.kit_starts
    if len(starts) == len(windows):
        return starts
    known = np.where(windows >= FAR_NM // 2, -FAR_NM, windows)
    best = np.maximum.reduceat(known, starts)
    rows = np.flatnonzero(known == best[catalogue.size_kits])
    first: Integers = np.searchsorted(catalogue.size_kits[rows], np.arange(len(best)))
    return rows[first]


def ranked_by(states: Integers, margins: Integers) -> Integers:
    """Return the kits by state, then the roomiest first, then as they stand in the catalogue.

    The three fit into one whole number each, which sorts in half the time, but for margins that
    nobody measured.

    Args:
        states: the state of each kit's chosen size [-].
        margins: its least margin [nm].

    Returns:
        The kits in order [-].
    """
    if len(states) >= 1 << _KIT_BITS or not np.abs(margins).max() < 1 << _MARGIN_BITS:
        return np.lexsort((-margins, states))
    places = ((states << _MARGIN_BITS + 1) - margins << _KIT_BITS) | np.arange(len(states))
    places.sort()
    order: Integers = places & (1 << _KIT_BITS) - 1
    return order


def margin_known(margin_nm: int) -> int | None:
    """Return a least margin, or None when nothing was measured.

    Args:
        margin_nm: the least margin of a size [nm].

    Returns:
        The margin [nm].
    """
    return None if margin_nm >= FAR_NM // 2 else margin_nm


def reason(catalogue: Catalogue, asked: Asked, row: int) -> Reason:
    """Say in full why a size does or does not fit, walls and fixings included.

    Args:
        catalogue: the catalogue [-].
        asked: the opening [-].
        row: the size [-].

    Returns:
        The state as a verdict would have it, and the findings that do not pass [-].
    """
    sheet: Sheet = catalogue.sheets[int(catalogue.size_kits[row])]
    case = Case(asked.survey, sheet, catalogue.size(row), asked.house)
    walls, fixings = wall_findings(case)
    findings = [*read_findings(case), *walls]
    return Reason(worst([*(f.state for f in findings), *fixings]), tuple(failed(findings)))


def kits_told(
    catalogue: Catalogue, asked: Asked, ranked: Ranked, names: Sequence[str] | None = None
) -> list[dict[str, object]]:
    """Tell the kits in their order, with full reasons for those asked about.

    Args:
        catalogue: the catalogue [-].
        asked: the opening [-].
        ranked: what the pass found [-].
        names: the kits whose reasons are wanted; the first ones when left out [-].

    Returns:
        One entry per kit as plain JSON [-].
    """
    first = ranked.order[: tables_shape.MOST_KITS_ASKED.value]
    wanted = [catalogue.names[n] for n in first] if names is None else names
    told = []
    for kit in ranked.order:
        row, name = int(ranked.chosen[kit]), catalogue.names[kit]
        margin = margin_known(int(ranked.margins_nm[row]))
        entry: dict[str, object] = {
            "kit": name,
            "size": catalogue.size(row).code,
            "by_limits": STATES[int(ranked.states[row])],
            "least_margin": margin
            if margin is None
            else computed(margin, "down", asked.house.mark),
        }
        if name in wanted:
            entry |= reason(catalogue, asked, row).as_json()
        told.append(entry)
    return told


def asked_about(survey: Survey, house: House) -> Asked:
    """Return an opening ready to be asked about.

    Args:
        survey: opening, readings and zones [-].
        house: the firm's settings [-].

    Returns:
        The opening [-].
    """
    return Asked(survey, Readings(survey, house), house)


def answer(inputs: Mapping[str, object], compiled: Catalogue | None = None) -> dict[str, object]:
    """Answer which kits fit an opening, the roomiest first; nothing is stored.

    Args:
        inputs: opening, readings, zones and house as for a verdict; `kits`, each with its name
            `kit` and its `sheet`; `reasons_for`, the kits to be told in full [-].
        compiled: a catalogue compiled before, instead of `kits` [-].

    Returns:
        The kits in order as plain JSON [-].

    Raises:
        InputErrors: the inputs are malformed.
    """
    own = Strict.open(inputs, _ANSWER, "", [])
    survey, house = survey_read(own), house_read(own)
    kits = [] if compiled else _kits(own)
    names = list(compiled.names) if compiled else [name for name, _ in kits]
    wanted = None
    if own.has("reasons_for"):
        wanted = list(own.choices("reasons_for", tuple(names) or ("-",)))
    if len(set(names)) < len(names):
        own.refuse("kits", "kit_twice", "Two kits have the same name.")
    if own.errors:
        raise InputErrors(own.errors)
    catalogue, asked = compiled or catalogue_compile(kits), asked_about(survey, house)
    ranked = sizes_compared(catalogue, asked)
    return {"kits": kits_told(catalogue, asked, ranked, wanted), "sizes": len(ranked.states)}


def _kits(own: Strict) -> list[tuple[str, Sheet]]:
    kits = []
    for n, each in enumerate(own.children("kits", ("kit", "sheet"), least=1, most=MOST_ITEMS)):
        sheet = sheet_from(own, f"kits/{n}/sheet", each.members.get("sheet"))
        if sheet:
            kits.append((each.text("kit"), sheet))
    return kits
