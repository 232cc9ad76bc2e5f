"""What is printed on the labels of a job's goods?"""

from jobs.packets.paper.goods import part_rows
from jobs.packets.paper.phrases import Json, mass_of, panel_size, panels_in_order
from jobs.packets.paper.sentences import told
from jobs.packets.paper.words import say


def labels_of(data: Json) -> list[dict[str, str]]:
    """Return a label for every panel and for every part that is counted, of all openings.

    Raises:
        ValueError: no panel and no part is known.
    """
    labels = [label for opening in data.get("openings") or [] for label in _of(opening)]
    if not labels:
        raise ValueError("no panel and no part is known, so there is nothing to label")
    return [
        {**label, "nth": say("{n} of {m}", n=i, m=len(labels))} for i, label in enumerate(labels, 1)
    ]


def _of(opening: Json) -> list[dict[str, str]]:
    verdict = opening.get("verdict") or {}
    where = f"{opening.get('number')} {opening.get('name')}"
    panels = [
        {
            "where": where,
            "what": say("panel {panel}", panel=told(str(panel.get("name")))),
            "size": panel_size(panel),
            "more": _more(panel),
        }
        for panel in panels_in_order(verdict)
    ]
    parts = [
        {
            "where": where,
            "what": f"{part['count']} × {part['what']}",
            "size": part["size"],
            "more": "",
        }
        for part in part_rows(verdict)
    ]
    return panels + parts


def _more(panel: Json) -> str:
    people = say("{n} people", n=panel.get("hands") or 2)
    return f"{mass_of(panel)} · {people}"
