"""How do the tests of the rules end when one function is replaced by its mutant?"""

import ast
import difflib
import functools
import hashlib
import importlib
import itertools
import json
import os
import re
import resource
import signal
import sys
import time
import types
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import coverage
import hypothesis
import pytest
from _pytest.runner import runtestprotocol

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
MADE = re.compile(r"__mutmut_(orig|\d+)")
Passed = dict[str, list[tuple[str, float]]]  # "file:line" -> tests that pass it, with their seconds


@dataclass(frozen=True)
class Mutant:
    """One function with one small change."""

    name: str
    module: str
    before: str
    after: str

    def digest(self) -> str:
        return hashlib.sha256(self.after.encode()).hexdigest()[:12]

    def target(self) -> types.FunctionType:
        """Return the function that is to be changed, without what wraps it."""
        plain = self.name.rpartition("__mutmut_")[0].rpartition(".")[2]
        owner: Any = importlib.import_module(self.module)
        if not plain.startswith("x_"):
            owner = getattr(owner, plain.split("ǁ")[1])
        called = plain[2:] if plain.startswith("x_") else plain.split("ǁ")[2]
        found = vars(owner)[called]
        return getattr(found, "__func__", found)

    def put(self) -> None:
        """Let every caller meet the changed code, under whatever name it imported the function."""
        old = self.target()
        space = dict(old.__globals__)
        exec("from __future__ import annotations\n" + self.after, space)
        new = space[self.name.rpartition(".")[2]]
        new = getattr(new, "__func__", new)
        old.__code__, old.__defaults__ = new.__code__, new.__defaults__
        old.__kwdefaults__ = new.__kwdefaults__

    def lines(self) -> tuple[range, range]:
        """Return the lines of the statement that was changed, and of its function, in their file."""
        before, after = (MADE.sub("", one).splitlines() for one in (self.before, self.after))
        match = difflib.SequenceMatcher(None, before, after, autojunk=False)
        first = next(one[1] for one in match.get_opcodes() if one[0] != "equal") + 1
        function = ast.parse(self.before).body[0]
        assert isinstance(function, ast.FunctionDef)
        top = min(one.lineno for one in (function, *function.decorator_list))
        start = self.target().__code__.co_firstlineno - top
        spans = [_header(one) for one in ast.walk(function) if isinstance(one, ast.stmt)]
        changed = min(
            (span for span in spans if first in span), key=len, default=range(first, first + 1)
        )
        whole = range(top, (function.end_lineno or top) + 1)
        return _moved(changed, start), _moved(whole, start)


def _moved(lines: range, by: int) -> range:
    return range(lines.start + by, lines.stop + by)


def _header(one: ast.stmt) -> range:
    """Return the lines of a statement without the statements within it."""
    body = getattr(one, "body", None)
    last = body[0].lineno - 1 if body else one.end_lineno
    return range(one.lineno, max(last or 0, one.lineno) + 1)


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
        session.config._tmp_path_factory.getbasetemp()  # type: ignore[attr-defined]
        passed = self.unchanged(list(by_id.values()))
        for mutant in self.mutants:
            names = tests_of(mutant, passed)
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
    data = meter.get_data()
    for file in data.measured_files():
        for line, names in data.contexts_by_lineno(file).items():
            for name in filter(None, names):
                learnt[name][1].append(f"{Path(file).name}:{line}")
    kept.write_text(json.dumps(learnt))
    return False


def tests_of(mutant: Mutant, passed: Passed) -> list[tuple[str, float]]:
    """Return the tests that pass the changed statement, else those that enter the function."""
    file = mutant.module.rpartition(".")[2] + ".py"
    for lines in mutant.lines():
        found = {name: cost for line in lines for name, cost in passed.get(f"{file}:{line}", [])}
        if found:
            return sorted(found.items(), key=lambda one: one[1])
    return []


def noticed(mutant: Mutant, items: list[pytest.Item]) -> bool:
    """Does a test fail when the mutant stands in its function's place? The rest is not run."""
    mutant.put()
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
