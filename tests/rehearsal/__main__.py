"""How many mistakes of a survey are caught, and when? `python tests/rehearsal [--surveys 20000]`.

Invented openings (lean, taper, bow, level, errors of tape and level; all seeded) are surveyed with
three widths, two leans, the level and two diagonals, with one mistake in each survey; then once more
without any. Prints a table per kind and per quantity. Exits 1 when a wrong cut was released, or when
enough surveys show that an aim was missed.
"""

import argparse
import sys
import time
from collections.abc import Callable, Iterable
from multiprocessing import Pool
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from mistakes import KINDS
from survey import Outcome, gross, rehearsed

SEED = 20_261_125
AIMS = (0.98, 0.85, 0.995)  # of mistakes of 1/4 in and more: on the spot, located, after one more
MOST_FALSE = 0.01
ENOUGH = 5000  # surveys with such a mistake, before a share is held against its aim


def main() -> int:
    """Rehearse, print, judge."""
    parser = argparse.ArgumentParser(prog="python tests/rehearsal", description=__doc__)
    parser.add_argument("--surveys", type=int, default=20_000, help="with a mistake; as many clean")
    parser.add_argument("--processes", type=int, default=2)
    asked = parser.parse_args()
    kinds = list(KINDS)
    wanted = [(SEED, n, kinds[n % len(kinds)]) for n in range(asked.surveys)]
    wanted += [(SEED, n, "") for n in range(asked.surveys)]
    done: list[Outcome] = []
    start = time.monotonic()
    with Pool(asked.processes) as pool:
        for one in pool.imap_unordered(_play, wanted, chunksize=50):
            done.append(one)
            if sys.stderr.isatty() and not len(done) % 500:
                print(f"\r{len(done)} of {len(wanted)}", end="", file=sys.stderr)
    print(f"{len(done)} surveys, seed {SEED}, {time.monotonic() - start:.0f} s")
    return _told(done)


def _play(wanted: tuple[int, int, str]) -> Outcome:
    return rehearsed(*wanted)


def _told(done: list[Outcome]) -> int:
    wrong = [one for one in done if one.kind]
    clean = [one for one in done if not one.kind]
    large, small = [o for o in wrong if gross(o)], [o for o in wrong if not gross(o)]
    print("\nmistakes of 1/4 in and more        surveys  on the spot  located  after one more")
    for kind in KINDS:
        _line(kind, [o for o in large if o.kind == kind])
    for quantity in sorted({o.quantity for o in large}):
        _line(f"in a {quantity}", [o for o in large if o.quantity == quantity])
    _line("all of 1/4 in and more", large)
    _line("smaller ones", small)
    _line("clean: false alarms", clean)
    print("\nat the saw                         surveys     released      held")
    wrongs = 0
    for name, some in _groups(done):
        released = [o for o in some if o.decision == "released"]
        bad = sum(not o.right for o in released)
        wrongs += bad
        print(
            f"{name:<34} {len(some):>7}  {len(released):>11}  {len(some) - len(released):>8}  wrong: {bad}"
        )
    print(f"\nwrong cuts released: {wrongs}")
    least = [share - aim for share, aim in zip(_shares(large), AIMS, strict=True)]
    missed = len(large) >= ENOUGH and (min(least) < 0 or _shares(clean)[0] > MOST_FALSE)
    print("An aim was missed." if missed else "Every aim that so many surveys can tell was met.")
    return 1 if wrongs or missed else 0


def _groups(done: list[Outcome]) -> Iterable[tuple[str, list[Outcome]]]:
    choices: dict[str, Callable[[Outcome], bool]] = {
        "clean survey, both read right": lambda o: not o.kind and not o.misread_at_saw,
        "clean survey, first misread": lambda o: not o.kind and o.misread_at_saw,
        "wrong survey, both read right": lambda o: bool(o.kind) and not o.misread_at_saw,
        "wrong survey, first misread": lambda o: bool(o.kind) and o.misread_at_saw,
    }
    for name, chosen in choices.items():
        yield name, [o for o in done if chosen(o)]


def _line(name: str, some: list[Outcome]) -> None:
    if not some:
        print(f"{name:<34} {0:>7}")
        return
    told = "  ".join(f"{share:>10.2%}" for share in _shares(some))
    print(f"{name:<34} {len(some):>7}  {told}")


def _shares(some: list[Outcome]) -> tuple[float, float, float]:
    spot, located, later = (
        sum(getattr(one, name) for one in some) / max(1, len(some))
        for name in ("spot", "located", "after_one_more")
    )
    return spot, located, later


if __name__ == "__main__":
    sys.exit(main())
