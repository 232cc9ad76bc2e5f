"""The last steps of an order of work stand on one page, so that none is overlooked on the next."""

import io
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pypdf

from jobs.packets.paper.render import packet_render
from jobs.packets.paper.steps import steps_for
from tests.jobs.packets.stories import story_cases, story_paper

LAST = 3


def flat(text: str) -> str:
    return " ".join(text.split())


def test_the_last_three_steps_stand_on_one_page() -> None:
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as workers:
        for case in (story_cases()[1], story_cases()[6], story_cases()[16]):
            steps = steps_for(case["inputs"], case["verdict"])[-LAST:]
            pdf = workers.submit(packet_render, story_paper(case, "install", "en")).result(60)
            pages = [flat(p.extract_text()) for p in pypdf.PdfReader(io.BytesIO(pdf)).pages]

            stands = [
                [n for n, text in enumerate(pages) if flat(str(s["rest"]))[:30] in text]
                for s in steps
            ]

            assert stands[0]
            assert stands.count(stands[0]) == LAST, stands
