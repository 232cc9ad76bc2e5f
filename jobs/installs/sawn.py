"""Was a part sawn at its mark, or shorter than its end covers hide?"""

from typing import Any

from fitcheck.rules import sawmark
from jobs.installs.judge import Judged
from jobs.installs.models import Install, MarkState, RecordState

SHORT = "mark.sawn_short"  # what is too long can be sawn again


def sawn_judge(*, install: Install, stop: dict[str, Any], sawn: str) -> Judged:
    """Hold a part's length as sawn against the mark that was released for it.

    Source: the kit's own sheet for what the end covers hide.
    """
    parts = [one["part"] for one in stop["needs"] if one["kind"] == "mark"]
    marks = install.marks.filter(part__in=parts, state=MarkState.RELEASED)
    mark = marks.order_by("received_at", "pk").last()
    if mark is None:
        do = "Nothing was released to be sawn here: set the part aside and call the office."
        return Judged(RecordState.HELD, do=[do], miscut=True)
    asked = {**mark.result["asked"], "sawn": sawn}
    answer: dict[str, Any] = sawmark.answer(asked)
    against = {
        one["rule"]: one["do"]
        for one in answer["findings"]
        if one["rule"].startswith("mark.sawn") and one["state"] == "fails"
    }
    state = RecordState.HELD if against else RecordState.NOTED
    return Judged(state, do=list(against.values()), miscut=SHORT in against)
