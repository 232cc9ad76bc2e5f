"""How much faster is the catalogue's one pass than a plain loop, and how far from a bare compare?

`python tests/fitcheck/benchmark_which_kits.py`. Everything is timed once a round, in random order, the
bare compare twice: the two tell how far a ratio strays. Aims: comparing 100,000 sizes takes at most 3
bare compares of the same numbers; a question about 1,000 is 100 times as fast as the rules, kit by kit.
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
from fitcheck.rules.catalogue import FAR_NM, Asked, Catalogue, catalogue_compile
from fitcheck.rules.catalogue_blocks import Laid
from fitcheck.rules.finding import worst
from fitcheck.rules.length import NM_PER_MM, Length, mm_text
from fitcheck.rules.sheet import Sheet, Size, Window
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read, survey_read
from fitcheck.rules.which_kits import (
    Looked,
    asked_about,
    least_margins,
    looked_up,
    ranked_by,
    sizes_compared,
)

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "fitcheck/kits/demo"
SEED = 1
ROUNDS = 31
SLOW_ROUNDS, FEW = 3, 2_000


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


def by_a_plain_loop(catalogue: Catalogue, looked: Looked) -> list[int]:
    """The least margins by a plain loop over the same numbers as plain whole numbers [nm]."""
    offsets = looked.offsets_nm.tolist()
    least = [FAR_NM] * len(catalogue.size_kits)
    for limits in (catalogue.windows, catalogue.others):
        flat = zip(limits.signed_nm.tolist(), limits.keys.tolist(), strict=True)
        for row, count in enumerate(limits.counts.tolist()):
            for _ in range(count):
                signed, key = next(flat)
                margin = signed + offsets[key]
                if margin < least[row]:
                    least[row] = margin
    return least


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


def measured(kits: list[tuple[str, Sheet]]) -> dict[str, float]:
    """The times of the pass, of its parts, and of what they are held against [ms]."""
    asked, catalogue = opening(), catalogue_compile(kits)
    looked = looked_up(catalogue, asked)
    ranked = sizes_compared(catalogue, asked, looked)
    best = ranked.states[ranked.chosen], ranked.margins_nm[ranked.chosen]
    quick: dict[str, Callable[[], object]] = {
        "bare compare": lambda: bare_compare(catalogue.laid),
        "bare compare, again": lambda: bare_compare(catalogue.laid),
        "least margin of each size": lambda: least_margins(catalogue.laid, looked),
        "putting the kits in order": lambda: ranked_by(*best),
        "the whole pass": lambda: sizes_compared(catalogue, asked, looked),
        "with looking up": lambda: sizes_compared(catalogue, asked),
    }
    slow: dict[str, Callable[[], object]] = {
        "plain loop, same numbers": lambda: by_a_plain_loop(catalogue, looked)
    }
    if len(kits) <= FEW:
        slow["the rules, kit by kit"] = lambda: by_the_rules(kits, asked)
    return {**timed(quick, ROUNDS), **timed(slow, SLOW_ROUNDS)}


def main(counts: tuple[int, ...] = (1_000, 100_000)) -> None:
    """Print the times for each number of kits, and how they stand to the bare compare and the pass."""
    for count in counts:
        found = measured(invented(count))
        bare, whole = found["bare compare"], found["with looking up"]
        print(f"{count} kits of one size{'':10}ms   bare compares   questions")
        for name, taken in found.items():
            print(f"  {name:26}{taken:10.3f}{taken / bare:16.2f}{taken / whole:12.2f}")


if __name__ == "__main__":
    main(tuple(int(one) for one in sys.argv[1:]) or (1_000, 100_000))
