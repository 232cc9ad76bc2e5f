#!/usr/bin/env python
"""Run a management command of the service."""

import os
import sys


def main() -> None:
    """Hand the command line to Django, or say how to set up when it is not there."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.config.settings")
    try:
        from django.core.management import execute_from_command_line
    except ImportError:
        sys.exit(
            "Django is not installed here. README.md, section Two commands, sets everything up."
        )
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
