"""How does a value of an answer stand on a page? As words and links, never as raw structure."""

import re
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.urls import NoReverseMatch, reverse
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

NUMBER = re.compile(r"^([A-Z]{1,2})-\d{4,15}$")
ROOMS = {
    "B": "booking",
    "C": "customer",
    "CD": "closed-day",
    "CF": "calendar",
    "DO": "day-off",
    "DP": "plan",
    "I": "integration",
    "J": "job",
    "LI": "import",
    "CL": "claim",
    "DL": "deadline",
    "L": "loss",
    "SV": "save",
    "OR": "order",
    "W": "warranty",
    "M": "member",
    "O": "opening",
    "P": "packet",
    "RM": "reminder",
    "RR": "reminder-rule",
    "S": "site",
    "T": "tablet",
}
KEYS = {"crew": "crew", "kit": "kit", "newest_sheet": "sheet", "sheet": "sheet"}
ROOMS |= {"WD": "delivery", "WH": "webhook"}
UUIDS = {
    "delivery": "arrival",
    "deliveries": "arrival",
    "install": "install",
    "record": "install-record",
    "survey": "survey",
    "supersedes": "survey",
    "verdict": "verdict",
}
WORDS = {
    "id": "Number",
    "url": "Address",
    "local": "When",
    "slug": "Short name",
    "streetAddress": "Street and house number",
    "extendedAddress": "Flat or floor",
    "addressLocality": "Town",
    "addressRegion": "State or region",
    "addressCountry": "Country",
}
UUID_TEXT = re.compile(r"^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$")
LENGTH = re.compile(r"^[-\d /.]{1,14} (?:in|mm|kg)$")
JOINED = re.compile(r"^[a-z]+(_[a-z]+)+$")
STATES = frozenset({"fits", "tight", "fails", "unknown", "booked", "cancelled", "done", "failed"})
NOTHING = mark_safe('<span class="none">none</span>')


def label(name: str) -> str:
    """Turn a field's name into words."""
    spaced = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", name).replace("_", " ").strip()
    return WORDS.get(name, spaced[:1].upper() + spaced[1:].lower())


def shown(value: Any, name: str = "") -> SafeString:
    """Write one value for a reader; everything that came from outside is escaped."""
    if value is None or value in ("", [], {}):
        return NOTHING
    if isinstance(value, bool):
        return format_html("{}", "yes" if value else "no")
    if isinstance(value, Mapping):
        return _computed(value) or _facts(value)
    if isinstance(value, list | tuple):
        return _many(list(value), name)
    return _text(str(value), name)


def _text(text: str, name: str) -> SafeString:
    if isinstance(text, SafeString):
        return text
    if name in {"state", "status"} and text in STATES:
        return format_html('<span class="state {}">{}</span>', text, text)
    if text.startswith(("http://", "https://")):
        return format_html('<a href="{}">{}</a>', text, _tail(text))
    address = link_of(text, name)
    if address:
        return format_html('<a href="{}">{}</a>', address, _short(text))
    if UUID_TEXT.match(text):
        return format_html('<abbr title="{}">{}</abbr>', text, _short(text))
    if LENGTH.match(text):
        return format_html('<span class="one">{}</span>', text)
    if JOINED.match(text):
        return format_html("{}", text.replace("_", " "))
    if name.endswith("_at"):
        return _moment(text)
    return format_html("{}", text)


def _short(text: str) -> str:
    """An id made by a program as its last twelve signs, as lists show it; all else as it is."""
    return f"…{text[-12:]}" if UUID_TEXT.match(text) else text


def _tail(text: str) -> str:
    return "open" if len(text) > 60 else text


def link_of(text: str, name: str) -> str:
    """Find the page of a row named by number, short name or id; empty when it names none."""
    number = NUMBER.match(text)
    room = ROOMS.get(number[1]) if number else KEYS.get(name) or UUIDS.get(name)
    if not room:
        return ""
    try:
        return reverse(f"{room}-detail", args=[text])
    except NoReverseMatch:
        return ""


def _moment(text: str) -> SafeString:
    """A moment by the office's clock, which it names; in UTC for whoever points at it."""
    try:
        moment = datetime.fromisoformat(text).astimezone(UTC)
    except ValueError:
        return format_html("{}", text)
    here = moment.astimezone(ZoneInfo(settings.FIRM_TIME_ZONE))
    words = f"{here.day} {here:%b %Y, %H:%M %Z}"
    return format_html(
        '<time datetime="{}" title="{}">{}</time>', text, f"{moment:%Y-%m-%d %H:%M} UTC", words
    )


def _computed(value: Mapping[str, Any]) -> SafeString | None:
    """A computed length: inches first, millimetres beside."""
    if {"mm", "inch"} <= set(value):
        return format_html("{} <small>({})</small>", value["inch"], value["mm"])
    return None


def _facts(value: Mapping[str, Any]) -> SafeString:
    rows = ((label(k), shown(v, k)) for k, v in value.items())
    return format_html(
        '<dl class="inner">{}</dl>', format_html_join("", "<dt>{}</dt><dd>{}</dd>", rows)
    )


def _many(values: list[Any], name: str) -> SafeString:
    if all(isinstance(one, Mapping) for one in values):
        return table_of(values, label(name) or "Table")
    return format_html_join(", ", "{}", ((shown(one, name),) for one in values))


def table_of(rows: list[Mapping[str, Any]], title: str) -> SafeString:
    """Write a list of objects as a table of the members that any of them fills."""
    names = [
        name
        for name in dict.fromkeys(key for row in rows for key in row)
        if name != "id" and any(row.get(name) not in (None, "", []) for row in rows)
    ]
    heads = format_html_join("", '<th scope="col">{}</th>', ((label(name),) for name in names))
    lines = format_html_join("", "<tr>{}</tr>", ((_line(row, names),) for row in rows))
    return format_html(
        '<div class="wide" tabindex="0" role="region" aria-label="{}">'
        "<table><thead><tr>{}</tr></thead><tbody>{}</tbody></table></div>",
        title,
        heads,
        lines,
    )


def _line(row: Mapping[str, Any], names: list[str]) -> SafeString:
    return format_html_join("", "<td>{}</td>", ((_cell(row.get(n), n),) for n in names))


def _cell(value: Any, name: str) -> SafeString:
    """Write one value into a table: an object in one line, nothing as nothing."""
    if value is None or value in ("", [], {}):
        return format_html("{}", "")
    if isinstance(value, Mapping) and _computed(value) is None:
        told = ((label(k), _cell(v, k)) for k, v in value.items() if v not in (None, "", [], {}))
        return format_html_join("; ", "{} {}", told)
    return shown(value, name)
