"""Does the paper's schedule say how much of each fixing's capacity is used, and by whose word?"""

from typing import Any

from jobs.packets.paper.holding import held_by, share_used, with_loads
from jobs.packets.paper.opening import opening_page
from tests.jobs.packets.stories import story_cases


def page_of(kit: str) -> Any:
    (case,) = [one for one in story_cases() if one["kit"]["name"].startswith(kit)][-1:]
    return opening_page(case)


def rows_of(page: Any, place: str) -> list[dict[str, str]]:
    return [
        {row["label"]: row["value"] for row in [*fixing["figures"], *fixing["sentences"]]}
        for fixing in fixings_of(page)
        if fixing["place"].startswith(place)
    ]


def fixings_of(page: Any) -> list[Any]:
    return [fixing for wall in page["walls"] for fixing in wall["fixings"]]


def test_an_anchors_row_names_the_share_and_the_reports_page() -> None:
    concrete, block = rows_of(page_of("nimmelow-ossiewend"), "rail plate")

    assert concrete["used"] == "0.13 of what it holds"
    assert block["used"] == "0.36 of what it holds"
    assert concrete["holds by"] == (
        "Evaluation report XR-0417 (invented) · 2026-05 · page 5 · kit sheet"
    )
    assert block["pilot"] == "1/4 in through block"
    assert block["anchor"].endswith("2 in long")


def test_wood_names_its_standard_and_light_fixings_name_nothing() -> None:
    page = page_of("osquith-tillybeck")

    assert all("TR12" in row["holds by"] for row in rows_of(page, "rail bracket"))
    assert all("used" not in row for row in rows_of(page, "side strip"))


def test_what_is_not_known_is_no_number_on_paper() -> None:
    page = page_of("pellandrake-gullimot")
    (hinges,) = (one for one in fixings_of(page) if one["place"].startswith("hinge"))

    assert "used" not in {row["label"] for row in hinges["figures"]}
    assert "fit wood blocking" in hinges["questions"][0]


def test_an_older_verdict_has_no_share_to_tell() -> None:
    row = {"place": "rail", "surface": "left_wall", "height": "72 in"}
    (told,) = with_loads({"fixings": [row], "loads": [{**row, "capacity": None}]})

    assert share_used(told) == held_by(told) == ""
    assert share_used(row) == held_by(row) == ""


def test_on_masonry_no_step_and_no_map_looks_for_a_stud() -> None:
    page = page_of("nimmelow-ossiewend")
    text = " ".join(step["text"] for step in page["steps"])

    assert "The left wall is masonry" in text
    assert "off them by 9 3/8 in at 74 3/4 in, as surveyed" in text
    assert "centre of stud or blocking and draw" not in text
    for one in page["walls"]:
        assert "masonry: no stud" in one["picture"]
        assert "stud not read" not in one["picture"]
    assert "Masonry on this" in page["views"][0]
    assert "Masonry edge at" in page["elevation"]
