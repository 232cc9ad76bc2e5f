"""Does this JSON hold what was asked for, and nothing else?"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from difflib import get_close_matches
from functools import lru_cache
from itertools import islice
from typing import TypeVar

from fitcheck.rules.length import Length, LengthError, length_parse

Choice = TypeVar("Choice", bound=str)
T = TypeVar("T")
NOTHING = Length(0, "")
MOST_ITEMS = 500
MOST_CHILDREN = 100
LONGEST_TEXT = 2000
MOST_STRANGERS = 50
LONGEST_NUMBER = 16


@dataclass(frozen=True, slots=True)
class InputError:
    """One mistake in what was sent: where, what kind, what is wrong, what to send instead."""

    pointer: str
    code: str
    detail: str
    hint: str = ""

    def as_json(self) -> dict[str, str]:
        """Return the mistake as plain JSON."""
        return {
            "pointer": self.pointer,
            "code": self.code,
            "detail": self.detail,
            "hint": self.hint,
        }


@lru_cache(maxsize=512)
def _names(known: tuple[str, ...]) -> frozenset[str]:
    return frozenset(known)


class InputErrors(ValueError):
    """Every mistake found in one reading of the inputs, in the order they stand."""

    def __init__(self, errors: list[InputError]) -> None:
        super().__init__("; ".join(f"{e.pointer}: {e.detail}" for e in errors))
        self.errors = errors


@dataclass(slots=True)
class Strict:
    """An object being read member by member; mistakes are collected, not raised."""

    members: Mapping[str, object]
    pointer: str = ""
    errors: list[InputError] = field(default_factory=list)

    @classmethod
    def open(
        cls, value: object, known: tuple[str, ...], pointer: str, errors: list[InputError]
    ) -> "Strict":
        """Open a value that must be an object with no members but the known ones."""
        if not isinstance(value, dict):
            errors.append(InputError(pointer, "not_an_object", "An object is wanted here."))
            return cls({}, pointer, [])
        opened = cls(value, pointer, errors)
        if not value.keys() <= _names(known):
            opened._report_strangers(known)
        return opened

    def _report_strangers(self, known: tuple[str, ...]) -> None:
        strangers = (str(name) for name in self.members if name not in known)
        for name in islice(strangers, MOST_STRANGERS):
            near = get_close_matches(name, known, 1) if len(name) < LONGEST_TEXT else []
            hint = f"did you mean {near[0]}?" if near else f"known: {', '.join(known)}"
            self.refuse(name, "unknown_member", f"{name} is not known here.", hint)

    def refuse(self, name: str, code: str, detail: str, hint: str = "") -> None:
        """Note a mistake at a member."""
        step = name.replace("~", "~0").replace("/", "~1")
        self.errors.append(InputError(f"{self.pointer}/{step}", code, detail, hint))

    def has(self, name: str) -> bool:
        """Return whether the member is there and not null."""
        return self.members.get(name) is not None

    def text(self, name: str, default: str | None = None) -> str:
        """Return a text that is not empty."""
        value = self.members.get(name)
        if value is None and default is not None:
            return default
        if isinstance(value, str) and 0 < len(value) <= LONGEST_TEXT:
            return value
        detail = f"{name} is a text of 1 to {LONGEST_TEXT} characters."
        self.refuse(name, "missing" if value is None else "not_a_text", detail)
        return ""

    def choice(self, name: str, choices: tuple[Choice, ...], default: str | None = None) -> Choice:
        """Return one of the words allowed."""
        value = self.members.get(name)
        if value is None:
            value = default
        if isinstance(value, str) and value in choices:
            return value
        near = get_close_matches(value, choices, 1) if isinstance(value, str) else []
        hint = f"did you mean {near[0]}?" if near else ""
        code = "missing" if value is None else "not_a_choice"
        self.refuse(name, code, f"{name} is one of {', '.join(choices)}.", hint)
        return choices[0]

    def choices(self, name: str, choices: tuple[Choice, ...]) -> tuple[Choice, ...]:
        """Return a list of words allowed, at least one."""
        picked = []
        for index, value in enumerate(self.items(name, least=1)):
            one = Strict({"it": value}, f"{self.pointer}/{name}/{index}", [])
            picked.append(one.choice("it", choices))
            self.errors += [
                InputError(one.pointer, e.code, f"One of {', '.join(choices)}.", e.hint)
                for e in one.errors
            ]
        return tuple(picked)

    def integer(self, name: str, least: int, most: int) -> int:
        """Return a whole number within its range."""
        value = self.members.get(name)
        if isinstance(value, int) and not isinstance(value, bool) and least <= value <= most:
            return value
        code = "missing" if value is None else "not_in_range"
        self.refuse(name, code, f"{name} is a whole number from {least} to {most}.")
        return least

    def flag(self, name: str, default: bool | None = None) -> bool:
        """Return true or false."""
        value = self.members.get(name, default)
        if isinstance(value, bool):
            return value
        self.refuse(name, "missing" if value is None else "not_a_flag", f"{name} is true or false.")
        return False

    def length(self, name: str, *, signed: bool = False, zero: bool = False) -> Length:
        """Return a length; negative and zero only where they make sense."""
        try:
            length = length_parse(self.members.get(name))
        except LengthError as error:
            missing = self.members.get(name) is None
            self.refuse(name, "missing" if missing else error.code, str(error), error.hint)
            return NOTHING
        if not signed and (length.nm < 0 or (length.nm == 0 and not zero)):
            rule = "zero or more" if zero else "more than zero"
            self.refuse(name, "length_out_of_range", f"{name} is {rule}.")
        return length

    def length_or_none(
        self, name: str, *, signed: bool = False, zero: bool = False
    ) -> Length | None:
        """Return a length, or nothing when the member is absent or null."""
        return self.length(name, signed=signed, zero=zero) if self.has(name) else None

    def number(self, name: str, least: str, most: str, default: str) -> Decimal:
        """Return a plain decimal written as a text."""
        value = self.members.get(name, default)
        try:
            short = isinstance(value, str) and len(value) <= LONGEST_NUMBER
            number = Decimal(str(value)) if short else Decimal("NaN")
        except InvalidOperation:
            number = Decimal("NaN")
        if number.is_finite() and Decimal(least) <= number <= Decimal(most):
            return number
        hint = f'write "{default}"'
        self.refuse(name, "not_in_range", f"{name} is a decimal text, {least} to {most}.", hint)
        return Decimal(default)

    def items(self, name: str, least: int = 0, most: int = MOST_ITEMS) -> list[object]:
        """Return a list that is not absurdly long."""
        value = self.members.get(name)
        if value is None and least == 0:
            return []
        if isinstance(value, list | tuple) and least <= len(value) <= most:
            return list(value)
        code = "missing" if value is None else "not_a_list"
        self.refuse(name, code, f"{name} is a list of {least} to {most}.")
        return []

    def texts(self, name: str) -> tuple[str, ...]:
        """Return a list of names, empty when the member is absent."""
        named = []
        for index, value in enumerate(self.items(name)):
            if isinstance(value, str) and value:
                named.append(value)
            else:
                self.refuse(f"{name}", "not_a_text", f"{name}/{index} is a name.")
        return tuple(named)

    def child(self, name: str, known: tuple[str, ...]) -> "Strict":
        """Open a member that is itself an object."""
        return Strict.open(self.members.get(name), known, f"{self.pointer}/{name}", self.errors)

    def children(
        self, name: str, known: tuple[str, ...], least: int = 0, most: int = MOST_CHILDREN
    ) -> Iterator["Strict"]:
        """Open each object of a list."""
        for index, value in enumerate(self.items(name, least, most)):
            yield self.row(name, index, value, known)

    def row(self, name: str, index: int, value: object, known: tuple[str, ...]) -> "Strict":
        """Open one object of a list."""
        return Strict.open(value, known, f"{self.pointer}/{name}/{index}", self.errors)

    def optional(
        self, name: str, known: tuple[str, ...], read: Callable[["Strict"], T]
    ) -> T | None:
        """Read a member that is an object, or return nothing when it is absent or null."""
        return read(self.child(name, known)) if self.has(name) else None

    def finish(self) -> None:
        """Raise every mistake found, if there is one."""
        if self.errors:
            raise InputErrors(self.errors)
