"""Does the house keep to its own sizes and names?"""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("contractor", "jobs", "fitcheck")
FILES = sorted(
    path for room in ROOMS for path in (ROOT / room).rglob("*.py") if "migrations" not in path.parts
)
TESTS = sorted((ROOT / "tests").rglob("*.py"))
FILE_LINES, BODY_LINES = 400, 40
VAGUE = {"utils", "util", "helpers", "helper", "common", "core", "misc"}
# What the framework calls by name is documented by the framework.
INNER = ("Meta", "AppConfig")
Function = ast.FunctionDef | ast.AsyncFunctionDef


def name_of(path: Path) -> str:
    return str(path.relative_to(ROOT))


def functions(tree: ast.AST, public: bool = True) -> Iterator[tuple[Function, bool]]:
    """Every function with whether it can be called from outside; those inside others are not."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.ClassDef):
            yield from functions(node, public and not node.name.startswith("_"))
        elif isinstance(node, Function):
            yield node, public and not node.name.startswith("_")


def body_lines(function: Function) -> int:
    """Lines of a function's body without its docstring."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


@pytest.mark.parametrize("path", FILES + TESTS, ids=name_of)
def test_a_file_is_no_longer_than_four_hundred_lines(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= FILE_LINES


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_a_function_is_short_and_a_public_one_says_what_it_does(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for function, public in functions(tree):
        assert body_lines(function) <= BODY_LINES, function.name
        assert ast.get_docstring(function) or not public, function.name


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_a_module_that_holds_anything_says_which_question_it_answers(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert ast.get_docstring(tree) or not tree.body


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_no_module_has_a_name_that_says_nothing(path: Path) -> None:
    assert not VAGUE & {path.stem, *path.relative_to(ROOT).parts}


def test_half_of_all_files_are_shorter_than_a_screen_or_two() -> None:
    lengths = sorted(len(path.read_text(encoding="utf-8").splitlines()) for path in FILES)
    assert lengths[len(lengths) // 2] < 100


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_a_service_takes_its_arguments_by_name(path: Path) -> None:
    if path.name != "services.py":
        return
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for function, public in functions(tree):
        takes_the_door = any(one.arg == "by" for one in function.args.kwonlyargs)
        if public and takes_the_door:
            assert not function.args.args, function.name


def test_the_tests_have_no_packages() -> None:
    assert not list((ROOT / "tests").rglob("__init__.py"))
