"""What stands on each page of a paper: frozen data turned into the strings that are printed?"""

import re
from typing import Any

from fitcheck.drawings.svg import saying
from jobs.packets.paper.carrying import carrying_page
from jobs.packets.paper.claimed import claimed_page
from jobs.packets.paper.claiming import claim_page
from jobs.packets.paper.glyphs import printable
from jobs.packets.paper.goods import goods_page
from jobs.packets.paper.handing import care_page
from jobs.packets.paper.labels import labels_of
from jobs.packets.paper.loading import load_for
from jobs.packets.paper.looking import looking_page
from jobs.packets.paper.opening import opening_page, questions_of
from jobs.packets.paper.phrases import Json, local_time, state_of, telephone, word
from jobs.packets.paper.reading_list import reading_page
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import noted, say, speaking, template_words

PAGES = {
    "survey": reading_page,
    "install": opening_page,
    "follow_up": looking_page,
    "receiving": goods_page,
    "claim": claim_page,
}
LONG_WORD = re.compile(r"[^ \t\r\n]{19,}")
NEVER_SET = frozenset({"code_url", "qr"})
WITH_COVER = frozenset({"survey", "install", "follow_up"})
VISITS = noted(
    {
        "survey": "survey visit",
        "install": "install visit",
        "follow_up": "follow-up visit",
        "receiving": "receiving",
        "handover": "handover",
        "claim": "claim",
        "labels": "labels",
    }
)


def packet_content(data: Json, qr: str | None, fonts: str = "") -> dict[str, Any]:
    """Return everything that the template sets, with None for what nobody knows.

    `fonts` is a folder with more fonts than the bundled ones, whose letters can be printed too.

    Raises:
        ValueError: there is no catalogue of the language.
    """
    language = str(data.get("language") or "en")
    with speaking(language), saying(told):
        content = {**_head(data, qr), **_body(data), **_cover(data)}
        content |= {"language": language, "words": template_words()}
        cleaned: dict[str, Any] = _clean(content, fonts)
    return {**cleaned, "long_words": _has_long_word(cleaned)}


def _head(data: Json, qr: str | None) -> dict[str, Any]:
    number, job = data.get("number"), (data.get("job") or {}).get("number")
    kind = str(data.get("kind") or "install")
    return {
        "kind": kind,
        "kind_word": say(VISITS[kind]),
        "title": say("Packet {number}, job {job}", number=number, job=job),
        "number": number,
        "code": data.get("code"),
        "code_url": data.get("code_url"),
        "qr": qr,
        "made_at": data.get("made_at"),
        "firm": _reached(data.get("firm")),
        "job": data.get("job") or {},
        "customer": _reached(data.get("customer")),
        "outdated": [str(one) for one in data.get("outdated") or []],
    }


def _reached(who: Json | None) -> dict[str, Any]:
    """Return a firm or a customer with the telephone number as people read it."""
    return {**(who or {}), "phone": telephone((who or {}).get("phone"))}


def _cover(data: Json) -> dict[str, Any]:
    openings = list(data.get("openings") or [])
    kind = str(data.get("kind") or "install")
    if kind not in WITH_COVER:
        return {}
    verdicts = [o.get("verdict") or {} for o in openings]
    people = _people(data, verdicts if kind == "install" else [])
    fits = kind == "install"
    carrying = carrying_page(data) if fits else None
    return {
        "carrying": carrying,
        "booking": _booking(data.get("booking")),
        "site": _site(data.get("site") or {}),
        "hands": str(people),
        "states": [_state_line(o) for o in openings] if fits else [],
        "questions": [
            *(_way_asked(data) if kind != "follow_up" else []),
            *(q for o in openings if fits for q in questions_of(o)),
        ],
        "override": data.get("override") if fits else None,
        "stop": _stop(data, verdicts, carrying) if fits else None,
        "safety": [str(s) for s in data.get("safety") or []],
        "load": load_for(kind, verdicts, people),
    }


def _way_asked(data: Json) -> list[dict[str, str]]:
    asks = (data.get("site") or {}).get("way_asks") or []
    return [{"about": word("way in"), "text": told(str(ask))} for ask in asks]


def _body(data: Json) -> dict[str, Any]:
    openings = list(data.get("openings") or [])
    kind = str(data.get("kind") or "install")
    page = PAGES.get(kind)
    return {
        "openings": [page(o) for o in openings] if page else [],
        "care": [care_page(o) for o in openings],
        "carrying": None,
        "labels": labels_of(data) if kind == "labels" else [],
        "claims": [claimed_page(one) for one in data.get("claims") or []],
    }


def _clean(value: Any, fonts: str) -> Any:
    if isinstance(value, str):
        return printable(value, fonts)
    if isinstance(value, dict):
        return {k: _clean(v, fonts) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_clean(v, fonts) for v in value]
    return value


def _has_long_word(value: Any) -> bool:
    """Say whether a word is too long for a narrow column; pictures and what is never set aside."""
    if isinstance(value, str):
        return bool(LONG_WORD.search(value)) and not value.startswith("<svg")
    if isinstance(value, dict):
        return any(_has_long_word(v) for k, v in value.items() if k not in NEVER_SET)
    return isinstance(value, list) and any(map(_has_long_word, value))


def _people(data: Json, verdicts: list[Json]) -> int:
    asked = [int(v["hands_needed"]) for v in verdicts if v.get("hands_needed")]
    booked = len((data.get("booking") or {}).get("members") or [])
    least = 1 if (data.get("kind") in {"survey", "follow_up"} and booked) else 2
    return max([least, booked, *asked])


def _stop(data: Json, verdicts: list[Json], carrying: Json | None) -> str | None:
    """Return why this packet must not be installed from, when nobody has released it by name."""
    if data.get("override"):
        return None
    if {state_of(v) for v in verdicts} & {"fails", "unknown"}:
        return say(
            "The verdict does not pass and nobody has released it by name. Ring the office first."
        )
    if carrying and any(row["fails"] for row in carrying["panels"]):
        return say(
            "A panel does not get in and nobody has released it by name. Ring the office first."
        )
    return None


def _state_line(opening: Json) -> dict[str, str]:
    verdict = opening.get("verdict") or {}
    none = say("No verdict has been made for this opening.")
    return {
        "name": f"{opening.get('number')} {opening.get('name')}",
        "state": told(state_of(verdict)),
        "summary": told(str(verdict.get("summary") or "")) or none,
    }


def _booking(booking: Json | None) -> dict[str, Any] | None:
    if not booking:
        return None
    zone = str(booking.get("zone") or "")
    start, end = (local_time(booking.get(k), zone) for k in ("start", "end"))
    same_day = start[:-5] == end[:-5]
    visit = booking.get("visit")
    return {
        "number": booking.get("number"),
        "visit": say(VISITS[visit]) if visit in VISITS else visit,
        "when": say("{start} to {end}", start=start, end=end[-5:] if same_day else end),
        "zone": zone,
        "crew": booking.get("crew"),
        "members": [str(m) for m in booking.get("members") or []],
    }


def _site(site: Json) -> dict[str, Any]:
    return {
        "address_lines": [str(line) for line in site.get("address_lines") or []],
        "access_notes": site.get("access_notes") or None,
        "way_in": [
            {
                "what": word(w.get("what")),
                "value": told(str(w.get("value") or "")) or say("not read"),
            }
            for w in site.get("way_in") or []
        ],
        "year_built": str(site["year_built"]) if site.get("year_built") else None,
    }
