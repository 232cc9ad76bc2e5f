"""What must stand in the database before the first request? Prints tokens and keys as JSON."""

import json
import sys
from datetime import timedelta
from pathlib import Path

import django

django.setup()

from django.contrib.sessions.backends.db import SessionStore  # noqa: E402
from django.utils import timezone  # noqa: E402

from contractor.api.callers import SYSTEM  # noqa: E402
from contractor.customers.models import Customer, Site  # noqa: E402
from contractor.people.services import (  # noqa: E402
    crew_create,
    integration_issue,
    member_create,
    tablet_issue,
)
from fitcheck.kits.services import kit_create, sheet_publish  # noqa: E402
from jobs.jobs.models import Job  # noqa: E402
from jobs.openings.models import Opening  # noqa: E402

SHEETS = Path(__file__).resolve().parents[2] / "fitcheck" / "kits" / "demo"
RECENT = 60


def catalogue() -> None:
    """Publish every sheet of the demo."""
    for file in sorted(SHEETS.glob("*.json")):
        kit = kit_create(by=SYSTEM, slug=file.stem, name=file.stem, maker="Invented", invented=True)
        for sheet in json.loads(file.read_text())["sheets"]:
            sheet_publish(by=SYSTEM, kit=kit, body=sheet["body"])


def people() -> dict[str, str]:
    """Make one office clerk with a session, one tablet, one program and one crew."""
    later = timezone.now() + timedelta(days=1)
    clerk = member_create(by=SYSTEM, login="imke", name="Imke Thorsby", role="office")
    measurer = member_create(by=SYSTEM, login="tobias", name="Tobias Ankrah", role="measurer")
    crew_create(by=SYSTEM, slug="heron", name="Heron", members=[clerk, measurer], lead=measurer)
    _, tablet = tablet_issue(by=SYSTEM, name="Blue tablet", holder=measurer, expires_at=later)
    scopes = ["bookings:write", "bookings:read", "jobs:read"]
    _, program = integration_issue(by=SYSTEM, name="Planner", scopes=scopes, expires_at=later)
    session = SessionStore()
    session["_auth_user_id"] = str(clerk.pk)
    session["_auth_user_backend"] = "django.contrib.auth.backends.ModelBackend"
    session["_auth_user_hash"] = clerk.get_session_auth_hash()
    session.create()
    return {"tablet": tablet, "program": program, "session": session.session_key}


def _opening(job: Job) -> Opening:
    return Opening(
        job=job,
        name="Hall bathroom",
        enclosure="alcove",
        stands_on="curb",
        shower_head_side="left",
    )


def work(openings: int) -> dict[str, int]:
    """Make a job with a fresh opening for every survey to be posted, and newer ones for the lists."""
    customer = Customer.objects.create(name="Ngozi Invented", email="ngozi@example.com")
    site = Site.objects.create(
        customer=customer,
        street_address="12 Quillback Row",
        address_locality="Marrowgate",
        time_zone="America/Chicago",
        year_built=1998,
        passes=["straight_in"],
    )
    surveyed = Job.objects.create(site=site, summary="Every bathroom of a hotel")
    rows = Opening.objects.bulk_create(_opening(surveyed) for _ in range(openings))
    recent = Job.objects.bulk_create(Job(site=site, summary=f"Slider {n}") for n in range(RECENT))
    Opening.objects.bulk_create(_opening(job) for job in recent for _ in range(2))
    return {"customer": customer.pk, "job": surveyed.pk, "first": rows[0].pk}


if __name__ == "__main__":
    catalogue()
    print(json.dumps({**people(), **work(int(sys.argv[1]))}))
