"""Ask one question of the rules with a body from a file; no server, and a database only for kits."""

import json
import shutil
import sys
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.db import Error

from contractor.api.problems import Problem
from fitcheck.checks.management.answer import answer_page
from fitcheck.checks.management.commands.verdict import AGAINST, MALFORMED, json_of
from fitcheck.checks.questions import BY_ADDRESS
from fitcheck.rules.strict import InputErrors

SAW_ORDER, SAW_TITLE = "saw-order", "How is the stock sawn?"
GOOD = frozenset({"fits", "tight", "agree", "corrected", None})


class Command(BaseCommand):
    """`manage.py ask QUESTION FILE.json`: exit 0 for good news, 1 for bad or unknown, 2 for mistakes."""

    help = __doc__
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the question, the file and how to print."""
        parser.add_argument("question", choices=[*BY_ADDRESS, SAW_ORDER])
        parser.add_argument(
            "file", help="a JSON file as for /api/v1/checks/QUESTION/; - for standard input"
        )
        parser.add_argument("--json", action="store_true", help="print the answer as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        """Read, ask, print, and leave with a code that a script can use."""
        name, inputs = options["question"], json_of(options["file"])
        if not isinstance(inputs, dict):
            raise CommandError(f"{options['file']} holds no object.", returncode=MALFORMED)
        answer = self._answer(name, inputs)
        if options["json"]:
            self.stdout.write(json.dumps(answer, indent=1, ensure_ascii=False))
        else:
            width = shutil.get_terminal_size((120, 40)).columns
            title = SAW_TITLE if name == SAW_ORDER else BY_ADDRESS[name].title
            self.stdout.write(answer_page(title, answer, width))
        if answer.get("state") not in GOOD:
            sys.exit(AGAINST)

    def _answer(self, name: str, inputs: dict[str, Any]) -> dict[str, Any]:
        try:
            return _asked(name, inputs)
        except InputErrors as wrong:
            told = [(one.pointer, one.detail, one.hint) for one in wrong.errors]
        except Problem as refused:
            told = [(one["pointer"], one["detail"], one["hint"]) for one in refused.errors]
        except Error as error:
            text = "A kit by its name needs the service's database, which does not answer: send `sheet`."
            raise CommandError(f"{text} ({error})", returncode=MALFORMED) from error
        self.stderr.write(f"{len(told)} mistake{'' if len(told) == 1 else 's'}:")
        for pointer, detail, hint in told:
            self.stderr.write(f"  {pointer}  {detail}{f' ({hint})' if hint else ''}")
        sys.exit(MALFORMED)


def _asked(name: str, inputs: dict[str, Any]) -> dict[str, Any]:
    if name != SAW_ORDER:
        return BY_ADDRESS[name].ask(inputs)
    from fitcheck.rules.saw_order import answer

    return answer(inputs)
