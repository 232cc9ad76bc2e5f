"""Give the jobs that are there the state that their rows tell."""

from typing import Any

from django.db import migrations


def tell(apps: Any, schema_editor: Any) -> None:
    """A standing install means booked, whether it is over nobody has recorded; else verdicts, else surveys."""
    job_model = apps.get_model("jobs", "Job")
    opening, survey = apps.get_model("openings", "Opening"), apps.get_model("surveys", "Survey")
    verdict, booking = apps.get_model("verdicts", "Verdict"), apps.get_model("bookings", "Booking")
    for job in job_model.objects.iterator():
        openings = list(opening.objects.filter(job=job))
        keys = [one.pk for one in openings]
        read = set(survey.objects.filter(opening__in=keys).values_list("opening_id", flat=True))
        if booking.objects.filter(job=job, visit="install", state="booked").exists():
            state = "booked"
        elif not openings or read != set(keys):
            continue
        elif all(_fits(verdict, one) for one in openings):
            state = "decided"
        else:
            state = "surveyed"
        job_model.objects.filter(pk=job.pk).update(state=state)


def _fits(verdict: Any, opening: Any) -> bool:
    found = verdict.objects.filter(opening=opening, sheet__kit_id=opening.kit_id)
    last = found.order_by("-given_at", "-pk").first()
    return bool(opening.kit_id and last and last.state == "fits")


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0002_life"),
        ("openings", "0002_dropped"),
        ("surveys", "0001_start"),
        ("verdicts", "0001_start"),
        ("bookings", "0001_start"),
    ]

    operations = [migrations.RunPython(tell, migrations.RunPython.noop)]
