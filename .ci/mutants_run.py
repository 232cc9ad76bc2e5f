"""How do the tests of the rules end when one function is replaced by its mutant?"""

import functools
import gc
import hashlib
import itertools
import json
import os
import resource
import signal
import sys
import time
import warnings
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import coverage
import hypothesis
import pytest
from _pytest.runner import runtestprotocol
from mutant import LOADED, Mutant

ROOT = Path(__file__).resolve().parents[1]
TESTS = [
    "tests/fitcheck/rules",
    "tests/fitcheck/test_check.py",
    "tests/fitcheck/test_inputs.py",
    "tests/published",
    "tests/kept",
]
PLAIN = ["-q", "-s", "--assert=plain", "--tb=no", "-p", "no:cacheprovider", "-n0", "-otimeout=0"]
TOO_LONG = 10  # times the processor's time that the unchanged tests take, and as many seconds more
LONG = 100_000
BROKEN = 99  # not a test failed but the running of it
Passed = dict[str, list[tuple[str, float]]]  # "file:line" -> tests that pass it, with their seconds


def run(mutants: list[Mutant], folder: Path) -> Iterator[tuple[Mutant, str]]:
    """Yield how each one ended, as it ends."""
    if not mutants:
        return
    os.chdir(ROOT)
    sys.path.insert(0, str(ROOT))
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    told, tell = os.pipe()
    if os.fork() == 0:
        os.close(told)
        with os.fdopen(tell, "w", buffering=1) as out:
            code = pytest.main([*PLAIN, *TESTS], plugins=[Loop(mutants, folder, out)])
        os._exit(int(code))
    os.close(tell)
    by_name = {one.name: one for one in mutants}
    with os.fdopen(told) as lines:
        for line in lines:
            name, how = json.loads(line)
            print(how, name, file=sys.stderr, flush=True)
            yield by_name[name], how
    os.wait()


class Loop:
    """Takes the place of pytest's own loop over the tests."""

    def __init__(self, mutants: list[Mutant], folder: Path, out: Any) -> None:
        self.mutants, self.folder, self.out = mutants, folder, out

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        """Look for one failing example, not for the smallest."""
        phases = (hypothesis.Phase.explicit, hypothesis.Phase.generate)
        same = hypothesis.settings.get_profile("same")
        hypothesis.settings.register_profile("mutants", parent=same, phases=phases)
        hypothesis.settings.load_profile("mutants")

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        by_id = {item.nodeid: item for item in session.items}
        gc.freeze()  # so that no fork looks through all that is here already
        session.config._tmp_path_factory.getbasetemp()  # type: ignore[attr-defined]
        passed = self.unchanged(list(by_id.values()))
        costs = {name: cost for tests in passed.values() for name, cost in tests}
        in_order = [by_id[name] for name in sorted(costs, key=costs.__getitem__) if name in by_id]
        if in_fork(functools.partial(fails, in_order), LONG) != "survived":
            raise SystemExit("The tests fail in another order, with nothing changed.")
        for mutant in self.mutants:
            names = tests_of(mutant, passed, by_id)
            items = [by_id[name] for name, _ in names if name in by_id]
            limit = TOO_LONG * (1 + sum(seconds for _, seconds in names))
            work = functools.partial(noticed, mutant, items)
            how = in_fork(work, limit, polite=True) if items else "not reached"
            self.out.write(json.dumps([mutant.name, how]) + "\n")
        return True

    def unchanged(self, items: list[pytest.Item]) -> Passed:
        """Return which tests pass each line, learnt in a fork so that nothing is remembered here."""
        passed: Passed = {}
        for path, own in itertools.groupby(items, lambda item: item.path):
            here = list(own)
            kept = self.folder / f"passed-{path.stem}-{digest(path)}.json"
            if (
                not kept.exists()
                and in_fork(functools.partial(learn, here, kept), LONG) != "survived"
            ):
                raise SystemExit(f"The tests of {path.name} fail unchanged.")
            for name, (seconds, lines) in json.loads(kept.read_text()).items():
                for line in lines:
                    passed.setdefault(line, []).append((name, seconds))
        return passed


def digest(path: Path) -> str:
    """Return a digest of a file of tests, of the data beside it, and of the rules."""
    paths = [path, *sorted(path.parent.rglob("*.json")), *sorted((ROOT / "fitcheck").rglob("*.py"))]
    return hashlib.sha256(b"".join(one.read_bytes() for one in paths)).hexdigest()[:12]


def everything() -> str:
    """Return a digest of the rules and of all their tests: another one asks every mutant anew."""
    found = [path for one in TESTS for path in [ROOT / one, *sorted((ROOT / one).rglob("*.py"))]]
    return hashlib.sha256(
        "".join(digest(one) for one in found if one.is_file()).encode()
    ).hexdigest()[:12]


def learn(items: list[pytest.Item], kept: Path) -> bool:
    """Run each test once and note the lines of the rules that it passes; is one failing?"""
    meter = coverage.Coverage(data_file=None, source=["fitcheck/rules"], config_file=False)
    learnt: dict[str, tuple[float, list[str]]] = {}
    meter.start()
    for item, after in zip(items, [*items[1:], None], strict=True):
        meter.switch_context(item.nodeid)
        start = time.process_time()
        if any(report.failed for report in runtestprotocol(item, log=False, nextitem=after)):
            return True
        learnt[item.nodeid] = (time.process_time() - start, [])
    meter.stop()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # tests of tables alone pass no line of a rule
        data = meter.get_data()
    for file in data.measured_files():
        for line, names in data.contexts_by_lineno(file).items():
            for name in filter(None, names):
                learnt[name][1].append(f"{Path(file).name}:{line}")
    kept.write_text(json.dumps(learnt))
    return False


def tests_of(mutant: Mutant, passed: Passed, names: Iterable[str]) -> list[tuple[str, float]]:
    """Return the tests that pass the changed statement, else that enter the function, else of the tables."""
    file = mutant.module.rpartition(".")[2] + ".py"
    for lines in mutant.lines():
        found = {name: cost for line in lines for name, cost in passed.get(f"{file}:{line}", [])}
        if found:
            return sorted(found.items(), key=lambda one: one[1])
    if LOADED.match(mutant.module):
        return [(name, 1.0) for name in names if "test_tables" in name or "test_constants" in name]
    return []


def noticed(mutant: Mutant, items: list[pytest.Item]) -> bool:
    """Does a test fail when the mutant stands in its function's place? The rest is not run."""
    return not mutant.put() or fails(items)


def fails(items: list[pytest.Item]) -> bool:
    return any(
        report.failed
        for item, after in zip(items, [*items[1:], None], strict=True)
        for report in runtestprotocol(item, log=False, nextitem=after)
    )


def in_fork(work: Callable[[], bool], limit: float, *, polite: bool = False) -> str:
    """Return how the work ended in a process of its own, by the processor's time, not by the clock."""
    child = os.fork()
    if child == 0:
        if polite:
            os.setpriority(os.PRIO_PROCESS, 0, 19)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        resource.setrlimit(resource.RLIMIT_CPU, (int(limit) + 1,) * 2)
        code = BROKEN
        try:
            code = 1 if work() else 0
        finally:
            os._exit(code)
    _, status = os.waitpid(child, 0)
    code = os.waitstatus_to_exitcode(status)
    if code in {-signal.SIGXCPU, -signal.SIGKILL}:
        return "too long"
    return {0: "survived", 1: "killed"}.get(code, f"ended with {code}")
