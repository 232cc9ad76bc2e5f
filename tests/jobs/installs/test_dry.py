"""When is it dry, who is told, and what does the product's own data say?"""

from datetime import datetime, timedelta
from typing import Any

import pytest
from django.utils import timezone

from contractor.notices.models import Notice
from jobs.installs.cure import answered, cure_of, products
from jobs.installs.dry import install_dry, installs_drying
from jobs.installs.models import Install
from jobs.installs.stand import install_standing
from jobs.installs.tasks import sweep as installs_sweep
from jobs.jobs.drying import jobs_drying
from jobs.jobs.models import Job
from jobs.jobs.tasks import sweep as jobs_sweep
from jobs.stock.models import Item
from tests.clients import Caller, assert_problem
from tests.factories import OpeningFactory
from tests.site import START, Site, cure_told, fresh

ROW = {"least_celsius": "18", "least_humidity": "40", "hours": "72", "up_to": "12 mm"}

SPOKEN = {"title": "Box sealant (invented)", "edition": "1", "rows": [ROW]}


@pytest.fixture
def silicone(db: None) -> Item:
    """A sealant whose data speak of rooms from 18 degrees on."""
    data = {"title": "Clear silicone (invented)", "edition": "2026", "rows": [ROW]}
    item: Item = Item.objects.create(
        slug="clear-silicone", name="Clear silicone", kind="sealant", data_sheet=data
    )
    return item


def finished(site: Site, **bead: str) -> Install:
    """Work the install through; the bead says what it is of."""
    site.until("bead_run")
    site.record("bead_run", **bead)
    site.until("handed_over")
    site.plain("finish")
    return Install.objects.get()


def hours_of(install: Install) -> float:
    assert install.earliest_use is not None
    last = datetime.fromisoformat(install.cure["last_bead_at"])
    return (install.earliest_use - last) / timedelta(hours=1)


@pytest.mark.usefixtures("silicone")
def test_the_longer_of_sheet_and_product_counts(site: Site) -> None:
    install = finished(site, sealant="clear-silicone", celsius="21", humidity="50")
    assert 72 <= hours_of(install) < 72.25
    assert install.cure["window"]["because"] == "product data sheet"


@pytest.mark.usefixtures("silicone")
def test_air_that_the_product_does_not_speak_of_promises_nothing(site: Site) -> None:
    install = finished(site, sealant="clear-silicone", celsius="12", humidity="50")
    assert install.earliest_use is None
    assert "Ask the maker of the sealant" in site.read()["next"]
    assert not Notice.objects.filter(type="install.cured_at_known").exists()


def test_nothing_is_promised_before_the_verdict_s_own_cure(site: Site) -> None:
    install = finished(site)
    hours = cure_told(site)
    assert site.verdict["result"]["cure_hours"] < hours <= hours_of(install) < hours + 0.25
    assert install.cure["window"]["because"] == "product data sheet"


def cured(site: Site, product: dict[str, Any] | None) -> dict[str, Any]:
    """The cure of an install just begun whose sheet names this sealant."""
    install = Install.objects.get(pk=site.id)
    install.sheet.body["sealant_product"] = product
    return cure_of(install=install, facts=[], finished_at=START)[1]


def test_without_product_data_the_kit_s_sheet_counts(site: Site) -> None:
    told = cured(site, None)
    assert told["window"]["because"] == "kit sheet"
    assert told["window"]["hours"] == str(site.verdict["result"]["cure_hours"])


def test_the_sheet_s_beads_tell_the_depth_whatever_lengths_were_read(site: Site) -> None:
    """By hand: 3/16 in is 4.7625 mm; at 1 mm a root of a day 4.7625^2 x 24 = 544.35 h."""
    slow = {"least_celsius": "5", "least_humidity": "30", "mm_per_root_day": "1"}
    told = cured(site, {**SPOKEN, "rows": [slow], "celsius": "20", "humidity": "50"})
    assert told["window"]["hours"] == "544.4"


def test_a_sheet_whose_product_does_not_speak_promises_nothing(site: Site) -> None:
    told = cured(site, SPOKEN | {"celsius": "10", "humidity": "50"})
    assert (told["state"], told["first_shower"]) == ("unknown", None)


@pytest.mark.usefixtures("silicone")
def test_the_bead_s_own_air_can_only_make_it_later(site: Site) -> None:
    """The box's sealant is told for 20 degrees; colder air takes its slower row."""
    warm = finished(site, celsius="25", humidity="60")
    assert cure_told(site) <= hours_of(warm) < cure_told(site) + 0.25


def test_colder_air_at_the_bead_makes_it_later(site: Site) -> None:
    cold = finished(site, celsius="6", humidity="40")
    assert hours_of(cold) > cure_told(site) + 1


def test_a_sealant_that_goes_by_the_air_asks_for_it(site: Site, silicone: Item) -> None:
    install = Install.objects.get(pk=site.id)
    install.sheet.body["sealant_product"] = None
    bead = site.body("bead_run", sealant=silicone.slug)
    assert products(install, bead) == [None]
    assert products(install, bead | {"celsius": "21", "humidity": "50"})[0] is not None
    assert answered({"sheet": {}, "finished_at": None}, None)["state"] == "unknown"


def test_it_is_called_dry_once_and_not_before(site: Site) -> None:
    install = finished(site)
    assert install.earliest_use is not None
    before = install.earliest_use - timedelta(seconds=1)
    assert installs_drying(now=before) == []
    assert not install_dry(key=install.pk, now=before)
    assert installs_drying(now=install.earliest_use) == [install.pk]
    told = [install_dry(key=install.pk, now=install.earliest_use) for _ in range(2)]
    assert told == [True, False]
    assert Notice.objects.filter(type="install.cured").count() == 1
    assert site.read()["state"] == "cured"
    assert "it may be used" in site.read()["next"]


def test_a_job_s_standing_tells_what_is_open_and_when_it_is_dry(site: Site) -> None:
    job = site.booking.job
    standing = install_standing(job=job)
    assert (standing.started, standing.finished_at, standing.cured_at) == (True, None, None)
    assert standing.open_hold_points == (f"{site.install['opening']}: Glass inspected",)
    install = finished(site)
    standing = install_standing(job=job)
    assert standing.open_hold_points == ()
    assert standing.finished_at == install.finished_at
    assert standing.cured_at == install.earliest_use


def test_an_installed_job_is_cured_by_the_sweep_once_and_told(site: Site) -> None:
    install = finished(site)
    job = site.booking.job
    Job.objects.filter(pk=job.pk).update(state="installed")
    assert jobs_drying() == []  # nobody called the install dry yet
    Install.objects.update(cured_at=install.earliest_use, earliest_use=timezone.now())

    assert jobs_drying() == [job.pk]
    assert [jobs_sweep(), jobs_sweep()] == [1, 0]
    told = Notice.objects.get(type="job.moved", about=job.number, changes__state__1="cured")
    assert (told.caller, told.changes["state"]) == ("system", ["installed", "cured"])


def test_the_install_s_own_sweep_takes_the_job_along(site: Site) -> None:
    install = finished(site)
    job = site.booking.job
    Job.objects.filter(pk=job.pk).update(state="installed")
    Install.objects.update(earliest_use=timezone.now() - timedelta(hours=1))
    assert [installs_sweep(), installs_sweep(), jobs_sweep()] == [1, 0, 0]
    job.refresh_from_db()
    assert (job.state, install.state) == ("cured", "curing")
    assert Notice.objects.filter(type="install.cured").count() == 1


def test_a_job_waits_for_the_last_of_its_openings(site: Site) -> None:
    finished(site)
    job = site.booking.job
    Job.objects.filter(pk=job.pk).update(state="installed")
    Install.objects.update(cured_at=timezone.now(), earliest_use=timezone.now())
    other = Install.objects.get()
    other.pk, other.cured_at = fresh(), None
    other.opening = OpeningFactory(job=job)
    other.save(force_insert=True)
    assert (jobs_drying(), jobs_sweep()) == ([], 0)
    other.opening.dropped_why = "they keep the curtain"
    other.opening.save()
    assert jobs_sweep() == 1


@pytest.mark.usefixtures("silicone")
def test_a_cure_that_nobody_can_foretell_is_ended_by_somebody_with_a_reason(
    site: Site, office: Caller
) -> None:
    finished(site, sealant="clear-silicone", celsius="12", humidity="50")
    job = site.booking.job
    Job.objects.filter(pk=job.pk).update(state="installed")
    path = f"/api/v1/jobs/{job.number}/move/"
    assert_problem(office.post(path, {"action": "cure"}, seen="*"), 409, "not_yet")
    told = office.post(path, {"action": "cure", "reason": "Dry by the maker's word."}, seen="*")
    assert told.data["state"] == "cured"


def test_a_job_with_an_opening_that_nobody_began_is_not_finished(site: Site) -> None:
    OpeningFactory(job=site.booking.job)
    finished(site)
    assert install_standing(job=site.booking.job).finished_at is None
