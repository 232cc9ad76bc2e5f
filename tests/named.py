"""Who calls in the tests, by name: one of each role, made with its row and its way of signing in."""

import copy
from collections.abc import Callable
from functools import partial

from tests.clients import Caller
from tests.factories import MemberFactory, integration_made, tablet_made


def _at_a_desk(login: str, name: str, role: str) -> Caller:
    caller = Caller()
    caller.member = MemberFactory(login=login, name=name, role=role)
    caller.force_login(caller.member)
    return caller


def _at_a_tablet() -> Caller:
    caller = Caller()
    caller.member = MemberFactory(login="hien", name="Hien Phan", role="lead")
    caller.row, token = tablet_made(caller.member, name="Green tablet")
    return caller.with_token(token)


def _program() -> Caller:
    caller = Caller()
    caller.row, token = integration_made()
    return caller.with_token(token)


CALLERS: dict[str, Callable[[], Caller]] = {
    "office": partial(_at_a_desk, "imke", "Imke Thorsby", "office"),
    "measurer": partial(_at_a_desk, "tobias", "Tobias Ankrah", "measurer"),
    "lead": partial(_at_a_desk, "marisol", "Marisol Quintero", "lead"),
    "helper": partial(_at_a_desk, "callum", "Callum Reyes", "helper"),
    "yard": partial(_at_a_desk, "sunniva", "Sunniva Holt", "yard"),
    "tablet": _at_a_tablet,
    "scheduler": _program,
    "anonymous": Caller,
}


def again(caller: Caller) -> Caller:
    """The same caller for another test, whose changes to it are its own."""
    other = Caller()
    other.cookies = copy.deepcopy(caller.cookies)
    other.member, other.row = copy.deepcopy((caller.member, caller.row))
    return other.with_token(caller.token) if caller.token else other
