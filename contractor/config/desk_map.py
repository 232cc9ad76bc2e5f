"""What can be done here, in the words of the office's tasks?"""

from typing import Any

from rest_framework.reverse import reverse

from contractor.api.callers import Caller
from fitcheck.checks.questions import QUESTIONS

GROUPS = (
    (
        "Measure",
        (
            ("survey", "Surveys", "Readings that came in, and the form to post one."),
            ("opening", "Openings", "The holes that will hold an enclosure."),
            ("verdict", "Verdicts", "What fits where, and asking about another kit."),
            ("refused", "Surveys kept aside", "Refused bodies, so that nothing is lost."),
        ),
    ),
    (
        "Ask, and nothing is kept",
        (
            ("check-fit", "Would it fit?", "The computation of a verdict."),
            *((f"check-{one.address}", one.title, one.short) for one in QUESTIONS),
            ("check-length", "How is a length read?", "Inches and millimetres, exactly."),
        ),
    ),
    (
        "Plan",
        (
            ("booking", "Book a visit", "The crews' week, booking, moving, cancelling."),
            ("free-time", "Find free time", "Which crew can come when, and why."),
            ("drawing", "Drawings", "Files for the fabricator, and signing for them."),
            ("plan", "Replan a day", "A better order for a day's visits, to accept or decline."),
            ("packet", "Packets", "The paper for a visit, and how far it is."),
            ("saw-plan", "Saw plans", "How a week's parts are sawn from the bars."),
            ("digest", "Today", "What the office must know this morning."),
            ("reminder", "Reminders", "What will be told, to whom and when; what is late."),
            ("reminder-rule", "Reminder rules", "After what, unless what, who is told."),
        ),
    ),
    (
        "Install",
        (
            (
                "install",
                "Installs",
                "Stops, saw marks and pictures of each install, and what is next.",
            ),
            ("install-record", "What was recorded", "Every record, also one that came too early."),
            ("mark", "Saw marks", "Released with their length, or held with the reason."),
            ("handover", "Handovers", "Who took the work over, and who signed."),
            ("van-stock", "Van stock", "What each van carries, and what to load."),
            ("stock-movement", "Stock movements", "Loaded, used, counted; and writing one down."),
            ("stock-item", "Parts on the list", "Anchors, screws and sealants that vans carry."),
        ),
    ),
    (
        "Goods and claims",
        (
            ("order", "Orders", "What must come, piece by piece, and looking it over."),
            ("arrival", "Arrivals", "What carriers brought, and how it was found."),
            ("inspection", "Inspections", "Each piece that was looked over."),
            ("claim", "Claims", "Damage and warranty, with evidence and outcome."),
            ("deadline", "Claim deadlines", "What runs out next."),
            ("warranty", "Warranties", "What is still promised, and until when."),
            ("loss", "Costs of error", "What leaks, and what the guards saved."),
            ("save", "Guards' saves", "Each refusal, once a day for a job."),
        ),
    ),
    (
        "Customers and work",
        (
            ("customer", "Customers", "Who has a bathroom."),
            ("site", "Sites", "Where the work is, and how glass gets in."),
            ("import", "Lists in and out", "Customers, sites, kits and bookings as files."),
            ("job", "Jobs", "What the firm has been asked to do."),
        ),
    ),
    (
        "Kits",
        (
            ("kit", "Kits", "The catalogue."),
            ("sheet", "Rule sheets", "Published versions, and publishing the next."),
        ),
    ),
    (
        "People and access",
        (
            ("member", "People", "Who works here, in which role."),
            ("crew", "Crews", "Who goes out together, and how many hands that makes."),
            ("day-off", "Days off", "Who stays at home, and when."),
            ("closed-day", "Closed days", "Days on which a region's crews do not work."),
            ("holiday", "Public holidays", "Propose a year's holidays as closed days."),
            ("tablet", "Tablets", "Tokens for the field, issued and revoked."),
            ("calendar", "Calendars", "Secret addresses for the crews' own calendar programs."),
            ("integration", "Programs of others", "Tokens for scheduling tools."),
        ),
    ),
    (
        "What happened",
        (
            ("history", "History", "Who changed what, when and why."),
            ("change", "Change feed", "As programs read it, from the start."),
            ("webhook", "Webhooks", "Who else hears of what happens here."),
            ("delivery", "Deliveries", "What was posted to webhooks, and what came of it."),
        ),
    ),
)
FOR_PROGRAMS = (("docs", "API documentation", "Every address, tried out in the browser."),)


def desk_map(caller: Caller, views: dict[str, Any]) -> list[dict[str, Any]]:
    """List the tasks by group that this caller may do; `views` are the rooms by their base name."""
    groups = [
        {"title": title, "links": [_link(*one) for one in tasks if _open_to(caller, views[one[0]])]}
        for title, tasks in GROUPS
    ]
    docs = [{"url": reverse(name), "text": text, "says": says} for name, text, says in FOR_PROGRAMS]
    return [*(one for one in groups if one["links"]), {"title": "For programs", "links": docs}]


def _open_to(caller: Caller, view: Any) -> bool:
    roles = view.roles.get("list") or view.roles.get("create", frozenset())
    return caller.role in roles


def _link(name: str, text: str, says: str) -> dict[str, str]:
    return {"url": reverse(f"{name}-list"), "text": text, "says": says}
