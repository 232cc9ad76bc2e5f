"""What may be asked about dates: which clocks run, and when does each run out?"""

from fitcheck.checks.members import (
    Field,
    choice,
    flag,
    several,
    shape,
    source,
    text,
    texts,
    whole,
)
from fitcheck.checks.question import Question
from fitcheck.rules.business_days import COOLING_OFF_RULES, HOLIDAY_RULES
from fitcheck.rules.clocks import LEAP_DAYS

DAY = "`2026-03-02`."


def _day(says: str) -> Field:
    return text(f"{says} {DAY}", required=False, allow_null=True)


CALENDAR = shape(
    "BusinessDays",
    "Which days were counted.",
    name=text(),
    rest=several(whole(), "Days of the week that are none; 0 is Monday."),
    holidays=choice(HOLIDAY_RULES),
    closed=texts("The firm's own closed days."),
)
CLOCKS = Question(
    "clocks",
    "Which clocks run?",
    "Deadlines from what happened.",
    "Deadlines from what happened: concealed damage, claims against the carrier, the maker's claim "
    "and warranty, notice to the seller, cancellation by the customer. No legal advice.",
    "deadlines",
    asks=shape(
        "ClocksQuestion",
        "What happened, and when.",
        delivered_on=_day("Goods came."),
        damage_found_on=_day("Damage was found."),
        claim_received_on=_day("The carrier received the claim."),
        claim_disallowed_on=_day("The carrier declined it."),
        signed_on=_day("The contract was signed; needs `sale`."),
        installed_on=_day("The work was done."),
        sale=shape(
            "Sale",
            "Where and for how much it was sold.",
            place=choice(("home", "elsewhere", "our_place")),
            price_cents=whole(),
        )(required=False, allow_null=True),
        sheet=shape(
            "SheetTerms",
            "What the kit's sheet grants and asks.",
            title=text(),
            edition=text(),
            warranty=shape("WarrantyTerm", "Warranty.", years=whole(), page=text())(
                required=False, allow_null=True
            ),
            claim=shape("ClaimTerm", "Claims.", within_days=whole(), page=text())(
                required=False, allow_null=True
            ),
        )(required=False, allow_null=True),
        settings=shape(
            "ClockSettings",
            "How days are counted.",
            concealed_holidays=choice(HOLIDAY_RULES, required=False),
            cooling_off_holidays=choice(
                COOLING_OFF_RULES,
                "No other way of counting: it could shorten the buyer's time.",
                required=False,
            ),
            closed=texts(
                f"The firm's: the buyer gets more time, we get none. {DAY}", required=False
            ),
            leap_day=choice(LEAP_DAYS, required=False),
            status_reports=whole("How many to list. Default: 2.", required=False),
            notice_days=whole("For telling the seller.", required=False),
        )(required=False, allow_null=True),
        today=_day("To count the days left."),
        time_zone=text("The site's: `America/Chicago`.", required=False, allow_null=True),
    ),
    tells=shape(
        "ClocksAnswer",
        "Clocks in the order of their ends.",
        clocks=shape(
            "Clock",
            "One clock.",
            clock=text(),
            who=text(),
            began_on=text(),
            ends_on=text(),
            words=text(),
            days_left=whole(allow_null=True),
            run_out=flag(allow_null=True),
            do=text(),
            note=text(),
            source=source(),
            ends_at=text("Midnight on site.", allow_null=True),
        )(many=True),
        not_running=shape(
            "ClockNotRunning",
            "What was told of but does not run.",
            clock=text(),
            why=text(),
        )(many=True),
        calendars=shape(
            "Calendars",
            "By which days was counted.",
            concealed_damage=CALENDAR(),
            cooling_off=CALENDAR(),
        )(),
        cautions=texts(),
    ),
)
