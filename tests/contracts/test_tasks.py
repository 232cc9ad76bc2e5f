"""Is every task that is woken or swept a registered one, and does the web stay light?"""

import ast
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings

from contractor.config.celery import app

ROOT = Path(__file__).resolve().parents[2]
HEAVY = ("typst", "ezdxf", "highspy", "pyvrp", "matplotlib", "icalendar", "holidays")


THE_DOOR = ROOT / "contractor" / "notices" / "wanted.py"  # wakes what its `Work` was given


def woken() -> set[str]:
    """Every name given to `wake`, or to a `Work` that wakes by it, anywhere in the house."""
    names = set()
    for room in ("contractor", "jobs", "fitcheck"):
        for path in (ROOT / room).rglob("*.py"):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Call) and path != THE_DOOR:
                    names |= named_in(node, path)
    return names


def named_in(call: ast.Call, path: Path) -> set[str]:
    """The task's name in one call; it must stand there as it is, so that it can be found."""
    called = getattr(call.func, "id", "")
    given = {"wake": call.args[:1], "Work": [k.value for k in call.keywords if k.arg == "task"]}
    names = given.get(called, [])
    assert all(isinstance(one, ast.Constant) for one in names), path
    return {str(one.value) for one in names if isinstance(one, ast.Constant)}


def test_every_task_that_is_woken_is_registered() -> None:
    assert {"packets.render", "drawings.draw", "plans.solve", "sawplans.lay_out"} <= woken()
    assert woken() <= set(app.tasks)


def test_every_task_that_is_swept_is_registered() -> None:
    swept = {one["task"] for one in settings.CELERY_BEAT_SCHEDULE.values()}
    assert {"packets.sweep", "reminders.sweep"} <= swept <= set(app.tasks)


@pytest.mark.parametrize("module", ["contractor.config.wsgi", "contractor.config.urls"])
def test_a_web_process_loads_no_library_that_only_a_worker_needs(
    module: str, tmp_path: Path
) -> None:
    program = (
        "import json, sys, importlib, django; django.setup();"
        f"importlib.import_module('{module}'); importlib.import_module('contractor.config.urls');"
        "print(json.dumps(sorted({name.partition('.')[0] for name in sys.modules})))"
    )
    own = {
        "DATA_DIR": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "contractor.config.settings",
        "DATABASE_URL": f"sqlite:///{tmp_path}/none.sqlite3",
    }
    done = subprocess.run(
        [sys.executable, "-c", program],
        cwd=ROOT,
        env={**os.environ, **own},
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    loaded = json.loads(done.stdout.splitlines()[-1])
    assert "rest_framework" in loaded
    assert not set(HEAVY) & set(loaded)
