"""How are mistakes that the rules find in a body told? Like every other: pointer, code, hint."""

from collections.abc import Iterator
from contextlib import contextmanager

from contractor.api.problems import Problem
from fitcheck.rules.strict import InputError, InputErrors

MOST_TOLD = 200  # of a body that is wrong all over


@contextmanager
def inputs_checked(prefix: str = "") -> Iterator[None]:
    """Turn the rules' own list of mistakes into one problem; `prefix` is where the inputs stood."""
    try:
        yield
    except InputErrors as wrong:
        errors = [_told(one, prefix) for one in wrong.errors[:MOST_TOLD]]
        first, many = errors[0], len(wrong.errors)
        what = "One value is not as it" if many == 1 else f"{many} values are not as they"
        raise Problem(
            first["code"] if many == 1 else "invalid",
            f"{what} should be: {first['detail']}",
            hint=first["hint"],
            errors=errors,
        ) from wrong


def _told(one: InputError, prefix: str) -> dict[str, str]:
    """A mistake at its place; where the rules give no hint, their sentence says what is wanted."""
    own = {"pointer": prefix + one.pointer, "hint": one.hint or one.detail}
    return {**one.as_json(), **own}
