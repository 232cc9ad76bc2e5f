"""How much faster is the catalogue's one pass than a plain loop, and how far from a bare compare?

`python tests/fitcheck/benchmark_which_kits.py`. Everything is timed once a round, in random order, the
bare compare twice: the two tell how far a ratio strays. Aims: a question about 100,000 sizes takes at most
3 bare compares of all their limits; one about 1,000 is 100 times as fast as the rules, kit by kit.
The pass leaves out what can be of no account: with every limit moved at random it can leave out less.
"""

import json
import random
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from fitcheck.rules.asked_case import Case, read_findings
from fitcheck.rules.catalogue import Asked, Catalogue, catalogue_compile
from fitcheck.rules.catalogue_blocks import FAR_NM, Laid, lines_of
from fitcheck.rules.catalogue_pass import Looked, catalogue_compared, looked_up
from fitcheck.rules.finding import worst
from fitcheck.rules.length import NM_PER_MM, Length, mm_text
from fitcheck.rules.sheet import Sheet, Size, Window
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read, survey_read
from fitcheck.rules.tables_shape import MOST_KITS_ASKED
from fitcheck.rules.which_kits import asked_about, places_of, sizes_compared

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "fitcheck/kits/demo"
SEED = 1
ROUNDS = 31
SLOW_ROUNDS, FEW = 3, 2_000
MOVED_MM = (10, 1_000)
TOLD = MOST_KITS_ASKED.value


def invented(count: int, seed: int = SEED) -> list[tuple[str, Sheet]]:
    """Invented kits of one size each: the demo's sheets with other windows [-]."""
    chance = random.Random(seed)
    sheets = [
        sheet_parse(sheet["body"])
        for path in sorted(DEMO.glob("*.json"))
        for sheet in json.loads(path.read_text(encoding="utf-8"))["sheets"]
    ]
    return [(f"kit {n}", _other(chance.choice(sheets), chance)) for n in range(count)]


def _other(sheet: Sheet, chance: random.Random) -> Sheet:
    size = chance.choice(sheet.sizes)
    least = chance.randrange(700, 1800) * NM_PER_MM
    room = chance.randrange(20, 120) * NM_PER_MM
    windows = tuple(
        Window(each.height, _length(least), _length(least + room)) for each in size.windows
    )
    return replace(sheet, sizes=(Size(size.code, windows, size.panels, size.page),))


def _length(nm: int) -> Length:
    return Length(nm, mm_text(nm))


def opening() -> Asked:
    """The opening of the sample inputs [-]."""
    text = (ROOT / "tests/fitcheck/data/inputs_bypass.json").read_text(encoding="utf-8")
    own = Strict(json.loads(text))
    return asked_about(survey_read(own), house_read(own))


def by_the_rules(kits: list[tuple[str, Sheet]], asked: Asked) -> list[str]:
    """The state of each kit's one size by the limits of readings, kit by kit through the rules."""
    return [
        worst(f.state for f in read_findings(Case(asked.survey, s, s.sizes[0], asked.house)))
        for _, s in kits
    ]


def by_a_plain_loop(lines: list[list[tuple[int, int]]], looked: Looked) -> list[int]:
    """The least margins by a plain loop over the same numbers as plain whole numbers [nm]."""
    offsets = looked.offsets_nm.tolist()
    found = []
    for line in lines:
        least = FAR_NM
        for key, signed in line:
            margin = signed + offsets[key]
            if margin < least:
                least = margin
        found.append(least)
    return found


def bare_compare(laid: Laid) -> int:
    """One numpy compare over the limits that the pass reads, each once [-]."""
    loose = (laid.loose_windows.signed_nm, laid.loose_others.signed_nm)
    blocks = (block.signed_nm for block in laid.blocks)
    return sum(int(np.count_nonzero(numbers <= 0)) for numbers in (*blocks, *loose))


def timed(what: dict[str, Callable[[], object]], rounds: int) -> dict[str, float]:
    """The median processor time of each, once a round in random order [ms]."""
    times: dict[str, list[float]] = {name: [] for name in what}
    chance = random.Random(SEED)
    for _ in range(rounds):
        for name in chance.sample(list(what), len(what)):
            start = time.thread_time()
            what[name]()
            times[name].append((time.thread_time() - start) * 1e3)
    return {name: statistics.median(taken) for name, taken in times.items()}


def moved(catalogue: Catalogue, by_nm: int) -> Catalogue:
    """The catalogue with every limit in a block moved at random, so that fewer lines are alike [nm]."""
    chance = np.random.default_rng(SEED)
    blocks = []
    for block in catalogue.laid.blocks:
        signed = block.signed_nm + chance.integers(-by_nm, by_nm + 1, block.signed_nm.shape)
        ends = {"least_nm": signed.min(axis=1), "most_nm": signed.max(axis=1)}
        blocks.append(replace(block, signed_nm=signed, **ends))
    return replace(catalogue, laid=replace(catalogue.laid, blocks=tuple(blocks)))


def measured(catalogue: Catalogue, kits: list[tuple[str, Sheet]]) -> dict[str, float]:
    """The times of the pass, of its parts, and of what they are held against [ms]."""
    asked = opening()
    looked = looked_up(catalogue, asked)
    ranked = sizes_compared(catalogue, asked, looked)
    fresh = [asked_about(asked.survey, asked.house) for _ in range(3 * ROUNDS)]
    on, lines = asked.survey.opening.stands_on, list(lines_of(catalogue.laid))
    quick: dict[str, Callable[[], object]] = {
        "bare compare": lambda: bare_compare(catalogue.laid),
        "bare compare, again": lambda: bare_compare(catalogue.laid),
        "margin and state of each": lambda: catalogue_compared(catalogue.laid, looked, on),
        "places, all in order": lambda: (
            places_of(ranked.states, ranked.margins_nm, catalogue.size_kits),
            ranked.order(),
        ),
        "looking up": lambda: looked_up(catalogue, fresh.pop()),
        "question, first 20": lambda: sizes_compared(catalogue, fresh.pop()).first(TOLD),
        "question, all in order": lambda: sizes_compared(catalogue, fresh.pop()).order(),
    }
    slow: dict[str, Callable[[], object]] = {
        "plain loop, same numbers": lambda: by_a_plain_loop(lines, looked)
    }
    if len(kits) <= FEW:
        slow["the rules, kit by kit"] = lambda: by_the_rules(kits, asked)
    return {**timed(quick, ROUNDS), **timed(slow, SLOW_ROUNDS)}


def main(counts: tuple[int, ...] = (1_000, 100_000)) -> None:
    """Print the times for each number of kits, and how they stand to the bare compare and the pass."""
    for count in counts:
        kits = invented(count)
        catalogue = catalogue_compile(kits)
        tell(f"{count} kits of one size", measured(catalogue, kits))
        if count > FEW:
            for far_mm in MOVED_MM:
                found = measured(moved(catalogue, far_mm * NM_PER_MM), kits)
                tell(f"limits moved by {far_mm} mm", found)


def tell(title: str, found: dict[str, float]) -> None:
    """Print the times, in milliseconds, in bare compares and in questions."""
    bare, whole = found["bare compare"], found["question, all in order"]
    print(f"{title:28}{'ms':>10}   bare compares   questions")
    for name, taken in found.items():
        print(f"  {name:26}{taken:10.3f}{taken / bare:16.2f}{taken / whole:12.2f}")


if __name__ == "__main__":
    main(tuple(int(one) for one in sys.argv[1:]) or (1_000, 100_000))
