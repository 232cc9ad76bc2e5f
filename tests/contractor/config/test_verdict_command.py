"""Does the third way, a file in and a table out, say what the rules say?"""

import json
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from contractor.config.demo.story import HERE, kits, story
from fitcheck.check import check

EXAMPLE = HERE / "survey-example.json"


def asked(path: Path, *options: str) -> tuple[int, str, str]:
    out, err, code = StringIO(), StringIO(), 0
    try:
        call_command("verdict", str(path), *options, stdout=out, stderr=err)
    except SystemExit as left:
        code = int(left.code or 0)
    return code, out.getvalue(), err.getvalue()


def changed(folder: Path, **values: Any) -> Path:
    data = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    data["inputs"] |= values
    path = folder / "changed.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    return path


@pytest.fixture
def inputs() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(EXAMPLE.read_text(encoding="utf-8"))["inputs"]
    return found


def test_what_each_fixing_holds_is_told_with_whose_word_it_is(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("COLUMNS", "400")
    survey = next(s for o in story()["openings"] for s in o["surveys"] if s["ref"] == "s-17")
    kit = next(one for one in kits() if one["kit"]["slug"] == survey["kit"])
    path = tmp_path / "cellar.json"
    sheet = kit["sheets"][survey["kit_version"] - 1]["body"]
    path.write_text(json.dumps({"inputs": {**survey["inputs"], "sheet": sheet}}), "utf-8")
    code, out, _ = asked(path)
    lines = [" ".join(line.split()) for line in out.splitlines()]

    assert code == 0
    assert "WHAT EACH FIXING BEARS AND HOLDS" in lines
    assert any(
        line.startswith("rail plate right wall 74 3/4 in panels at this end: pull")
        and line.endswith("0.36 Evaluation report XR-0417 (invented), 2026-05, page 7")
        for line in lines
    )


def test_a_kit_that_fits_leaves_with_nought_and_tells_everything(
    inputs: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "400")
    code, out, _ = asked(EXAMPLE)
    verdict: Any = check(inputs).as_json()
    assert code == 0
    assert out.startswith(f"FITS, size 58: {verdict['summary']}")
    for finding in verdict["findings"]:
        assert finding["question"] in out
        if finding["margin"]:
            assert f"{finding['margin']['inch']} ({finding['margin']['mm']})" in out
    for cut in verdict["cuts"]:
        assert f"{cut['length']['inch']} ({cut['length']['mm']})" in out
    for caution in verdict["cautions"]:
        assert caution["text"] in out
    assert "[1] Tillybeck two-panel slider: fitting sheet (invented), 2026-09; kit sheet" in out
    assert "diamond bit" in out
    assert "29.3 kg" in out


def test_no_line_is_wider_than_the_window(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "100")
    assert max(map(len, asked(EXAMPLE)[1].splitlines())) <= 100


def test_unknown_leaves_with_one_and_lists_what_to_read(
    tmp_path: Path, inputs: dict[str, Any]
) -> None:
    few = [one for one in inputs["readings"] if one["quantity"] != "width"]
    code, out, _ = asked(changed(tmp_path, readings=few))
    assert code == 1
    assert out.startswith("UNKNOWN")
    assert "READINGS STILL MISSING" in out


def test_json_is_the_verdict_itself(inputs: dict[str, Any]) -> None:
    code, out, _ = asked(EXAMPLE, "--json")
    assert code == 0
    assert json.loads(out) == json.loads(json.dumps(check(inputs).as_json()))


def test_each_mistake_has_its_pointer_and_a_hint(tmp_path: Path, inputs: dict[str, Any]) -> None:
    readings = [dict(one) for one in inputs["readings"]]
    readings[0]["value"] = "58"
    readings[1]["heigth"] = "36 in"
    code, out, err = asked(changed(tmp_path, readings=readings))
    assert (code, out) == (2, "")
    assert "/inputs/readings/0/value  58 has no unit. (write" in err
    assert "/inputs/readings/1/heigth  heigth is not known here. (did you mean height?)" in err


def test_a_sheet_that_contradicts_itself_is_refused(tmp_path: Path, inputs: dict[str, Any]) -> None:
    inputs["sheet"]["cuts"][2]["deduct"] = "100 in"
    code, out, err = asked(changed(tmp_path, sheet=inputs["sheet"]))
    assert (code, out) == (2, "")
    assert "/sheet/cuts/2/deduct" in err


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("{", "no JSON: .* at line 1, column 2"),
        ("[]", "holds no inputs"),
        ("{}", "holds no inputs"),
    ],
)
def test_another_kind_of_file_is_refused(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "file.json"
    path.write_text(text)
    with pytest.raises(CommandError, match=says) as refused:
        call_command("verdict", str(path))
    assert refused.value.returncode == 2


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(CommandError, match=r"nowhere.json cannot be read") as refused:
        call_command("verdict", str(tmp_path / "nowhere.json"))
    assert refused.value.returncode == 2
