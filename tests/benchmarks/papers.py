"""How long does a paper take, and does a worker's memory stay flat? `python tests/benchmarks/papers.py`.

A four-page survey packet, and a whole install packet, against the bare compile of the same pages in two
kinds: the template with its strings ready, nothing to work out, draw or look up; and, of the four pages, a
flat document with every word literally in its source (flat.py). All are timed in turn in one
process, by the processor time of that process, and no two are the same document. Then a worker's own
function takes packets from the database one after another, and the memory it holds is read.
"""

import argparse
import io
import json
import os
import resource
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))
from tests.benchmarks.flat import flat_source  # noqa: E402

PAGE_KB = resource.getpagesize() // 1024


def main() -> None:
    """Measure and tell."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--packets", type=int, default=1000, help="for the memory")
    parser.add_argument("--rounds", type=int, default=30, help="for the ratios")
    told = parser.parse_args()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "contractor.config.settings")
    os.environ.setdefault("LOG_LEVEL", "ERROR")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["DATA_DIR"] = folder
        os.environ.pop("DATABASE_URL", None)
        _measure(told.packets, told.rounds)


def _measure(packets: int, rounds: int) -> None:
    import django

    django.setup()
    from django.core.management import call_command

    call_command("demo", no_serve=True, stdout=open(os.devnull, "w"))  # noqa: SIM115
    from jobs.packets.models import Packet

    survey = Packet.objects.filter(kind="survey").earliest("pk")
    survey.data = _four_pages(survey.data)
    survey.save(update_fields=["data"])
    _check_same_pages(survey.data)
    _ratios("survey", survey.data, rounds)
    _ratios("install", Packet.objects.filter(kind="install").earliest("pk").data, rounds)
    _worker(packets)


def _four_pages(data: dict[str, Any]) -> dict[str, Any]:
    """Return a survey packet that asks for more widths than its kit does, enough for a fourth page."""
    (opening,) = data["openings"]
    width = next(one for one in opening["plan"] if one["quantity"] == "width")
    more = [{**width, "height": f"{12 * n} in"} for n in range(1, 7)]
    return {**data, "openings": [{**opening, "plan": [*opening["plan"], *more]}]}


def _ratios(kind: str, data: dict[str, Any], rounds: int) -> None:
    """Time packets, their strings ready, and the flat document, in turn; no two are the same."""
    from jobs.packets.paper.content import packet_content
    from jobs.packets.paper.render import _qr, _typeset, made_moment, packet_render

    flat = _flat_setter() if kind == "survey" else None
    times: dict[str, list[float]] = {"packet": [], "strings ready": [], "flat document": []}
    size = 0
    for n in range(rounds + 3):
        told, other, third = (_of_year(data, year, n) for year in (2026, 2027, 2028))
        moment = made_moment(told["made_at"])
        content = packet_content(other, _qr(other["code_url"]))
        ready = json.dumps(content)
        times["packet"].append(_time(lambda told=told: packet_render(told, paper="letter")))
        times["strings ready"].append(
            _time(lambda r=ready, m=moment: _typeset(r, "us-letter", m, ""))
        )
        if flat:
            source = flat_source(packet_content(third, _qr(third["code_url"]))).encode()
            times["flat document"].append(_time(lambda s=source, m=moment: flat(s, m)))
        size = len(packet_render(told, paper="letter"))
    own = statistics.median(times["packet"][3:])
    print(f"{kind:8} {size // 1024:4} kB  packet {1000 * own:6.1f} ms")
    for name in ("strings ready", "flat document"):
        if known := times[name][3:]:
            bare = statistics.median(known)
            print(f"         {name:14} {1000 * bare:6.1f} ms  ratio {own / bare:.2f}")


def _of_year(data: dict[str, Any], year: int, n: int) -> dict[str, Any]:
    return {**data, "made_at": f"{year}-11-25 {n // 60:02d}:{n % 60:02d} America/Chicago"}


def _flat_setter() -> Any:
    """Return what compiles a flat source, with our faces and a compiler that is kept, as ours is."""
    import typst

    from jobs.packets.paper.glyphs import FONTS

    faces = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)]
    )
    kept = typst.Compiler(font_paths=faces)
    return lambda source, moment: kept.compile(
        source, format="pdf", pdf_standards=["ua-1"], timestamp=moment
    )


def _check_same_pages(data: dict[str, Any]) -> None:
    """Stop when the flat document is not the same pages, word for word."""
    import pypdf

    from jobs.packets.paper.content import packet_content
    from jobs.packets.paper.render import _qr, made_moment, packet_render

    source = flat_source(packet_content(data, _qr(data["code_url"]))).encode()
    both = (
        packet_render(data, paper="letter"),
        _flat_setter()(source, made_moment(data["made_at"])),
    )
    pages = [
        [page.extract_text().split() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]
        for pdf in both
    ]
    if pages[0] != pages[1] or len(pages[0]) != 4:
        sys.exit(
            "The flat document is not the same four pages: bring tests/benchmarks/flat.py up to date."
        )


def _time(work: Any) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def _worker(packets: int) -> None:
    """Let a worker's function set a four-page packet again and again, and read what it holds."""
    from jobs.packets.models import Packet, Stage, State
    from jobs.packets.services import packet_set

    packet = Packet.objects.filter(kind="survey").earliest("pk")
    held, start, spent = [], time.process_time(), 0.0
    for n in range(packets):
        data = {
            **packet.data,
            "made_at": f"2026-{n % 12 + 1:02d}-{n % 28 + 1:02d} {n % 24:02d}:{n % 60:02d} UTC",
        }
        data["job"] = {**data["job"], "summary": f"Slider number {n}"}
        rows = Packet.objects.filter(pk=packet.pk)
        rows.update(state=State.WANTED, stage=Stage.QUEUED, attempts=0, data=data)
        start = time.process_time()
        assert packet_set(key=packet.pk)
        spent += time.process_time() - start
        done = Packet.objects.get(pk=packet.pk)
        done.file.storage.delete(done.file.name)
        if n % max(1, packets // 10) == 0 or n == packets - 1:
            held.append(_held_mb())
            print(f"  after {n + 1:5} packets {held[-1]:6.1f} MB", flush=True)
    print(
        f"worker   {packets / spent:.1f} four-page packets a second of processor time: claimed, set, "
        "stored, marked"
    )


def _held_mb() -> float:
    return int(Path("/proc/self/statm").read_text().split()[1]) * PAGE_KB / 1024


if __name__ == "__main__":
    main()
