"""Who works here: members with a role, crews with their members, and the tokens of programs."""

from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models

from contractor.api.callers import SCHEDULER, TABLET, Caller
from contractor.api.numbered import Numbered


class Role(models.TextChoices):
    """What a member does."""

    OFFICE = "office", "Office"
    MEASURER = "measurer", "Measurer"
    LEAD = "lead", "Crew lead"
    HELPER = "helper", "Crew helper"
    YARD = "yard", "Yard"


class Qualification(models.TextChoices):
    """What a member may be sent to do beyond the ordinary."""

    STONE = "stone", "Drills natural stone"
    STEEL_STUD = "steel_stud", "Fixes into steel studs"
    OLD_HOUSE = "old_house", "Trained for lead and asbestos caution in old houses"
    HEAVY_GLASS = "heavy_glass", "Leads lifts of heavy panels"


class Members(BaseUserManager["Member"]):
    """Members, found by login name."""

    def create_member(self, *, login: str, password: str | None, **values: Any) -> "Member":
        """Make one member; without a password nobody can log in as it."""
        member = self.model(login=login, **values)
        member.set_password(password)
        member.save(using=self._db)
        return member


class Member(Numbered, AbstractBaseUser):
    """One person of the firm."""

    LETTER = "M"
    USERNAME_FIELD = "login"
    REQUIRED_FIELDS: ClassVar[list[str]] = []

    login = models.SlugField(unique=True)
    name = models.CharField(max_length=120)
    role = models.CharField(max_length=10, choices=Role)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=20, blank=True)
    qualifications = models.JSONField(default=list, blank=True)
    is_active = models.BooleanField(default=True)
    version = models.PositiveIntegerField(default=1)

    objects: ClassVar[Members] = Members()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name

    def caller(self, token: Any = None) -> Caller:
        """Say who calls: this member at a desk, or the tablet that this member holds."""
        if isinstance(token, Tablet):
            return Caller(TABLET, f"tablet:{token.pk}", f"{self.name} ({token.name})", self.pk)
        return Caller(self.role, f"member:{self.pk}", self.name, self.pk)


class Crew(models.Model):
    """People who go out together in one van; `hands` is how many of them are active.

    What nobody has told is blank, and then not asked about: hours, region, rack, where it starts.
    """

    slug = models.SlugField(unique=True)
    name = models.CharField(max_length=60)
    members: Any = models.ManyToManyField(Member, through="CrewMember", related_name="crews")
    time_zone = models.CharField(max_length=60, blank=True)
    hours = models.JSONField(default=dict, blank=True)
    region = models.CharField(max_length=6, blank=True)
    rack_mass = models.CharField(max_length=20, blank=True)
    start_latitude = models.DecimalField(max_digits=8, decimal_places=6, null=True, blank=True)
    start_longitude = models.DecimalField(max_digits=9, decimal_places=6, null=True, blank=True)
    is_active = models.BooleanField(default=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name

    @property
    def number(self) -> str:
        """What people call it by."""
        return self.slug

    def hands(self) -> int:
        """Count the people who can lift."""
        return CrewMember.objects.filter(crew=self, member__is_active=True).count()


class CrewMember(models.Model):
    """One member's place in a crew."""

    crew = models.ForeignKey(Crew, models.CASCADE, related_name="places")
    member = models.ForeignKey(Member, models.PROTECT, related_name="places")
    is_lead = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["crew", "member"], name="member_once_in_crew"),
        ]

    def __str__(self) -> str:
        return f"{self.member} in {self.crew}"


class DayOff(Numbered):
    """Days on which a member does not work: then the crew has one hand less."""

    LETTER = "DO"
    member = models.ForeignKey(Member, models.PROTECT, related_name="days_off")
    first_day = models.DateField()
    last_day = models.DateField()
    why = models.CharField(max_length=200, blank=True)
    withdrawn_why = models.CharField(max_length=300, blank=True)
    stands = models.BooleanField(default=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(last_day__gte=models.F("first_day")), name="day_off_in_order"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member}, {self.first_day} to {self.last_day}"


class ClosedState(models.TextChoices):
    """Whether the crews of the region stay at home."""

    PROPOSED = "proposed", "Proposed from the list of public holidays; nobody has decided"
    KEPT = "kept", "Closed: crews of the region do not work"
    DROPPED = "dropped", "A working day after all"


class ClosedDay(Numbered):
    """A day on which the crews of a region do not work: a public holiday, or the firm's own."""

    LETTER = "CD"
    region = models.CharField(max_length=6)
    day = models.DateField()
    name = models.CharField(max_length=120)
    state = models.CharField(max_length=10, choices=ClosedState, default=ClosedState.KEPT)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["region", "day"], name="region_closed_once_a_day"),
        ]

    def __str__(self) -> str:
        return f"{self.day} {self.name} ({self.region})"


class Token(models.Model):
    """A bearer token: only its digest is kept; it expires and can be revoked at once."""

    PREFIX: ClassVar[str]

    name = models.CharField(max_length=60)
    handle = models.CharField(max_length=16, unique=True, editable=False)
    digest = models.CharField(max_length=64, editable=False)
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    revoked_why = models.CharField(max_length=300, blank=True)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        abstract = True


class Tablet(Numbered, Token):
    """A tablet in somebody's hands; what it posts is by its holder unless a reading says otherwise."""

    LETTER = "T"
    PREFIX = "tab"
    holder = models.ForeignKey(Member, models.PROTECT, related_name="tablets")

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name


class Integration(Numbered, Token):
    """A program of someone else's, with scopes such as `bookings:write`."""

    LETTER = "I"
    PREFIX = "int"
    scopes = models.JSONField(default=list)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name

    # The framework asks a user for these two; a program is its own user.
    is_authenticated = True
    is_active = True

    def caller(self, token: Any = None) -> Caller:
        """Say who calls: this program."""
        return Caller(SCHEDULER, f"integration:{self.pk}", self.name, scopes=frozenset(self.scopes))
