"""What does a room tell the desk about its pages? Words for its buttons, its tasks, its pictures."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class Task:
    """One named action on a row that the desk offers as a form of its own.

    `lacks` names the fields that the form need not ask of this row.
    """

    name: str
    button: str
    says: str = ""
    shape: Any = None
    done: str = "Done"
    when: Callable[[Mapping[str, Any]], bool] = lambda data: True
    lacks: Callable[[Mapping[str, Any]], frozenset[str]] = lambda data: frozenset()


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing shown on the page, and the address where it stands by itself."""

    title: str
    svg: str
    url: str = ""
    earlier: str = ""
    later: str = ""


@dataclass(frozen=True, slots=True)
class Press:
    """A cell of a table that is a button: it sends these values as a form would; `says` names which.

    `asks` puts a box for a reason before the button, and says what for.
    """

    button: str
    action: str
    values: Mapping[str, Any]
    says: str = ""
    asks: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Facts of a row as words in columns."""

    title: str
    heads: Sequence[str]
    rows: Sequence[Sequence[Any]]
    none: str = ""


@dataclass(frozen=True, slots=True)
class Banner:
    """One sentence on top of a row's page; `state` picks its sign and border."""

    state: str
    text: str
    url: str = ""
    link: str = ""


@dataclass(frozen=True, slots=True)
class Show:
    """What a page shows beside the plain facts."""

    banners: Sequence[Banner] = ()
    pictures: Sequence[Picture] = ()
    tables: Sequence[Table] = ()
    links: Sequence[tuple[str, str]] = ()
    refresh: bool = False


@dataclass(frozen=True, slots=True)
class Desk:
    """How one room stands on the desk.

    `searches` names, for a field that holds another row's number, the list that is asked while
    somebody types; `stands_for` sends the error of a field that the form lacks to one that it has;
    `words` gives a field another label and help; `needs` marks fields of which one way is needed;
    `question` keeps in the form what was asked when it has been answered.
    """

    add: str = "Add"
    edit: str = "Save changes"
    done: str = "Saved"
    form: bool = True
    lacks: frozenset[str] = frozenset()
    searches: Mapping[str, str] = field(default_factory=dict)
    stands_for: Mapping[str, str] = field(default_factory=dict)
    columns: tuple[str, ...] = ()
    hides: frozenset[str] = frozenset()
    tasks: tuple[Task, ...] = ()
    example: Callable[[], Any] | None = None
    page_words: frozenset[str] = frozenset()
    words: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    needs: frozenset[str] = frozenset()
    form_first: bool = False
    question: bool = False


PLAIN = Desk()


def desk_of(view: Any) -> Desk:
    """Read what a view says about its pages; nothing said means the plain words."""
    found: Desk = getattr(view, "desk", PLAIN)
    return found
