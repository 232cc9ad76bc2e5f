"""Does a dry run tell every bad row, and does what is taken out come in again unchanged?"""

import base64
import io
import json
from datetime import timedelta
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from contractor.customers.models import Customer, Site
from contractor.notices.models import Notice
from fitcheck.kits.models import Kit, RuleSheet
from jobs.bookings.models import Booking
from jobs.lists import services
from jobs.lists.models import ListImport
from jobs.lists.services import LEASE, list_work, lists_waiting
from tests.clients import Caller, assert_problem
from tests.factories import (
    CrewFactory,
    CustomerFactory,
    JobFactory,
    SiteFactory,
    kit_published,
    sheet_body,
)
from tests.threads import in_parallel
from tests.world import booked

IN, OUT = "/api/v1/imports/", "/api/v1/exports/"
HEAD = "id,name,email,phone,language,preferred_channel,notes"


def sent(office: Caller, kind: str, text: str, status: int = 201) -> Any:
    answer = office.post(IN, {"kind": kind, "text": text})
    assert answer.status_code == status, answer.content[:800]
    return answer.data


def taken(office: Caller, row: Any, mode: str = "all") -> Any:
    answer = office.post(f"{row['url']}take-over/", {"mode": mode}, seen=row["version"])
    assert answer.status_code == 200, answer.content[:800]
    return answer.data


def counts(row: Any) -> tuple[int, ...]:
    return tuple(row[name] for name in ("new", "changed", "same", "bad"))


BAD = f"""{HEAD}
,Wren Halloway,wren@example.com,+15555550141,en,email,
,,nobody@example.com,,en,email,
,Pell Otterby,not an address,5550142,xx,email,
C-9999,Ghost,,,,,
,Wren Twice,wren@example.com,,,,
"""


def test_a_dry_run_tells_every_bad_row_and_writes_nothing(office: Caller) -> None:
    row = sent(office, "customers", BAD)
    assert (row["state"], row["rows"], counts(row)) == ("checked", 5, (1, 0, 0, 4))
    told = [(one["row"], one["column"], one["code"]) for one in row["problems"]]
    assert told == [
        (3, "name", "blank"),
        (4, "email", "invalid"),
        (4, "phone", "phone"),
        (4, "language", "invalid_choice"),
        (5, "id", "does_not_exist"),
        (6, "", "row_twice"),
    ]
    assert all(one["detail"] and one["hint"] for one in row["problems"])
    assert row["problems"][2]["value"] == "5550142"
    assert not Customer.objects.exists()
    assert [one.type for one in Notice.objects.all()] == ["list.received"]


def test_all_or_none_writes_none_when_one_is_bad(office: Caller) -> None:
    row = taken(office, sent(office, "customers", BAD), "all")
    assert (row["state"], row["trouble"]) == ("checked", "Nothing was written: some rows are bad.")
    assert not Customer.objects.exists()


def test_the_good_rows_only_when_asked_so(office: Caller) -> None:
    row = taken(office, sent(office, "customers", BAD), "good")
    assert (row["state"], counts(row)) == ("done", (1, 0, 0, 4))
    assert [one.name for one in Customer.objects.all()] == ["Wren Halloway"]
    answer = office.post(f"{row['url']}take-over/", {"mode": "good"}, seen=row["version"])
    assert_problem(answer, 409, "list_not_checked")


def test_a_list_taken_over_twice_adds_nothing(office: Caller) -> None:
    text = f"{HEAD}\n,Wren,wren@example.com,,,,\n,Otis,,+15555550143,,,\n"
    assert counts(taken(office, sent(office, "customers", text))) == (2, 0, 0, 0)
    again = taken(office, sent(office, "customers", text))
    assert counts(again) == (0, 0, 2, 0)
    assert Customer.objects.count() == 2
    assert Notice.objects.filter(type="customer.added").count() == 2


def test_a_changed_row_changes_and_says_by_whom(office: Caller) -> None:
    one = CustomerFactory(name="Before", email="b@example.com", phone="")
    row = taken(office, sent(office, "customers", f"id,name\n{one.number},After\n"))
    assert counts(row) == (0, 1, 0, 0)
    notice = Notice.objects.get(type="customer.changed")
    assert (notice.changes, notice.caller_name) == ({"name": ["Before", "After"]}, "Imke Thorsby")


def test_what_stands_for_two_rows_asks_for_the_number(office: Caller) -> None:
    for _ in range(2):
        CustomerFactory(email="twin@example.com")
    (bad,) = sent(office, "customers", "name,email\nX,twin@example.com\n")["problems"]
    assert (bad["column"], bad["code"]) == ("email", "more_than_one")


def test_sites_name_their_customer_by_mail_and_lengths_their_unit(office: Caller) -> None:
    CustomerFactory(email="wren@example.com")
    head = "customer,street_address,address_locality,time_zone,door_width,latitude,longitude"
    rows = [
        "wren@example.com,1 Tern Ladder,Marrowgate,America/Chicago,31 1/2 in,41.5,-87.6",
        "wren@example.com,2 Tern Ladder,Marrowgate,America/Chicago,800,,",
        "wren@example.com,3 Tern Ladder,Marrowgate,America/Chicagoo,,,",
        "none@example.com,4 Tern Ladder,Marrowgate,America/Chicago,,,",
        "wren@example.com,5 Tern Ladder,Marrowgate,America/Chicago,,41.5,",
    ]
    row = sent(office, "sites", "\n".join([head, *rows]))
    assert counts(row) == (1, 0, 0, 4)
    told = [(one["row"], one["column"]) for one in row["problems"]]
    assert told == [(3, "door_width"), (4, "time_zone"), (5, "customer"), (6, "longitude")]
    done = taken(office, row, "good")
    assert done["state"] == "done"
    assert Site.objects.get().door_width == "31 1/2 in"


def test_a_list_tells_what_glass_passes_and_its_sizes(office: Caller) -> None:
    customer = CustomerFactory()
    head = "customer,street_address,address_locality,time_zone,passes,door_width,stair_rise"
    good, bad = (f"{customer.number},{n} Tern Ladder,Marrowgate,America/Chicago" for n in (7, 8))
    rows = [f"{good},half_turn corner,31 in,7 1/2 in", f"{bad},ladder,31 in,"]
    row = sent(office, "sites", "\n".join([head, *rows]))
    assert counts(row)[3] == 1
    assert [(one["row"], one["column"]) for one in row["problems"]] == [(3, "passes")]
    taken(office, row, "good")
    site = Site.objects.get()
    assert (site.passes, site.stair_rise) == (["corner", "half_turn"], "7 1/2 in")


@pytest.fixture
def firm(office: Caller) -> Booking:
    """Rows of every kind, with texts that lists stumble over."""
    customer = CustomerFactory(
        name="=HYPERLINK(1)", email="x@example.com", phone="+15555550144", notes='a "b"; c,\nd'
    )
    CustomerFactory(name="'t Hooft", email="", language="es", preferred_channel="text")
    site = SiteFactory(customer=customer, latitude="41.5", longitude="-87.6", door_width="800 mm")
    SiteFactory(
        extended_address="-2", year_built=None, passes=["corner", "half_turn"], lift_depth=""
    )
    kit_published()
    Kit.objects.create(slug="bare", name="Bare", maker="Invented Wetrooms", invented=True)
    job, crew = JobFactory(site=site), CrewFactory()
    booked(job, crew, day=3, visit="survey")
    gone = booked(job, crew, day=4, visit="survey")
    Booking.objects.filter(pk=gone.pk).update(state="cancelled")
    return booked(job, crew, visit="follow_up")


KINDS = ["customers", "sites", "kits", "bookings"]


@pytest.mark.parametrize("form", ["csv", "workbook"])
@pytest.mark.parametrize("kind", KINDS)
def test_what_is_taken_out_comes_in_unchanged(
    office: Caller, firm: Booking, kind: str, form: str
) -> None:
    content = office.get(f"{OUT}{kind}/{form}/").content
    before = [list(model.objects.values()) for model in (Customer, Site, Kit, RuleSheet, Booking)]
    body = {"kind": kind, "workbook": base64.b64encode(content).decode()}
    answer = office.post(IN, body)
    assert answer.status_code == 201, answer.content[:800]
    row = answer.data
    assert row["rows"] > 1
    assert counts(row) == (0, 0, row["rows"], 0), row["problems"]
    notices = Notice.objects.count()
    assert counts(taken(office, row)) == (0, 0, row["rows"], 0)
    assert Notice.objects.count() == notices + 1
    after = [list(model.objects.values()) for model in (Customer, Site, Kit, RuleSheet, Booking)]
    assert after == before
    assert office.get(f"{OUT}{kind}/{form}/").content == content or form == "workbook"


def test_a_list_makes_another_firm_s_rows_anew(office: Caller, firm: Booking) -> None:
    """Without the numbers, which are this firm's own, customers and kits arrive as they left."""
    names = ("name", "email", "phone", "language", "preferred_channel", "notes")
    before = sorted(Customer.objects.values_list(*names))
    lines = office.get(f"{OUT}customers/csv/").content.decode("utf-8-sig")
    without = "".join(",".join(line.split(",")[1:]) for line in lines.splitlines(keepends=True)[:1])
    rest = lines.partition("\r\n")[2]
    for number in (one.number for one in Customer.objects.all()):
        rest = rest.replace(f"{number},", "")
    Booking.objects.all().delete()
    firm.job.delete()
    Site.objects.all().delete()
    Customer.objects.all().delete()
    row = taken(office, sent(office, "customers", without + rest))
    assert counts(row) == (len(before), 0, 0, 0), row["problems"]
    assert sorted(Customer.objects.values_list(*names)) == before


def booking_rows(*rows: str) -> str:
    return "\n".join(["job,crew,visit,starts_at,ends_at", *rows])


def test_bookings_are_guarded_as_everywhere_and_against_one_another(office: Caller) -> None:
    job, crew = JobFactory(), CrewFactory()
    of = f"{job.number},{crew.slug}"
    row = sent(
        office,
        "bookings",
        booking_rows(
            f"{of},survey,2027-03-02T09:00:00-05:00,2027-03-02T10:00:00-05:00",
            f"{of},survey,2027-03-02T09:30:00-05:00,2027-03-02T10:30:00-05:00",
            f"{of},survey,2027-03-03T09:00:00,2027-03-03T10:00:00-05:00",
            f"{of},survey,2027-03-14T02:30:00-05:00,2027-03-14T05:00:00-04:00",
            f"{of},install,2027-03-04T09:00:00-05:00,2027-03-04T10:00:00-05:00",
            f"J-9999,{crew.slug},survey,2027-03-05T09:00:00-05:00,2027-03-05T10:00:00-05:00",
        ),
    )
    told = {one["row"]: (one["column"], one["code"]) for one in row["problems"]}
    assert counts(row) == (1, 0, 0, 5)
    assert told[3][1] == "crew_taken"
    assert told[4] == ("starts_at", "time_without_offset")
    assert told[5] == ("starts_at", "time_skipped")
    assert told[7] == ("job", "does_not_exist")
    assert taken(office, row, "good")["state"] == "done"
    assert Booking.objects.count() == 1


def test_a_booking_is_moved_by_its_number_and_told_so(office: Caller) -> None:
    one = booked(JobFactory(), CrewFactory(), visit="survey")
    head = "id,job,crew,visit,starts_at,ends_at"
    line = f"{one.number},{one.job.number},{one.crew.slug},survey"
    text = f"{head}\n{line},2027-03-09T14:00:00Z,2027-03-09T16:00:00Z\n"
    assert counts(taken(office, sent(office, "bookings", text))) == (0, 1, 0, 0)
    assert Notice.objects.get(type="booking.moved").about == one.number
    changed = text.replace(",survey,", ",follow_up,")
    (bad,) = sent(office, "bookings", changed)["problems"]
    assert (bad["column"], bad["code"]) == ("visit", "not_changed_here")


def test_a_mistake_deep_in_a_sheet_is_told_at_its_row(office: Caller) -> None:
    text = 'slug,name,maker,sheet\nnew-kit,New,Invented Wetrooms,"{""format"": 1}"\n'
    row = sent(office, "kits", text)
    assert row["bad"] == 1
    assert {(one["row"], one["column"]) for one in row["problems"]} == {(2, "sheet")}


def test_a_sheet_that_contradicts_itself_is_told_at_its_row(office: Caller) -> None:
    body = sheet_body()
    body["cuts"][0]["deduct"] = "100 in"
    cell = json.dumps(body).replace('"', '""')
    row = sent(office, "kits", f'slug,name,maker,sheet\nnew-kit,New,Invented Wetrooms,"{cell}"\n')
    (bad,) = row["problems"]
    assert (bad["row"], bad["column"], bad["code"]) == (2, "sheet", "nothing_left")
    assert "100 in" in bad["detail"]


def test_a_file_is_sent_by_the_desk_s_form(office: Caller) -> None:
    file = SimpleUploadedFile("new.csv", b"name;email\nWren;w@example.com\n", "text/csv")
    answer = office.post(IN, {"kind": "customers", "file": file}, format="multipart")
    assert (answer.status_code, answer.data["name"], answer.data["new"]) == (201, "new.csv", 1)


def test_one_of_three_ways_is_taken(office: Caller) -> None:
    both = {"kind": "customers", "text": "name\nx\n", "workbook": "eA=="}
    assert_problem(office.post(IN, both), 400, "one_of_three", "/file")
    assert_problem(office.post(IN, {"kind": "customers"}), 400, "one_of_three", "/file")
    broken = {"kind": "customers", "workbook": "no base64!"}
    assert_problem(office.post(IN, broken), 400, "base64", "/workbook")


def test_there_is_no_list_of_anything_else(office: Caller) -> None:
    assert_problem(office.get(f"{OUT}members/csv/"), 404, "not_found")
    told = office.get(f"{OUT}sites/").data
    assert [one["name"] for one in told["columns"] if one["needed"]] == [
        "customer",
        "street_address",
        "address_locality",
        "time_zone",
    ]


LONG = "name,email\n" + "".join(f"N {n},n{n}@example.com\n" for n in range(30))


@pytest.fixture
def long_ones(settings: Any) -> None:
    settings.LIST_AT_ONCE = 20


def test_a_long_list_waits_for_a_worker_both_times(office: Caller, long_ones: None) -> None:
    row = sent(office, "customers", LONG, 202)
    key = int(row["id"][3:])
    assert (row["state"], lists_waiting(now=timezone.now())) == ("wanted", [key])
    assert list_work(key=key) is True
    assert list_work(key=key) is False
    row = office.get(row["url"]).data
    assert (row["state"], counts(row)) == ("checked", (30, 0, 0, 0))
    answer = office.post(f"{row['url']}take-over/", {"mode": "all"}, seen=row["version"])
    assert (answer.status_code, answer.data["state"]) == (202, "asked")
    assert list_work(key=key) is True
    assert office.get(row["url"]).data["state"] == "done"
    assert Customer.objects.count() == 30


def test_a_worker_that_died_is_followed_and_three_are_enough(
    office: Caller, long_ones: None
) -> None:
    key = int(sent(office, "customers", LONG, 202)["id"][3:])
    now = timezone.now()
    for _ in range(3):
        row = ListImport.objects.get(pk=key)
        assert services._claim(row, now)
        assert list_work(key=key, now=now + LEASE / 2) is False
        now += LEASE + timedelta(seconds=1)
    assert list_work(key=key, now=now) is False
    told = office.get(f"{IN}LI-{key:04d}/").data
    assert (told["state"], told["trouble"]) == ("failed", "The worker died three times.")
    answer = office.post(f"{told['url']}retry/", seen=told["version"])
    assert answer.data["state"] == "wanted"


@pytest.mark.django_db(transaction=True)
def test_two_workers_take_a_list_over_once(office: Caller, long_ones: None) -> None:
    row = sent(office, "customers", LONG, 202)
    key = int(row["id"][3:])
    list_work(key=key)
    row = office.get(row["url"]).data
    office.post(f"{row['url']}take-over/", {"mode": "all"}, seen=row["version"])
    assert sorted(in_parallel(2, lambda n: list_work(key=key))) == [False, True]
    assert Customer.objects.count() == 30


def test_a_workbook_typed_by_hand_is_read(office: Caller) -> None:
    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["customer", "street_address", "address_locality", "time_zone", "postal_code"])
    customer = CustomerFactory()
    sheet.append([customer.number, "1 Tern Ladder", "Marrowgate", "America/Chicago", 60601])
    stream = io.BytesIO()
    book.save(stream)
    answer = office.post(
        IN, {"kind": "sites", "workbook": base64.b64encode(stream.getvalue()).decode()}
    )
    taken(office, answer.data)
    assert Site.objects.get().postal_code == "60601"
