"""Keep the answers of a new version of the rules: `python .ci/keep.py`.

Verdicts and depths are asked again with the inputs of the version before and stand beside them. What is
held against the newest rules alone (questions, numbers, sheets, surveys, changed verdicts) moves on to the
new version. Nothing that the newest version has kept already is written again. `python .ci/keep.py NAME FILE`
keeps one verdict more, with the inputs in the file.
"""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
KEPT = ROOT / "tests" / "kept"
sys.path.insert(0, str(ROOT))
from fitcheck.check import check, depth  # noqa: E402
from fitcheck.rules import RULES_VERSION  # noqa: E402
from fitcheck.rules.strict import InputErrors  # noqa: E402
from tests.kept.members import (  # noqa: E402
    changed,
    difference,
    inputs_of,
    sheet_of,
    sheet_told,
    single,
    survey_told,
)
from tests.kept.test_constants import constants  # noqa: E402
from tests.kept.test_questions import answer_of  # noqa: E402

BEFORE = str(int(RULES_VERSION) - 1)


def read(path: Path) -> Any:
    """Read one kept file."""
    return json.loads(path.read_text(encoding="utf-8"))


def write(path: Path, told: Any) -> None:
    """Write one kept file, member by member; never over one that is there."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("x", encoding="utf-8") as file:
        file.write(json.dumps(told, indent=1) + "\n")


def compact(told: Any) -> str:
    """Write something on one line."""
    return json.dumps(told, separators=(",", ":"), ensure_ascii=False)


def rows(told: list[Any]) -> str:
    """Write a list with a row on each line."""
    return "[\n" + ",\n".join(compact(one) for one in told) + "\n]"


def verdict_keep(name: str, inputs: Any) -> None:
    """Keep a verdict and what is told of it at length."""
    told = {"inputs": inputs, "result": check(inputs).as_json()}
    write(KEPT / "verdicts" / RULES_VERSION / f"{name}.json", told)
    write(KEPT / "depths" / RULES_VERSION / f"{name}.json", depth(inputs))


def answers(name: str, kept: list[Any]) -> str:
    """Ask a question's kept questions again."""
    return rows([{"asked": one["asked"], **answer(name, one["asked"])} for one in kept]) + "\n"


def answer(name: str, asked: Any) -> dict[str, Any]:
    """Answer one question, or tell its mistakes."""
    try:
        return {"answer": answer_of(name)(asked)}
    except InputErrors as wrong:
        return {"errors": [one.as_json() for one in wrong.errors]}


def of_members(kept: Any, inputs: Callable[[str], Any], reader: Callable[[Any], Any]) -> str:
    """Read again every whole thing that is kept, and what one changed member changes in it."""
    whole = {name: dict(sorted(reader(inputs(name))["read"].items())) for name in kept["whole"]}
    found = [_differs(one, inputs(one["of"]), whole[one["of"]], reader) for one in kept["changed"]]
    return '{"whole":' + compact(whole) + f',"changed":{rows(found)}}}\n'


def _differs(one: Any, sent: Any, whole: Any, reader: Callable[[Any], Any]) -> dict[str, Any]:
    asked = {name: one[name] for name in ("of", "at", "to") if name in one}
    told = reader(changed(sent, one))
    return asked | (told if "errors" in told else {"read": difference(whole, told["read"])})


def changed_verdicts(kept: list[Any]) -> str:
    """Judge again every kept verdict of which one member is changed."""
    found = []
    for one in kept:
        before = read(KEPT / "verdicts" / RULES_VERSION / f"{one['of']}.json")
        after = dict(single(check(changed(before["inputs"], one)).as_json()))
        asked = {name: one[name] for name in ("of", "at", "to") if name in one}
        found.append(asked | {"differs": difference(dict(single(before["result"])), after)})
    return rows(found) + "\n"


def moved(path: Path, text: str) -> None:
    """Write a file of the new version in the place of the former version's."""
    target = path.with_name(f"{RULES_VERSION}.json")
    with target.open("x", encoding="utf-8") as file:
        file.write(text)
    path.unlink()


def renew() -> None:
    """Keep everything for the newest version that was kept for the one before."""
    if (KEPT / "constants" / f"{RULES_VERSION}.json").exists():
        sys.exit(
            f"Everything is kept for version {RULES_VERSION} already; a kept file is never rewritten."
        )
    for path in sorted((KEPT / "verdicts" / BEFORE).glob("*.json")):
        if not (KEPT / "verdicts" / RULES_VERSION / path.name).exists():
            verdict_keep(path.stem, read(path)["inputs"])
    for path in sorted((KEPT / "questions" / BEFORE).glob("*.json")):
        target = KEPT / "questions" / RULES_VERSION / path.name
        target.parent.mkdir(exist_ok=True)
        target.write_text(answers(path.stem, read(path)), encoding="utf-8")
        path.unlink()
    sheets, surveys = KEPT / "sheets" / f"{BEFORE}.json", KEPT / "surveys" / f"{BEFORE}.json"
    moved(sheets, of_members(read(sheets), sheet_of, sheet_told))
    moved(surveys, of_members(read(surveys), inputs_of, survey_told))
    verdicts = KEPT / "changed" / f"{BEFORE}.json"
    moved(verdicts, changed_verdicts(read(verdicts)))
    numbers = KEPT / "constants" / f"{BEFORE}.json"
    moved(numbers, json.dumps(constants(), indent=1) + "\n")


if __name__ == "__main__":
    if len(sys.argv) == 3:
        verdict_keep(sys.argv[1], read(Path(sys.argv[2])))
    else:
        renew()
