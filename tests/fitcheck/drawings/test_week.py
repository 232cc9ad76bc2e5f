"""Does the calendar strip put each visit under its day, in words?"""

from typing import Any
from xml.etree import ElementTree

from fitcheck.drawings.week import svg_week

SVG = "{http://www.w3.org/2000/svg}"
DAYS = ["2026-11-23", "2026-11-24", "2026-11-25"]


def placed(svg: str) -> dict[str, float]:
    root = ElementTree.fromstring(svg)  # noqa: S314  our own output
    return {"".join(t.itertext()): float(t.get("x") or 0) for t in root.iter(f"{SVG}text")}


def visit(start: str, end: str, label: str) -> dict[str, Any]:
    return {"start": start, "end": end, "label": label}


def test_a_visit_stands_under_its_own_day() -> None:
    visits = [
        visit("2026-11-25T08:00", "2026-11-25T12:30", "J-0031 install"),
        visit("2026-11-23T13:00", "2026-11-23T15:00", "J-0029 survey"),
    ]

    words = placed(svg_week("Week 48", DAYS, [{"crew": "Heron", "visits": visits}]))

    assert words["J-0029 survey"] < words["Tue 24 Nov"] < words["J-0031 install"]
    assert "08:00–12:30" in words
    assert "Heron" in words


def test_a_visit_over_midnight_stands_on_both_days() -> None:
    night = [visit("2026-11-23T22:00", "2026-11-24T06:00", "night work")]

    words = placed(svg_week("Week 48", DAYS, [{"crew": "Heron", "visits": night}]))

    assert {"22:00–…", "…–06:00"} <= set(words)


def test_a_visit_outside_the_week_is_not_drawn() -> None:
    other = [visit("2026-12-01T08:00", "2026-12-01T09:00", "elsewhere")]

    words = placed(svg_week("Week 48", DAYS, [{"crew": "Heron", "visits": other}]))

    assert "elsewhere" not in words


def test_a_strip_without_crews_says_so() -> None:
    assert "No crew is on this strip." in placed(svg_week("Week 48", DAYS, []))


def test_hostile_labels_stay_words() -> None:
    rows = [{"crew": "<b>", "visits": [visit("2026-11-23T08:00", "2026-11-23T09:00", "<x/>&")]}]

    words = placed(svg_week("<svg>", DAYS, rows))

    assert {"<b>", "<x/>&", "<svg>"} <= set(words)


def test_a_hold_a_drive_and_a_closed_day_are_told() -> None:
    held = visit("2026-11-23T10:00", "2026-11-23T12:00", "B-0007 only held")
    row = {
        "crew": "Heron",
        "visits": [{**held, "held": True, "drive": "22 min drive"}],
        "days": {"2026-11-25": "Closed: Pulling Day"},
    }

    words = placed(svg_week("Week 48", DAYS, [row]))

    assert "↓ 22 min drive" in words
    assert words["Closed: Pulling Day"] > words["Tue 24 Nov"]
    plain = svg_week("Week 48", DAYS, [{**row, "visits": [held]}])
    assert svg_week("Week 48", DAYS, [row]).count("dasharray") == plain.count("dasharray") + 1
