"""What is one question that the service answers and forgets?"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from importlib import import_module
from pathlib import Path
from typing import Any

from contractor.api.problems import Problem
from fitcheck.checks.members import Shape
from fitcheck.kits.services import sheet_find
from fitcheck.rules.strict import InputError, InputErrors

EXAMPLES = Path(__file__).parent / "examples"
Answer = dict[str, Any]


@dataclass(frozen=True)
class Question:
    """One question: its address, its title, who answers it, what is sent and what comes back.

    `rule` names the module of fitcheck.rules whose `answer` is asked; it is loaded when somebody
    asks, so that a process that is never asked stays light. `by_kit` says that a rule sheet is
    needed, which may be named by `kit` instead.
    """

    address: str
    title: str
    short: str
    says: str
    rule: str
    asks: Shape
    tells: Shape
    by_kit: bool = False
    filled: Callable[[Answer], Answer] | None = None

    @cached_property
    def example(self) -> Answer:
        """A worked example, which the suite asks."""
        read: Answer = json.loads((EXAMPLES / f"{self.address}.json").read_text(encoding="utf-8"))
        return read

    def ask(self, asked: Mapping[str, Any]) -> Answer:
        """Answer, with the sheet of a named kit put in.

        Raises:
            InputErrors: what was sent makes no sense; every mistake is named.
            Problem: there is no such kit, or kit and sheet were both sent.
        """
        inputs = dict(asked)
        named = self.by_kit and "kit" in inputs
        if named:
            inputs["sheet"] = kit_sheet(inputs)
        try:
            return self._told(inputs)
        except InputErrors as wrong:
            raise InputErrors(
                [_of_kit(one) for one in wrong.errors] if named else wrong.errors
            ) from None

    def _told(self, inputs: Answer) -> Answer:
        if self.filled:
            return self.filled(inputs)
        told: Answer = import_module(f"fitcheck.rules.{self.rule}").answer(inputs)
        return told


def _of_kit(error: InputError) -> InputError:
    """Tell a mistake of a sheet that was named by its kit where the kit was named."""
    return replace(error, pointer="/kit") if error.pointer.startswith("/sheet") else error


def kit_sheet(inputs: Answer) -> Any:
    """Take the name of a kit out of the inputs and give its sheet's body."""
    if "sheet" in inputs:
        raise Problem(
            "one_of_two",
            "Send `kit` or `sheet`, not both.",
            hint="Leave one out.",
            pointer="/kit",
        )
    return sheet_find(name=str(inputs.pop("kit"))).body
