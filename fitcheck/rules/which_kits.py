"""Which kits of the whole catalogue fit this opening, the roomiest first, and why not the others?

Ranked by what the opening's readings say; what screws, rail and tracks must bear is for the verdict.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from fitcheck.rules import tables_shape
from fitcheck.rules.asked_case import Case, failed, read_findings, sheet_from, wall_findings
from fitcheck.rules.catalogue import Asked, Catalogue, catalogue_compile
from fitcheck.rules.catalogue_blocks import FAR_NM, Integers
from fitcheck.rules.catalogue_pass import (
    FAILS,
    STATES,
    UNKNOWN,
    Codes,
    Looked,
    catalogue_compared,
    looked_up,
    looked_up_surely,
)
from fitcheck.rules.finding import Finding, State, worst
from fitcheck.rules.in_doubt import by_shape
from fitcheck.rules.length import computed
from fitcheck.rules.readings import Readings
from fitcheck.rules.shape_told import shape_told
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.strict import MOST_ITEMS, InputErrors, Strict
from fitcheck.rules.survey import House, Survey, house_read, survey_read

_PLACE_BITS = 60  # for a kit's number and its margin: 100,000 kits leave four kilometres
_HEAPS = 16  # for each kit that is wanted, to find where the best end without sorting all
_STATE_PLACES = np.array([n - FAILS for n in range(len(STATES))]) << _PLACE_BITS + 1
_ANSWER = ("opening", "readings", "zones", "house", "kits", "reasons_for")


@dataclass(frozen=True, slots=True)
class Ranked:
    """Every size's state and least margin by its limits, and each kit's chosen size and place."""

    states: Codes
    margins_nm: Integers
    chosen: Integers
    places: Integers

    def order(self) -> Integers:
        """Return all kits, the best first [-]."""
        return self._kits(np.sort(self.places))

    def first(self, count: int) -> Integers:
        """Return the best kits only, the best first; the others are not put in order [-]."""
        deep = len(self.places) // (_HEAPS * count) if count else 0
        if deep < 2:
            return self.order()[:count]
        heaps = self.places[: deep * _HEAPS * count].reshape(deep, -1).min(axis=0)
        near = self.places[
            self.places <= np.sort(heaps)[count - 1]
        ]  # so many are as good, at least
        return self._kits(np.sort(near)[:count])

    def _kits(self, places: Integers) -> Integers:
        return places & (1 << len(self.places).bit_length()) - 1


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


def sizes_compared(catalogue: Catalogue, asked: Asked, looked: Looked | None = None) -> Ranked:
    """Compare every size of every kit with an opening, and rank the kits by their least margin.

    The state speaks for the limits of readings and for what the door stands on; what the walls
    are made of is told for the kits that are asked about. Where readings contradict each other,
    none fits, and what rests on them is not known. Of a kit's sizes the one stands for it
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
    several = len(catalogue.kit_starts) < len(catalogue.kit_rows)
    stands_on = asked.survey.opening.stands_on
    found = catalogue_compared(catalogue.laid, looked, stands_on, windows=several)
    states = _not_passing(found.states, catalogue.doubted)
    places = places_of(states, found.margins_nm, catalogue.size_kits)
    chosen = catalogue.kit_rows
    if found.windows_nm is not None:
        chosen = _chosen(catalogue, found.windows_nm)
        places = places_of(states[chosen], found.margins_nm[chosen])
    if asked.shape.finding:
        return _in_doubt(catalogue, asked, chosen)
    return Ranked(states, found.margins_nm, chosen, places)


def _in_doubt(catalogue: Catalogue, asked: Asked, chosen: Integers) -> Ranked:
    """Rank the kits by what no reading in doubt tells; the sizes are those that were read."""
    looked = looked_up_surely(catalogue, asked)
    found = catalogue_compared(catalogue.laid, looked, asked.survey.opening.stands_on)
    states = np.maximum(found.states, np.int8(UNKNOWN))
    places = places_of(states[chosen], found.margins_nm[chosen])
    return Ranked(states, found.margins_nm, chosen, places)


def _not_passing(states: Codes, doubted: Integers) -> Codes:
    """Let no size pass for which its sheet contradicts itself."""
    if len(doubted) == 0:
        return states
    held = states.copy()
    held[doubted] = np.maximum(held[doubted], UNKNOWN)
    return held


def _chosen(catalogue: Catalogue, windows: Integers) -> Integers:
    """Return the first size of each kit whose windows hold the known widths best."""
    rows, starts = catalogue.kit_rows, catalogue.kit_starts
    known = windows[rows]
    known[known >= FAR_NM // 2] = -FAR_NM
    best = np.repeat(np.maximum.reduceat(known, starts), np.diff([*starts, len(rows)]))
    holding = np.flatnonzero(known == best)
    first: Integers = rows[holding[np.searchsorted(holding, starts)]]
    return first


def places_of(states: Codes, margins: Integers, kits: Integers | None = None) -> Integers:
    """Return a whole number for each kit: the lower, the better is its place.

    Kits stand by state, then the roomiest first, then as they stand in the catalogue. All three
    fit into one number, which sorts in half the time, but for margins that nobody measured.

    Args:
        states: the state of each kit's chosen size [-].
        margins: its least margin [nm].
        kits: which kit each is; in turn when left out [-].

    Returns:
        The numbers; the kit stands in the last bits of each [-].
    """
    count = len(states)
    kits = np.arange(count) if kits is None else kits
    bits = count.bit_length()
    better = (states != FAILS).nonzero()[0]
    far = max(margins.max(), -margins.min())
    if far >= 1 << _PLACE_BITS - bits:
        order = np.lexsort((kits, -margins, states))
        ranks = np.empty(count, dtype=np.int64)
        ranks[order] = np.arange(count)
        return ranks << bits | kits
    places = np.left_shift(margins, bits)
    np.subtract(kits, places, out=places)
    places[better] += _STATE_PLACES[states[better]]
    return places


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
    findings = by_shape([*read_findings(case), *walls], asked.shape)
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
    first = ranked.first(tables_shape.MOST_KITS_ASKED.value)
    wanted = [catalogue.names[n] for n in first] if names is None else names
    told = []
    for kit in ranked.order():
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
    """Return an opening ready to be asked about; its shape is asked once for all kits.

    Args:
        survey: opening, readings and zones [-].
        house: the firm's settings [-].

    Returns:
        The opening [-].
    """
    return Asked(survey, Readings(survey, house), house, shape_told(survey, (), house))


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
    return {
        "kits": kits_told(catalogue, asked, ranked, wanted),
        "sizes": len(ranked.states),
        "why": asked.shape.finding.do if asked.shape.finding else None,
    }


def _kits(own: Strict) -> list[tuple[str, Sheet]]:
    kits = []
    for n, each in enumerate(own.children("kits", ("kit", "sheet"), least=1, most=MOST_ITEMS)):
        sheet = sheet_from(own, f"kits/{n}/sheet", each.members.get("sheet"))
        if sheet:
            kits.append((each.text("kit"), sheet))
    return kits
