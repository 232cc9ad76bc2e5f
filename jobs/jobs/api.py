"""Jobs over HTTP."""

from typing import Any

from rest_framework import serializers

from contractor.api.callers import EVERYONE, OFFICE
from contractor.api.desk import Desk
from contractor.api.filters import Filter
from contractor.api.numbers import NumberField, key_reader
from contractor.api.strict import StrictModelSerializer
from contractor.api.views import CreateOnce, ListAndRead, PatchSeen, reason_of
from contractor.customers.models import Site
from contractor.notices.services import row_change
from jobs.jobs.models import Job
from jobs.jobs.services import job_open

OFFICE_ONLY = frozenset({OFFICE})


class JobSerializer(StrictModelSerializer):
    """Work at one site, for one or several openings."""

    id = serializers.CharField(source="number", read_only=True)
    url = serializers.HyperlinkedIdentityField(
        view_name="job-detail", lookup_field="number", lookup_url_kwarg="pk"
    )
    site = NumberField(letter="S", queryset=Site.objects.all())
    time_zone = serializers.CharField(source="site.time_zone", read_only=True)
    openings = NumberField(letter="O", many=True, read_only=True)

    class Meta:
        model = Job
        fields = ["id", "url", "site", "time_zone", "summary", "openings", "opened_at", "version"]
        read_only_fields = ["opened_at", "version"]


class JobView(ListAndRead, CreateOnce, PatchSeen):
    """What the firm has been asked to do."""

    name = "Jobs"
    queryset = Job.objects.select_related("site").prefetch_related("openings")
    serializer_class = JobSerializer
    letter = "J"
    scope = "jobs"
    roles = {
        "list": EVERYONE,
        "retrieve": EVERYONE,
        "create": OFFICE_ONLY,
        "partial_update": OFFICE_ONLY,
    }
    filters = {
        "site": Filter("site_id", "Number of the site.", key_reader("S")),
        "customer": Filter("site__customer_id", "Number of the customer.", key_reader("C")),
    }
    search = ("summary", "site__street_address", "site__customer__name")
    brief = ("id", "url", "summary")
    desk = Desk(
        add="Open a job",
        edit="Save the job",
        done="Job saved",
        searches={"site": "/api/v1/sites/"},
        columns=("id", "summary", "site", "openings", "opened_at"),
    )
    http_method_names = ["get", "post", "patch", "head", "options"]

    def make(self, **values: Any) -> Job:
        """Open the job."""
        return job_open(by=self.caller, **values)

    def change(self, row: Job, **values: Any) -> Job:
        """Change the job."""
        return row_change(
            row=row,
            by=self.caller,
            type="job.changed",
            values=values,
            reason=reason_of(self.request),
        )
