"""Give a member a new password: typed twice at a terminal, or read from the first line of the input."""

import sys
from argparse import ArgumentParser
from getpass import getpass
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError

from contractor.api.callers import SYSTEM
from contractor.people.models import Member
from contractor.people.services import password_set


class Command(BaseCommand):
    """`manage.py set_password LOGIN`; the password never stands on the command line."""

    help = __doc__

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the login name."""
        parser.add_argument("login", help="login name of the member")

    def handle(self, *args: Any, **options: Any) -> None:
        """Ask, check and set."""
        member = Member.objects.filter(login=options["login"]).first()
        if member is None:
            known = ", ".join(Member.objects.values_list("login", flat=True)[:20]) or "none yet"
            raise CommandError(f"There is no member {options['login']!r}. Known: {known}.")
        password = _asked()
        try:
            validate_password(password, member)
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        password_set(by=SYSTEM, member=member, password=password)
        self.stdout.write(f"{member.name} has a new password; every session of theirs has ended.")


def _asked() -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    first = getpass("New password: ")
    if first != getpass("Again: "):
        raise CommandError("The two differ; nothing was changed.")
    return first
