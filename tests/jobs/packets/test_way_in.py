"""Does the paper say of each panel which place is its tightest, draw the worst, and stop where it fails?"""

from typing import Any

import pytest

from contractor.customers.models import Site
from jobs.packets.data import _site
from jobs.packets.paper.content import packet_content
from tests.jobs.packets.stories import story_cases, story_paper

STAIR = {
    "door_width": "32 in", "door_height": "80 in", "stair_width": "36 in",
    "stair_headroom": "80 in", "stair_rise": "7 1/2 in", "stair_going": "10 in",
    "landing_depth": "36 in", "landing_height": "92 in",
}  # fmt: skip
TURN = {"passes": ["quarter_turn"], **STAIR}


def slider() -> dict[str, Any]:
    """A case of two panels that are not alike, whose verdict fits."""
    return next(
        one
        for one in story_cases()
        if one["verdict"]["state"] == "fits"
        and len({panel["width"] for panel in one["verdict"]["panels"]}) == 2
    )


def content(language: str = "en", **way: Any) -> dict[str, Any]:
    data = story_paper(slider(), "install", language)
    data["site"] = _site(Site(street_address="1 Quillback Row", address_locality="X", **way))
    return packet_content(data, None)


def test_every_panel_stands_with_its_tightest_place_the_worst_first() -> None:
    carrying = content(**TURN)["carrying"]
    names = {panel["name"] for panel in slider()["verdict"]["panels"]}

    assert {row["panel"] for row in carrying["panels"]} == names
    for row in carrying["panels"]:
        assert row["place"] in {"Door", "Stair", "Turn of the stair"}
        assert "to spare, " in row["says"]
    first = carrying["panels"][0]["panel"]
    assert f"Panel {first} " in carrying["picture"]
    assert "Reckoned with 25 mm of packing on every side, a house setting." in carrying["picture"]


def test_the_picture_is_of_the_panel_that_is_tightest_not_of_the_heaviest() -> None:
    """Through a low wide door the taller panel is the tightest; the other one weighs more."""
    panels = slider()["verdict"]["panels"]
    tall = max(panels, key=lambda one: float(one["height"].split()[0]))
    heavy = max(panels, key=lambda one: float(one["mass"].split()[0]))
    assert tall["name"] != heavy["name"]
    way = {"passes": ["straight_in"], "door_width": "900 in", "door_height": "90 in"}
    carrying = content(**way)["carrying"]

    assert carrying["panels"][0]["panel"] == tall["name"]
    assert f"Panel {tall['name']} " in carrying["picture"]


@pytest.mark.parametrize(
    ("language", "stop", "says"),
    [
        ("en", "A panel does not get in and nobody has released it by name.", "does not get in"),
        ("es", "Un panel no entra y nadie lo ha autorizado con su nombre.", "no entra"),
    ],
)
def test_a_panel_that_does_not_get_in_stops_the_visit(language: str, stop: str, says: str) -> None:
    low = {**TURN, "landing_height": "40 in"}
    told = content(language, **low)

    assert content(language, **TURN)["stop"] is None
    assert told["stop"].startswith(stop)
    assert all(row["fails"] and says in row["says"] for row in told["carrying"]["panels"])


def test_a_release_by_name_stands_in_place_of_the_stop() -> None:
    data = story_paper(slider(), "install", "en")
    low = {**TURN, "landing_height": "40 in"}
    data["site"] = _site(Site(street_address="1 Quillback Row", address_locality="X", **low))
    data["override"] = {"name": "Imke Thorsby", "reason": "Through the window."}

    assert packet_content(data, None)["stop"] is None


@pytest.mark.parametrize(
    ("language", "asked"),
    [
        ("en", "Measure on the way in: landing depth, height over the landing."),
        ("es", "Mida en el acceso: fondo del descanso, altura sobre el descanso."),
    ],
)
def test_what_nobody_has_measured_is_a_question_on_the_cover(language: str, asked: str) -> None:
    known = {name: size for name, size in TURN.items() if not name.startswith("landing")}
    questions = content(language, **known)["questions"]

    assert [one["text"] for one in questions] == [asked]
    assert content(language, **TURN)["questions"] == []


def test_nothing_told_is_one_question_in_either_language() -> None:
    english, spanish = (content(language)["questions"] for language in ("en", "es"))

    assert english[0]["text"].startswith("Nobody has told how the glass gets in: ")
    assert spanish[0]["text"].startswith("Nadie ha dicho cómo entra el vidrio: ")
    assert len(english) == len(spanish) == 1


def test_straight_in_is_said_and_asks_nothing() -> None:
    told = content("es", passes=["straight_in"])

    assert told["site"]["way_in"] == [{"what": "Entrada", "value": "derecho en un solo nivel"}]
    assert (told["carrying"], told["questions"], told["stop"]) == (None, [], None)


def test_each_place_is_told_with_its_sizes_by_their_words() -> None:
    told = content(**TURN)["site"]["way_in"]

    assert told == [
        {"what": "Door", "value": "32 in × 80 in"},
        {"what": "Stair", "value": "wide 36 in, headroom 80 in, rise 7 1/2 in, going 10 in"},
        {
            "what": "Turn of the stair",
            "value": "flight 36 in, landing 36 in, high 92 in, rise 7 1/2 in, going 10 in",
        },
    ]


@pytest.mark.parametrize(("kind", "count"), [("survey", 1), ("install", 1), ("follow_up", 0)])
def test_whoever_measures_is_asked_for_the_way_in_as_well(kind: str, count: int) -> None:
    data = story_paper(slider(), kind, "en")
    data["site"] = _site(Site(street_address="1 Quillback Row", address_locality="X"))

    asked = [one for one in packet_content(data, None)["questions"] if one["about"] == "way in"]
    assert len(asked) == count
