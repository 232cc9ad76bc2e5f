"""Cases that several test modules of one topic ask about."""

from typing import Any

from fitcheck.rules.wood_screw import WoodJoint

Question = dict[str, Any]


BRACKET = {
    "reach": "1 in",
    "screw_height": "2 in",
    "screws": 2,
    "top_row": 1,
    "thickness": "1/8 in",
    "metal": "steel",
}


def wood(**changes: Any) -> Question:
    base = {
        "kind": "wood",
        "species": "spruce_pine_fir",
        "screw": {"size": "#10", "length": "2 5/8 in"},
    }
    return {**base, **changes}


def asked(base: Question, **changes: Any) -> Question:
    question: Question = {
        "demand": {"kind": "load", "down": "45 lbf"},
        "bracket": BRACKET,
        "stack": "1 in",
        "slam_factor": "1",
        "base": base,
    }
    return {**question, **changes}


def by_rule(answer: dict[str, Any]) -> dict[str, Any]:
    return {finding["rule"]: finding for finding in answer["findings"]}


def joint_of(**changes: Any) -> WoodJoint:
    members: dict[str, Any] = {
        "size": "#10",
        "length_nm": 66_675_000,
        "bracket_nm": 3_175_000,
        "bracket_psi": 61_850.0,
        "stack_nm": 25_400_000,
        "gravity": 0.42,
        "duration": 0.9,
    }
    return WoodJoint(**{**members, **changes})


def hinge(**changes: Any) -> Question:
    return {
        "kind": "hinge",
        "mass": "86 lb",
        "width": "30 in",
        "hinge_centres": "60 in",
        "offset": "0 in",
        "hinges": 2,
        **changes,
    }


def rail_demand() -> Question:
    return {
        "kind": "rail",
        "span": "60 in",
        "shape": "tube",
        "width": "1 in",
        "height": "2 in",
        "wall": "1/8 in",
        "panels": [
            {"mass": "36 kg", "roller_spacing": "22 in", "first_from": "2 in", "first_to": "36 in"}
        ],
    }


def steel(**changes: Any) -> Question:
    return {
        "kind": "steel_stud",
        "thickness": "43 mil",
        "screw": {"size": "#10", "length": "2 in"},
        **changes,
    }


def layout(*screws: tuple[str, str], load: tuple[str, str]) -> Question:
    return {
        "screws": [{"right": right, "up": up} for right, up in screws],
        "load": {"right": load[0], "up": load[1]},
    }


def block(**changes: Any) -> Question:
    base = {
        "kind": "block",
        "anchor": "1/4 in",
        "embedment": "1 1/4 in",
        "edge": "3 in",
        "spacing": "3 in",
        "head_joint": "2 in",
        "unit": "8 in",
        "grouted": "no",
        "report": {
            "number": "an invented report",
            "tension": "100 lbf",
            "shear": "200 lbf",
            "edge": "2 in",
            "spacing": "2 in",
            "embedment": "1 in",
            "stack_most": "1 in",
        },
    }
    return {**base, **changes}
