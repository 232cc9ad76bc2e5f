"""How much faster is the catalogue's one pass than a plain loop, and how far from a bare compare?

Run it from the checkout: python -m tests.fitcheck.benchmark_which_kits
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

from fitcheck.rules.asked_case import Case, read_findings
from fitcheck.rules.catalogue import FAR_NM, Asked, Catalogue, Limits, catalogue_compile
from fitcheck.rules.finding import worst
from fitcheck.rules.length import NM_PER_MM, Length, mm_text
from fitcheck.rules.sheet import Sheet, Size, Window
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import house_read, survey_read
from fitcheck.rules.which_kits import Looked, asked_about, looked_up, sizes_compared

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "fitcheck/kits/demo"
SEED = 1
ROUNDS = 7


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


def bare_compare(limits: tuple[Limits, ...]) -> int:
    """One numpy compare over the same bytes: every limit and every key once [-]."""
    return sum(
        int(np.count_nonzero(each.signed_nm <= 0)) + int(np.count_nonzero(each.keys <= 0))
        for each in limits
    )


def timed(what: Callable[[], object], rounds: int = ROUNDS) -> float:
    """The median time of some rounds [s]."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        what()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main(counts: tuple[int, ...] = (1_000, 100_000)) -> None:
    """Print the times and their ratios for each number of kits."""
    asked = opening()
    for count in counts:
        kits = invented(count)
        start = time.perf_counter()
        catalogue = catalogue_compile(kits)
        made = time.perf_counter() - start
        looked = looked_up(catalogue, asked)
        whole = timed(lambda c=catalogue: sizes_compared(c, asked))
        only = timed(lambda c=catalogue, k=looked: sizes_compared(c, asked, k))
        bare = timed(lambda c=catalogue: bare_compare((c.windows, c.others)))
        plain = timed(lambda c=catalogue, k=looked: by_a_plain_loop(c, k), 3)
        print(
            f"{count} kits, {len(catalogue.probes)} things looked up, laid out once in {made:.2f} s"
        )
        print(f"  one pass, with looking up  {whole * 1e3:9.3f} ms")
        print(f"  one pass alone             {only * 1e3:9.3f} ms")
        print(f"  bare compare, same bytes   {bare * 1e3:9.3f} ms  pass is {only / bare:.1f} times")
        print(
            f"  plain loop, same numbers   {plain * 1e3:9.3f} ms  {plain / only:.0f} times the pass"
        )
        if count <= 2_000:
            rules = timed(lambda k=kits: by_the_rules(k, asked), 3)
            print(
                f"  the rules, kit by kit      {rules * 1e3:9.3f} ms  {rules / whole:.0f} times the "
                f"pass with looking up, {rules / only:.0f} times the pass alone"
            )


if __name__ == "__main__":
    main(tuple(int(one) for one in sys.argv[1:]) or (1_000, 100_000))
