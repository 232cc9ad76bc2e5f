"""Which requests are held against each other? Each knows how to make its next one."""

import json
import uuid
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from one_kit import OneKit

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "contractor" / "config" / "demo" / "survey-post.json"
PLAIN = {
    "reference": "O-0001",
    "measured_by": "Tobias Ankrah",
    "tool": "tape, class II, 1/16 in",
    "kind": "curb",
    "notes": "Read twice.",
    "width_bottom": "1481.138",
    "width_middle": "1479.550",
    "width_top": "1477.963",
    "height_left": "2422.525",
    "height_right": "2419.350",
    "lean_left": "1.588",
    "lean_right": "1.588",
    "depth": "120.650",
    "taken_at": "2026-11-10T09:10:00-06:00",
}
SMALL = ("width", "backing_centre")
SMALL_COUNT = 6


@dataclass(slots=True)
class Asked:
    """One request, ready to be sent."""

    method: str
    path: str
    status: int
    body: bytes | None = None
    headers: dict[str, str] = field(default_factory=dict)


@dataclass(slots=True)
class Script:
    """Makes the requests of one run; what an answer says may decide the next request."""

    seeded: dict[str, Any]
    survey: bytes = b""
    survey_path: str = ""
    opening: int = 0
    version: int = 1
    plain: str = ""
    start: datetime = datetime(2030, 1, 1, tzinfo=UTC)
    one_kit: OneKit = field(default_factory=lambda: OneKit.of(json.loads(EXAMPLE.read_text())))

    def variants(self) -> dict[str, Callable[[], Asked | Callable[[], object]]]:
        """Name everything of a round; the first is what the others are held against.

        What makes no request is worked out in this process.
        """
        return {
            "bare create": lambda: self._plain("/api/bare/"),
            "bare create, again": lambda: self._plain("/api/bare-again/"),
            "bare retrieve": lambda: Asked("GET", self.plain, 200),
            "bare list of 50": lambda: Asked("GET", "/api/bare/?limit=50", 200),
            "bare patch": lambda: _json("PATCH", self.plain, 200, {"notes": uuid.uuid4().hex}, {}),
            "survey, 19 readings": lambda: self._survey(self._whole()),
            "survey, 6 readings": lambda: self._survey(self._small()),
            "survey, sent again": self._again,
            "survey, read": lambda: Asked("GET", self.survey_path, 200, None, self._tablet()),
            "list of 50 jobs": lambda: Asked("GET", "/api/v1/jobs/", 200, None, self._tablet()),
            "customer patch": self._patch,
            "booking": self._booking,
            "verdict for one kit": self.one_kit.question,
        }

    def heard(self, name: str, answer: dict[str, Any]) -> None:
        """Remember what later requests need."""
        if name == "bare create":
            self.plain = f"/api/bare/{answer['id']}/"
        elif name == "customer patch":
            self.version = answer["version"]
        elif name == "survey, 19 readings":
            self.survey_path = f"/api/v1/surveys/{answer['id']}/"

    def _tablet(self) -> dict[str, str]:
        return {"Authorization": f"Bearer {self.seeded['tablet']}"}

    def _plain(self, path: str) -> Asked:
        return _json("POST", path, 201, PLAIN, {})

    def _whole(self) -> dict[str, Any]:
        example = json.loads(EXAMPLE.read_text())
        return {name: example[name] for name in ("kit", "readings", "zones")}

    def _small(self) -> dict[str, Any]:
        whole = self._whole()
        kept = [one for one in whole["readings"] if one["quantity"] in SMALL][:SMALL_COUNT]
        return {**whole, "readings": kept, "zones": whole["zones"][:1]}

    def _survey(self, body: dict[str, Any]) -> Asked:
        for row in (*body["readings"], *body["zones"]):
            row["id"] = str(uuid.uuid4())
        body |= {
            "id": str(uuid.uuid4()),
            "opening": f"O-{self.seeded['first'] + self.opening:04d}",
            "taken_at": PLAIN["taken_at"],
        }
        self.opening += 1
        asked = _json("POST", "/api/v1/surveys/", 201, body, self._tablet())
        if len(body["readings"]) > SMALL_COUNT:
            self.survey = asked.body or b""
        return asked

    def _again(self) -> Asked:
        headers = {**self._tablet(), "Content-Type": "application/json"}
        return Asked("POST", "/api/v1/surveys/", 200, self.survey, headers)

    def _patch(self) -> Asked:
        headers = {
            "Cookie": f"sessionid={self.seeded['session']}; csrftoken={'a' * 32}",
            "X-CSRFToken": "a" * 32,
            "If-Match": f'"{self.version}"',
        }
        path = f"/api/v1/customers/C-{self.seeded['customer']:04d}/"
        return _json("PATCH", path, 200, {"notes": uuid.uuid4().hex}, headers)

    def _booking(self) -> Asked:
        self.start += timedelta(hours=2)
        body = {
            "job": f"J-{self.seeded['job']:04d}",
            "crew": "heron",
            "visit": "survey",
            "starts_at": self.start.isoformat(),
            "ends_at": (self.start + timedelta(hours=1)).isoformat(),
        }
        headers = {
            "Authorization": f"Bearer {self.seeded['program']}",
            "Idempotency-Key": str(uuid.uuid4()),
        }
        return _json("POST", "/api/v1/bookings/", 201, body, headers)


def _json(method: str, path: str, status: int, body: Any, headers: dict[str, str]) -> Asked:
    kind = {"Content-Type": "application/json"}
    return Asked(method, path, status, json.dumps(body).encode(), {**kind, **headers})
