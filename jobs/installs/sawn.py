"""Was a part sawn at its mark, or shorter than its end covers hide, or than anybody knows they do?"""

from typing import Any

from fitcheck.rules import sawmark
from fitcheck.rules.sawmark import HELD
from jobs.installs.judge import Judged
from jobs.installs.models import Install, MarkState, RecordState

SHORT = "mark.sawn_short"  # what is too long can be sawn again


def sawn_judge(*, install: Install, stop: dict[str, Any], sawn: str) -> Judged:
    """Hold a part's length as sawn against the mark that was released for it.

    What nobody knows holds it as well as what fails, but is no miscut until somebody knows.

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
    against = [
        one
        for one in answer["findings"]
        if one["rule"].startswith("mark.sawn") and one["state"] in HELD
    ]
    state = RecordState.HELD if against else RecordState.NOTED
    miscut = any(one["rule"] == SHORT and one["state"] == "fails" for one in against)
    return Judged(state, do=[one["do"] for one in against], miscut=miscut)
