"""Would this kit fit? A survey and a rule sheet from a file, no server and no database."""

import json
import shutil
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from fitcheck.check import InputErrors, check
from fitcheck.checks.management.table import verdict_page

GOES, AGAINST, MALFORMED = 0, 1, 2


class Command(BaseCommand):
    """`manage.py verdict FILE.json`: exit 0 for fits and tight, 1 for fails and unknown, 2 for mistakes."""

    help = __doc__
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the file and how to print."""
        parser.add_argument(
            "file", help='a JSON file {"inputs": {…, "sheet": {…}}}; - for standard input'
        )
        parser.add_argument("--json", action="store_true", help="print the verdict as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        """Read, ask the rules, print, and leave with a code that a script can use."""
        verdict = self._verdict(inputs_of(options["file"]))
        if options["json"]:
            self.stdout.write(json.dumps(verdict, indent=1, ensure_ascii=False))
        else:
            width = shutil.get_terminal_size((120, 40)).columns
            self.stdout.write(verdict_page(verdict, width))
        if verdict["state"] not in ("fits", "tight"):
            sys.exit(AGAINST)

    def _verdict(self, inputs: dict[str, Any]) -> dict[str, Any]:
        try:
            return check(inputs, sent=True).as_json()
        except InputErrors as wrong:
            count = len(wrong.errors)
            self.stderr.write(f"{count} {'mistake' if count == 1 else 'mistakes'} in the inputs:")
            for one in wrong.errors:
                hint = f" ({one.hint})" if one.hint else ""
                self.stderr.write(f"  /inputs{one.pointer}  {one.detail}{hint}")
            sys.exit(MALFORMED)


def inputs_of(name: str) -> dict[str, Any]:
    """Read the inputs out of a file.

    Raises:
        CommandError: no such file, no JSON, or no inputs in it; exits with 2.
    """
    data = json_of(name)
    if not isinstance(data, dict) or not isinstance(data.get("inputs"), dict) or len(data) != 1:
        raise CommandError(
            f'{name} holds no inputs. Wanted: {{"inputs": {{"opening": …, "readings": …, "zones": …, '
            '"sheet": …}}; see contractor/config/demo/survey-example.json.',
            returncode=MALFORMED,
        )
    inputs: dict[str, Any] = data["inputs"]
    return inputs


def json_of(name: str) -> Any:
    """Read a file, or standard input, as JSON.

    Raises:
        CommandError: no such file, or no JSON in it; exits with 2.
    """
    try:
        text = sys.stdin.read() if name == "-" else Path(name).read_text(encoding="utf-8")
        return json.loads(text)
    except (OSError, UnicodeDecodeError) as error:
        raise CommandError(f"{name} cannot be read: {error}", returncode=MALFORMED) from error
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise CommandError(
            f"{name} is no JSON: {error.msg} at {where}.", returncode=MALFORMED
        ) from error
