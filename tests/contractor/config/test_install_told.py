"""Was flat B4 hung as the story says: every stop, one cut held, one handover signed, three vans?"""

from datetime import date, timedelta
from io import StringIO
from pathlib import Path

import pytest
from PIL import Image

from contractor.config.demo import telling
from contractor.config.demo.kept import Kept
from contractor.config.demo.progress import Progress
from contractor.config.demo.telling import story_tell
from contractor.notices.models import Notice
from jobs.claims.models import Claim
from jobs.handovers.models import Handover
from jobs.installs.models import Install, Mark, Record
from jobs.installs.stand import walked_of
from jobs.receiving.models import Inspection
from jobs.stock.models import Movement, VanItem
from jobs.surveys.models import Photo

FIRST_DAY = date(2027, 3, 10)


@pytest.mark.django_db
def test_flat_b4_was_hung_and_is_told_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(telling, "today", lambda: FIRST_DAY)
    kept, progress = Kept.open(tmp_path), Progress(StringIO())
    story_tell(kept=kept, progress=progress)

    install = Install.objects.get()
    assert {one.state for one in walked_of(install)} == {"done"}
    seconds = [r.outcome["second"]["how"] for r in Record.objects.filter(outcome__has_key="second")]
    assert seconds == ["own", "own"]
    assert install.started_at.date() == FIRST_DAY - timedelta(days=3)
    assert install.earliest_use is not None
    assert [one.state for one in Mark.objects.order_by("taken_at")][:2] == ["held", "released"]
    held = Mark.objects.get(state="held")
    assert any("about one inch" in one for one in held.result["hold"])
    handover = Handover.objects.get()
    assert (bool(handover.signature), handover.lacks()) == (True, [])
    assert {one.crew.slug for one in VanItem.objects.all()} == {"heron", "otter", "marten"}
    assert VanItem.objects.get(short__gt=0).item.slug == "anchor-hollow"

    before = Notice.objects.count(), Record.objects.count(), Movement.objects.count()
    story_tell(kept=kept, progress=progress)
    assert (Notice.objects.count(), Record.objects.count(), Movement.objects.count()) == before


@pytest.mark.django_db
def test_the_damaged_panel_has_its_photos_as_evidence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(telling, "today", lambda: FIRST_DAY)
    story_tell(kept=Kept.open(tmp_path), progress=Progress(StringIO()))
    claim = Claim.objects.get(against="carrier")
    digests = [one.photo for one in claim.evidence.order_by("pk")]
    assert len(set(digests)) == 2
    assert Inspection.objects.get(condition="damaged").photos == digests
    for photo in Photo.objects.filter(pk__in=digests):
        with photo.file.open() as file, Image.open(file) as picture:
            assert len(picture.getcolors(maxcolors=9999) or []) > 4  # something is drawn on it
    assert Photo.objects.filter(pk__in=digests).count() == 2
