"""The example that the schema shows and the tests post: a tablet's survey of a curb opening."""

from typing import Any

_TAPE = {"kind": "tape", "accuracy_class": "II", "graduation": "1/16 in", "hook": True}


def _width(tail: str, height: str, value: str) -> dict[str, Any]:
    return {
        "id": f"019ab8c0-0000-7000-8000-0000000000{tail}",
        "quantity": "width",
        "height": height,
        "value": value,
        "tool": _TAPE,
    }


SURVEY_EXAMPLE: dict[str, Any] = {
    "id": "019ab8c0-0000-7000-8000-000000000001",
    "opening": "O-0001",
    "kit": "osquith-tillybeck",
    "taken_at": "2026-11-10T09:10:00-06:00",
    "readings": [
        _width("11", "0 in", "58 5/16 in"),
        _width("12", "36 in", "58 1/4 in"),
        _width("13", "72 in", "58 3/16 in"),
        {
            "id": "019ab8c0-0000-7000-8000-000000000014",
            "quantity": "backing_centre",
            "side": "left",
            "height": "71 1/4 in",
            "value": "3 3/16 in",
            "tool": _TAPE,
        },
    ],
    "zones": [
        {
            "id": "019ab8c0-0000-7000-8000-000000000021",
            "surface": "left_wall",
            "from_height": "0 in",
            "to_height": "84 in",
            "finish": "porcelain",
            "finish_thickness": "5/16 in",
            "backing": "cement_board",
            "backing_thickness": "1/2 in",
            "fit": "solid",
            "structure": "wood_stud",
            "membrane": "yes",
        }
    ],
    "notes": "Second bath, valve on the left.",
}
