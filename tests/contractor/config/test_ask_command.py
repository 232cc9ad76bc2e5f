"""Does a question in a file give an answer on the screen, and an exit code that a script can use?"""

import io
import json
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from fitcheck.checks.question import EXAMPLES
from fitcheck.checks.questions import QUESTIONS
from tests.factories import sheet_body

OFFLINE = [one.address for one in QUESTIONS if not (one.by_kit or one.filled)]
SAW = {
    "pieces": [{"job": "J", "part": "rail", "length": "30 in", "count": 3}],
    "stock": [{"name": "bar", "length": "72 in"}],
}


def asked(question: str, file: Path, *options: str) -> tuple[str, str, int]:
    out, err = io.StringIO(), io.StringIO()
    try:
        call_command("ask", question, str(file), *options, stdout=out, stderr=err)
    except SystemExit as left:
        return out.getvalue(), err.getvalue(), int(str(left.code))
    return out.getvalue(), err.getvalue(), 0


def kept(folder: Path, body: Any) -> Path:
    file = folder / "question.json"
    file.write_text(json.dumps(body), encoding="utf-8")
    return file


@pytest.mark.parametrize("question", OFFLINE)
def test_each_example_is_laid_out_with_no_server_and_no_database(question: str) -> None:
    told, wrong, code = asked(question, EXAMPLES / f"{question}.json")

    assert wrong == ""
    assert code in (0, 1)
    assert max(map(len, told.splitlines())) <= 120
    answer = json.loads(asked(question, EXAMPLES / f"{question}.json", "--json")[0])
    squeezed = " ".join(told.split())
    assert all(caution[:60] in squeezed for caution in answer.get("cautions", []))


def test_a_kit_s_sheet_may_be_sent_where_there_is_no_catalogue(tmp_path: Path) -> None:
    body = json.loads((EXAMPLES / "chance.json").read_text(encoding="utf-8"))
    del body["kit"]

    told, _, code = asked("chance", kept(tmp_path, body | {"sheet": sheet_body()}))

    assert code == 0
    assert "At least" in told


def test_the_saw_s_question_is_answered_too(tmp_path: Path) -> None:
    told, _, code = asked("saw-order", kept(tmp_path, SAW))

    assert code == 0
    assert "no plan is cheaper" in told


def test_bad_news_and_mistakes_have_codes_of_their_own(tmp_path: Path) -> None:
    glass = json.loads((EXAMPLES / "glass.json").read_text(encoding="utf-8"))

    thin = asked("glass", kept(tmp_path, glass | {"measured_thickness": "8 mm"}))
    wrong = asked("glass", kept(tmp_path, glass | {"width": "0 in", "heigth": "2 m"}))

    assert thin[2] == 1
    assert wrong[2] == 2
    assert "/width" in wrong[1]
    assert "did you mean height?" in wrong[1]


@pytest.mark.parametrize("text", ["{", "[]", '"58 in"'])
def test_what_is_no_question_is_said(tmp_path: Path, text: str) -> None:
    file = tmp_path / "question.json"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(CommandError):
        call_command("ask", "rail", str(file))
