"""How long do the rules themselves take for one kit? Asked in this process, as the service asks them."""

import gc
import json
import sys
import uuid
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

sys.path.append(str(Path(__file__).resolve().parents[2]))

from fitcheck.check import check
from fitcheck.rules.sheet import Sheet
from fitcheck.rules.sheet_parse import sheet_parse
from fitcheck.rules.strict import Strict
from fitcheck.rules.survey import survey_read

DEMO = Path(__file__).resolve().parents[2] / "fitcheck" / "kits" / "demo"
OPENING = {
    "enclosure": "alcove",
    "stands_on": "curb",
    "shower_head_side": "unknown",
    "year_built": None,
}


@dataclass(frozen=True, slots=True)
class OneKit:
    """A survey's rows and the newest sheet of its kit, parsed once as the service keeps it."""

    name: str
    sheet: Sheet
    readings: list[dict[str, Any]]
    zones: list[dict[str, Any]]

    @classmethod
    def of(cls, survey: dict[str, Any]) -> "OneKit":
        """Take the rows of a survey as they are sent."""
        sheets = json.loads((DEMO / f"{survey['kit']}.json").read_text())["sheets"]
        return cls(
            survey["kit"], sheet_parse(sheets[-1]["body"]), survey["readings"], survey["zones"]
        )

    def question(self) -> Callable[[], object]:
        """Ask of rows that were never seen before; they are read already, as the request's body is."""
        inputs = {
            "opening": OPENING,
            "readings": [{**row, "id": str(uuid.uuid4())} for row in self.readings],
            "zones": [{**row, "id": str(uuid.uuid4())} for row in self.zones],
            "sheet": {"kit": self.name, "number": 1, "digest": "sha256:" + "0" * 64},
            "size": None,
            "house": {"mark": 16},
        }
        read = survey_read(Strict(inputs))
        return lambda: check(inputs, self.sheet, read)


def settle() -> None:
    """Let the collector look as seldom as it does in the web process."""
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)
