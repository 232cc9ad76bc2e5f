"""Which function does a mutant change, where, and how does the changed code take its place?"""

import ast
import difflib
import hashlib
import importlib
import inspect
import re
import sys
import types
from dataclasses import dataclass
from typing import Any

MADE = re.compile(r"__mutmut_(orig|\d+)")
CLASS = "ǁ"
LOADED = re.compile(r"^fitcheck\.rules\.(tables|sources)")  # their functions run as they are loaded


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
            owner = getattr(owner, plain.split(CLASS)[1])
        called = plain[2:] if plain.startswith("x_") else plain.split(CLASS)[2]
        found = vars(owner)[called]
        return getattr(found, "__func__", found)

    def put(self) -> bool:
        """Let every caller meet the changed code, under whatever name it imported the function.

        False when a file of tables cannot even be loaded with it.
        """
        if LOADED.match(self.module):
            return self.loads()
        old = self.target()
        space = dict(old.__globals__)
        exec("from __future__ import annotations\n" + self.after, space)
        new = space[self.name.rpartition(".")[2]]
        new = getattr(new, "__func__", new)
        old.__code__, old.__defaults__ = new.__code__, new.__defaults__
        old.__kwdefaults__ = new.__kwdefaults__
        return True

    def loads(self) -> bool:
        """Run the file of the tables once more with the mutant in it, for their constants are made then."""
        module = sys.modules[self.module]
        lines = inspect.getsource(module).splitlines()
        whole = self.lines()[1]
        lines[whole.start - 1 : whole.stop - 1] = (
            MADE.sub("", self.after).replace("x_", "", 1).splitlines()
        )
        try:
            exec(compile("\n".join(lines), str(module.__file__), "exec"), vars(module))
        except Exception:
            return False
        return True

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
