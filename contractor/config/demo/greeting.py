"""What does somebody who has just started the demo need to know?"""

import json
from pathlib import Path
from typing import Any

from contractor.config.demo.calendar import calendar
from contractor.config.demo.firm import SHOWN, name_of
from contractor.config.demo.kept import Kept
from contractor.config.demo.story import HERE, story
from contractor.people.models import Member

EXAMPLE = "contractor/config/demo/survey-guest-bathroom.json"


def logins(kept: Kept) -> str:
    """List a login for each role, as far as the passwords are still the ones made here."""
    lines = ["Logins"]
    for ref, role in SHOWN.items():
        member = Member.objects.get(login=name_of(ref))
        password = kept.password(member.login) or ""
        shown = password if member.check_password(password) else "(changed with set_password)"
        lines.append(f"  {role:<9} {member.login:<9} {shown:<18} {member.name}")
    return "\n".join(lines)


def tokens(kept: Kept) -> str:
    """Give the tokens that are ready for use."""
    tablet, planner = story()["tablets"][0], story()["integrations"][0]
    return "\n".join(
        [
            "Tokens",
            f"  tablet    {kept.token(tablet['ref'])}",
            f"  scheduler {kept.token(planner['ref'])}",
        ]
    )


def addresses(url: str, kept: Kept) -> str:
    """Say where everything is."""
    feed = calendar()["feeds"][0]
    return "\n".join(
        [
            "Addresses",
            f"  desk      {url}/api/v1/   (log in there; book an install under Bookings)",
            f"  docs      {url}/api/docs/",
            f"  schema    {url}/api/schema/",
            f"  health    {url}/health/ready",
            f"  calendar  {url}/calendar/{kept.token(feed['ref'])}.ics   ({feed['name']}, iCalendar)",
        ]
    )


def trial(url: str, kept: Kept, rows: dict[str, Any]) -> str:
    """Give one request that works: the guest bathroom's survey, or what is known of that opening."""
    guest = rows["o-15"].number
    token = kept.token(story()["tablets"][0]["ref"])
    bearer = f"-H 'Authorization: Bearer {token}'"
    example = json.loads((HERE / Path(EXAMPLE).name).read_text(encoding="utf-8"))
    if example["opening"] != guest:
        return f"Try\n  curl -sS {url}/api/v1/openings/{guest}/ {bearer}"
    return (
        f"Try (posts the survey of the guest bathroom, {guest}; the answer is the verdict)\n"
        f"  curl -sS {url}/api/v1/surveys/ {bearer} "
        f"-H 'Content-Type: application/json' -d @{EXAMPLE}"
    )
