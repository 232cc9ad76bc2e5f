"""Do a week's papers still come out the same, byte for byte? Puts lost files back."""

import sys
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from jobs.packets.again import OTHER, RESTORED, SAME, packet_again, packets_of_week

BAR = 30


class Command(BaseCommand):
    """Set every finished packet of a week again from its frozen data and compare the bytes."""

    help = (
        "Sets every finished packet of an ISO week again from its frozen data. Numbers and data never "
        "change; a file that is gone is put back; a packet that gives other bytes is named, and the "
        "command leaves with 1."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the week, and whether only to look."""
        parser.add_argument("--week", required=True, help="an ISO week, such as 2026-W48")
        parser.add_argument("--dry-run", action="store_true", help="put no file back")

    def handle(self, *args: Any, **options: Any) -> None:
        """Go through them and tell.

        Raises:
            CommandError: the week is none, or a packet gives other bytes or none at all.
        """
        try:
            packets = packets_of_week(week=options["week"])
        except ValueError as error:
            raise CommandError(str(error)) from error
        found: dict[str, list[str]] = {}
        count = packets.count()
        for done, packet in enumerate(packets.iterator(chunk_size=20)):
            self._bar(done, count, packet.number)
            found.setdefault(self._again(packet, options["dry_run"]), []).append(packet.number)
        self._bar(count, count, "")
        self._tell(found, count, options["dry_run"])

    def _again(self, packet: Any, dry: bool) -> str:
        try:
            return packet_again(packet=packet, keep=not dry)
        except Exception as error:
            return f"not set: {str(error)[:200]}"

    def _bar(self, done: int, count: int, number: str) -> None:
        """Show how far it is, to a person only."""
        if not sys.stderr.isatty() or not count:
            return
        full = BAR * done // count
        end = "\n" if done == count else ""
        self.stderr.write(
            f"\r[{'#' * full}{'.' * (BAR - full)}] {done}/{count} {number:<10}", ending=end
        )

    def _tell(self, found: dict[str, list[str]], count: int, dry: bool) -> None:
        restored = "file missing" if dry else RESTORED
        kinds = ((SAME, SAME), (RESTORED, restored), (OTHER, OTHER))
        parts = [f"{len(found[kind])} {said}" for kind, said in kinds if kind in found]
        self.stdout.write(f"{count} packets: {', '.join(parts) or 'nothing to do'}.")
        wrong = [
            f"{n}: {kind}" for kind in found if kind not in {SAME, RESTORED} for n in found[kind]
        ]
        if wrong:
            raise CommandError("\n".join(wrong))
