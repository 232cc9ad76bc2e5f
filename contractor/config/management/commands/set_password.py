"""Give a member a new password: typed twice at a terminal, or read from the first line of the input."""

import sys
from argparse import ArgumentParser
from getpass import getpass
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError

from contractor.api.callers import SYSTEM
from contractor.people.models import Member, Role
from contractor.people.services import member_create, password_set


class Command(BaseCommand):
    """`manage.py set_password LOGIN`; the password never stands on the command line."""

    help = __doc__

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the login name."""
        parser.add_argument("login", help="login name of the member")
        parser.add_argument(
            "--add", metavar="NAME", help="on a new installation: add an office member of this name"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Ask, check and set."""
        login, name = options["login"], options["add"]
        member = Member.objects.filter(login=login).first()
        if member is None and not name:
            known = ", ".join(Member.objects.values_list("login", flat=True)[:20]) or "none yet"
            raise CommandError(
                f"There is no member {login!r}. Known: {known}. On a new installation: --add 'Full Name'."
            )
        password = _asked()
        try:
            validate_password(password, member)
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        if member is None:
            _added(login, name, password)
        else:
            password_set(by=SYSTEM, member=member, password=password)
        self.stdout.write(f"{login} has a new password; sessions with the old one have ended.")


def _added(login: str, name: str, password: str) -> Member:
    try:
        Member._meta.get_field("login").run_validators(login)
    except ValidationError as error:
        raise CommandError(f"{login!r} is no login name. {' '.join(error.messages)}") from error
    return member_create(by=SYSTEM, login=login, name=name, role=Role.OFFICE, password=password)


def _asked() -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    first = getpass("New password: ")
    if first != getpass("Again: "):
        raise CommandError("The two differ; nothing was changed.")
    return first
