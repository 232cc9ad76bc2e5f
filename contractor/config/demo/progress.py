"""How far is it? A bar where somebody watches a terminal, a line per stage elsewhere."""

from collections.abc import Callable, Iterable, Iterator
from typing import Protocol, TypeVar

T = TypeVar("T")
WIDTH = 24


class Out(Protocol):
    """Where lines go."""

    def write(self, msg: str, /) -> object:
        """Write a text."""

    def flush(self) -> None:
        """Send it on."""

    def isatty(self) -> bool:
        """Tell whether somebody watches."""


class Progress:
    """Shows stages of known length; `between` is called after each step and may break off."""

    def __init__(self, out: Out, between: Callable[[], None] = lambda: None) -> None:
        self.out = out
        self.between = between
        self.watched = out.isatty()

    def over(self, name: str, items: Iterable[T]) -> Iterator[T]:
        """Hand the items on one by one and show how many are done."""
        todo = list(items)
        for done, item in enumerate(todo):
            if self.watched:
                self._bar(name, done, len(todo))
            yield item
            self.between()
        if self.watched:
            self._bar(name, len(todo), len(todo))
            self._say("\n")
        else:
            self._say(f"{name:<13}{len(todo)}\n")

    def _bar(self, name: str, done: int, total: int) -> None:
        full = WIDTH * done // total if total else WIDTH
        self._say(f"\r{name:<13}[{'#' * full}{'.' * (WIDTH - full)}] {done}/{total} ")

    def _say(self, text: str) -> None:
        self.out.write(text)
        self.out.flush()
