"""How is a message worded? Named words put into the rule's text, in the reader's language."""

import re
from collections.abc import Mapping
from datetime import datetime
from string import Formatter
from typing import Any
from zoneinfo import ZoneInfo

from django.utils import translation
from django.utils.formats import date_format

WORDS = {
    "customer": "Name of the customer",
    "customer_phone": "Telephone of the customer",
    "job": "Number of the job",
    "summary": "What the job is",
    "opening": "Which bathroom",
    "site": "Street and town",
    "visit": "What the visit is for",
    "when": "Day and hours of the visit, by the site's clock",
    "about": "Number of what it is about",
    "days": "How many days the rule counts",
    "deadline": "Day of the claim's deadline",
    "promised": "Day for which the goods are promised",
    "says": "What went wrong, in the words of the error; else of the job",
    "first_shower": "A sentence with the earliest first shower",
    "firm": "Name of the firm",
    "phone": "Telephone of the firm",
    "headline": "The digest in one line",
    "digest": "The digest",
}
VISITS = {
    "en": {"survey": "survey", "install": "install", "follow_up": "follow-up"},
    "es": {"survey": "medición", "install": "instalación", "follow_up": "revisión"},
}
SHOWER = {
    "en": "The earliest first shower is on {when}, local time.",
    "es": "La primera ducha puede ser, como muy pronto, el {when}, hora local.",
}
UNKNOWN_SHOWER = {
    "en": "How long the sealant needs is not yet worked out: do not shower before we have told you.",
    "es": "Aún no se sabe cuánto necesita el sellador: no se duche antes de que le avisemos.",
}
NONE = "–"
DAY = {"en": "l j F Y", "es": r"l j \d\e F \d\e Y"}
CONTROL = re.compile(r"[\x00-\x1f\x7f]+")


def unknown_words(text: str) -> list[str]:
    """List the words of a template that nobody can fill; a broken template raises ValueError."""
    names = [name for _, name, spec, how in Formatter().parse(text) if name is not None]
    plain = re.findall(r"{([^{}]*)}", text)
    return sorted({one for one in [*names, *plain] if one not in WORDS})


def filled(text: str, words: Mapping[str, Any]) -> str:
    """Put the words into a template; a word that is not known is said to be missing."""
    return re.sub(r"{([a-z_]+)}", lambda found: str(words.get(found[1]) or NONE), text)


def in_one_line(text: str) -> str:
    """Make a text fit for a subject: one line, so that no name can add a header."""
    return CONTROL.sub(" ", text).strip()[:200]


def day_words(moment: datetime, zone_name: str, language: str) -> str:
    """Write a day of the site's calendar: `Tuesday 3 March 2027`."""
    local = moment.astimezone(ZoneInfo(zone_name))
    with translation.override(language):
        return date_format(local, DAY.get(language, DAY["en"]), use_l10n=False)


def clock_words(moment: datetime, zone_name: str, language: str) -> str:
    """Write a day and an hour: `Tuesday 3 March 2027, 14:00`."""
    local = moment.astimezone(ZoneInfo(zone_name))
    return f"{day_words(moment, zone_name, language)}, {local:%H:%M}"


def span_words(start: datetime, end: datetime, zone_name: str, language: str) -> str:
    """Write a visit's day and hours."""
    zone = ZoneInfo(zone_name)
    local, until = start.astimezone(zone), end.astimezone(zone)
    head = f"{day_words(start, zone_name, language)}, {local:%H:%M}–"
    if local.date() == until.date():
        return f"{head}{until:%H:%M}"
    return head + clock_words(end, zone_name, language)


def shower_words(moment: datetime | None, zone_name: str, language: str) -> str:
    """Say when the first shower may be, or that nobody knows yet."""
    if moment is None:
        return UNKNOWN_SHOWER[language]
    return SHOWER[language].format(when=clock_words(moment, zone_name, language))
