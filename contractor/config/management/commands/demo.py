"""Run the whole service on this machine with an invented firm's data, by one command."""

import fcntl
import os
import time
from argparse import ArgumentParser
from pathlib import Path
from typing import IO, Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connections

from contractor.config.demo import greeting
from contractor.config.demo.kept import Kept
from contractor.config.demo.processes import (
    Child,
    Died,
    Stopped,
    Stops,
    answers,
    check_alive,
    child_start,
    children_stop,
    port_is_free,
    stops_on_signals,
    wait_until,
)
from contractor.config.demo.progress import Progress
from contractor.config.demo.story import story
from contractor.config.demo.telling import SomebodyElses, story_tell

STOPPED = 130
MASKED = "contractor.config.access_log.MaskedLogger"


class Command(BaseCommand):
    """`manage.py demo`: migrate, tell the story, start web, worker and sweep, stop on Ctrl-C."""

    help = __doc__
    requires_system_checks = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Take the port, and whether to serve at all."""
        parser.add_argument("--port", type=int, default=8000, help="where the web process listens")
        parser.add_argument(
            "--no-serve", action="store_true", help="only fill the database, start nothing"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Do everything; a second run finds what the first one left."""
        data_dir = Path(settings.DATA_DIR).resolve()
        with _only_one(data_dir), stops_on_signals() as stops:
            if not options["no_serve"] and not port_is_free(options["port"]):
                raise CommandError(
                    f"Port {options['port']} is taken by another program. Stop that one, or choose "
                    f"another port: manage.py demo --port {options['port'] + 10}"
                )
            try:
                kept, rows = self._fill(data_dir, stops)
            except Stopped:
                self.stdout.write("\nStopped. Nothing is half written; the next run goes on here.")
                raise SystemExit(STOPPED) from None
            if options["no_serve"]:
                self._tell(greeting.logins(kept), greeting.tokens(kept))
            else:
                stops.insisting = False
                self._serve(options["port"], data_dir, kept, rows, stops)

    def _fill(self, data_dir: Path, stops: Stops) -> tuple[Kept, dict[str, Any]]:
        self.stdout.write(story()["note"])
        self.stdout.flush()
        progress = Progress(self.stdout, stops.check)
        for _ in progress.over("migrate", [1]):
            # A kill between a first migration and the note that it was applied leaves its tables
            # behind; they are then taken as they are.
            call_command("migrate", interactive=False, verbosity=0, fake_initial=True)
        try:
            kept = Kept.open(data_dir)
            return kept, story_tell(kept=kept, progress=progress)
        except (SomebodyElses, ValueError) as error:
            raise CommandError(str(error)) from error

    def _serve(
        self, port: int, data_dir: Path, kept: Kept, rows: dict[str, Any], stops: Stops
    ) -> None:
        url, children = f"http://127.0.0.1:{port}", []
        try:
            self._tell("Starting web, worker and sweep …")
            for name, module in _modules(port).items():
                children.append(_start(name, module, port, data_dir))
            wait_until(lambda: answers(f"{url}/health/ready"), children, stops)
            if not stops.asked:
                self._greet(url, kept, rows, children)
            while not stops.asked:
                check_alive(children)
                time.sleep(0.3)
        except Died as error:
            raise CommandError(str(error)) from error
        finally:
            self._tell("Stopping …")
            children_stop(children)
        self._tell("Stopped. Run it again and everything is as you left it.")

    def _greet(self, url: str, kept: Kept, rows: dict[str, Any], children: list[Child]) -> None:
        logs = ", ".join(str(child.log) for child in children)
        self._tell(
            f"\n{story()['firm']['name']} is invented, and so is everything it holds.",
            greeting.addresses(url, kept),
            greeting.logins(kept),
            greeting.tokens(kept),
            greeting.trial(url, kept, rows),
            f"Logs (reminders are printed in the worker's)\n  {logs}",
            "Ready. Ctrl-C stops everything.",
        )
        # Nothing more is asked of the database here: give its connections back.
        connections.close_all()

    def _tell(self, *texts: str) -> None:
        self.stdout.write("\n\n".join(texts))
        self.stdout.flush()


def _modules(port: int) -> dict[str, list[str]]:
    web = ["gunicorn", "contractor.config.wsgi", "--bind", f"127.0.0.1:{port}", "--workers", "1"]
    worker = ["celery", "-A", "contractor.config", "worker", "-B", "--concurrency", "1"]
    return {
        "web": [*web, "--threads", "8", "--access-logfile", "-", "--logger-class", MASKED],
        "worker": [*worker, "--loglevel", "INFO", "--without-gossip", "--without-mingle"],
    }


def _start(name: str, module: list[str], port: int, data_dir: Path) -> Child:
    own = {"DATA_DIR": str(data_dir), "DJANGO_SETTINGS_MODULE": "contractor.config.settings"}
    env = {"PUBLIC_URL": f"http://127.0.0.1:{port}"} | os.environ | own
    log = data_dir / f"{name}.log"
    return child_start(name=name, module=module, folder=settings.BASE_DIR, env=env, log=log)


def _only_one(data_dir: Path) -> IO[str]:
    """Hold the data folder for this run; the lock goes with the process, however it ends.

    Raises:
        CommandError: another demo runs on the same data.
    """
    lock = (data_dir / "demo.lock").open("w")
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        lock.close()
        raise CommandError(
            f"Another demo is running on {data_dir}. Stop it first, or set DATA_DIR to another folder."
        ) from error
    return lock
