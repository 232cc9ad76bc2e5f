"""Does a test notice when a rule is changed? `python .ci/mutants.py FOLDER --sample 600 --seed 1`

mutmut changes every function of `fitcheck/rules` in each small way it knows. A seeded sample of these
mutants is run: the tests are gathered once (`mutants_run.py`), each mutant gets a fork of that process
in which the changed code stands in the function's place, and the tests that pass the changed statement
run, quickest first, until one fails. A mutant that no test notices is a survivor and is printed with what
was changed; `survivors.txt` tells of some why no test can notice them. Nothing but FOLDER is written, and
what stands there already is not run again; `--show` only prints.

It wants an environment of its own with `.lock/tests.txt` and mutmut==3.8.1.
"""

import argparse
import difflib
import hashlib
import itertools
import json
import math
import random
import sys
import textwrap
from collections import Counter
from pathlib import Path

from mutant import Mutant
from mutants_run import everything, run
from mutmut.mutation.file_mutation import mutate_file_contents

ROOT = Path(__file__).resolve().parents[1]
RULES = ROOT / "fitcheck" / "rules"
Z_95 = 1.959964


def main() -> int:
    """Make the mutants, draw, run what was not run yet, tell."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--sample", type=int, default=600)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--only", nargs="*", default=[], help="these mutants, by name, once more")
    asked.add_argument("--show", action="store_true")
    options = asked.parse_args()
    options.folder.mkdir(parents=True, exist_ok=True)
    made = {
        one.name: one for path in sorted(RULES.rglob("*.py")) for one in of(path, options.folder)
    }
    names = options.only or sample(sorted(made), options.sample, options.seed)
    results = options.folder / f"results-{everything()}.json"
    known = json.loads(results.read_text()) if results.exists() else {}
    ended = {name: known.get(f"{name} {made[name].digest()}") for name in names}
    if not options.show:
        waiting = [made[name] for name in names if options.only or not ended[name]]
        random.Random(options.seed).shuffle(waiting)  # a part of the run is a fair sample too
        for mutant, how in run(waiting, options.folder):
            ended[mutant.name] = known[f"{mutant.name} {mutant.digest()}"] = how
            results.write_text(json.dumps(known, indent=0))
    return tell(made, ended)


def of(path: Path, folder: Path) -> list[Mutant]:
    """Return every mutant of one file; made once and kept, for making them takes a while."""
    source = path.read_text(encoding="utf-8")
    kept = folder / f"{path.stem}-{hashlib.sha256(source.encode()).hexdigest()[:12]}.json"
    if not kept.exists():
        kept.write_text(json.dumps(_made(path, source)))
    return [Mutant(*one) for one in json.loads(kept.read_text())]


def _made(path: Path, source: str) -> list[tuple[str, str, str, str]]:
    """Return the name, module, original text and changed text of each mutant."""
    where = path.relative_to(ROOT).with_suffix("")
    module = ".".join(where.parts)
    file = mutate_file_contents(str(path), source)
    lines, spans = file.code.splitlines(), file.line_span_by_function_name

    def text(name: str) -> str:
        return textwrap.dedent(
            "\n".join(lines[spans[name].start - 1 : spans[name].end]).strip("\n")
        )

    return [
        (f"{module}.{name}", module, text(name.rpartition("_")[0] + "_orig"), text(name))
        for name in file.mutant_names
    ]


def sample(names: list[str], size: int, seed: int) -> list[str]:
    """Draw one name of each of `size` equal runs of the sorted names, so that every file has its share."""
    draw = random.Random(seed)
    size = min(size, len(names))
    edges = [len(names) * step // size for step in range(size + 1)]
    return [names[draw.randrange(*edge)] for edge in itertools.pairwise(edges)]


def tell(made: dict[str, Mutant], ended: dict[str, str | None]) -> int:
    """Print each survivor with what was changed, then the counts and the share that was killed."""
    reasons = reasons_of(Path(__file__).with_name("survivors.txt"))
    for name, how in ended.items():
        if how in {"survived", "not reached"}:
            print(f"{name}: {how}. {reasons.get(name, '')}\n{changed(made[name])}")
    counts = Counter(how or "not run" for how in ended.values())
    done = len(ended) - counts["not run"]
    print(f"{len(ended)} of {len(made)} mutants:", dict(counts.most_common()))
    if not done:
        return 1
    killed = counts["killed"] + counts["too long"]
    low, high = wilson(killed, done)
    print(f"killed {killed} of {done}: {killed / done:.1%} (95 % Wilson: {low:.1%} to {high:.1%})")
    return 0 if killed >= 0.9 * done else 1


def changed(mutant: Mutant) -> str:
    """Return the lines that differ, as they were and as they are."""
    told = difflib.unified_diff(mutant.before.splitlines(), mutant.after.splitlines(), n=0)
    return "\n".join(
        f"    {one}" for one in list(told)[2:] if "__mutmut_" not in one and one[0] != "@"
    )


def reasons_of(path: Path) -> dict[str, str]:
    """Return the survivors that no test can notice, each with its reason."""
    lines = path.read_text(encoding="utf-8").splitlines() if path.exists() else []
    parts = [line.partition(": ") for line in lines if line and not line.startswith("#")]
    return {name: reason for name, _, reason in parts}


def wilson(killed: int, done: int) -> tuple[float, float]:
    """Return the 95 % interval of a share after Wilson (1927)."""
    share, square = killed / done, Z_95**2
    middle = (share + square / (2 * done)) / (1 + square / done)
    half = (
        math.sqrt(share * (1 - share) / done + square / (4 * done**2)) * Z_95 / (1 + square / done)
    )
    return middle - half, middle + half


if __name__ == "__main__":
    sys.exit(main())
