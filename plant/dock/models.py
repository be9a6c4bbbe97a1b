"""Stations of a plant in the order of its route, its chambers; its calendar, shifts and standard
times.

Times of work are minutes. An empty one was not entered: nothing here is guessed.
"""

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from simple_history.models import HistoricalRecords

from pickups.casings import tin
from plant.dock.rules import (
    LONGEST_CYCLE_MIN,
    LONGEST_DAYS,
    MOST_IN_ONE,
    MOST_MACHINES,
    MOST_REWORKS,
    TIMES,
    WEEKDAYS,
    monday_to_friday,
)


class Station(models.Model):
    """Where one step is done; `code` is what machines post. A plant orders and omits freely.

    scans: labels are scanned here; at the others a later scan says that the casing has passed.
    optional: not every casing goes there. machines: how many do this work side by side. cycle_min:
    how long one of them takes for `batch` casings.
    """

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="stations")
    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=80)
    name_es = models.CharField("name in Spanish", max_length=80, blank=True)
    place = models.PositiveIntegerField(help_text="Its place in the route, first is 1.")
    scans = models.BooleanField(default=True, help_text="Labels are scanned here.")
    optional = models.BooleanField(default=False, help_text="Not every casing goes there.")
    machines = models.PositiveSmallIntegerField(
        default=1,
        validators=[MinValueValidator(1), MaxValueValidator(MOST_MACHINES)],
        help_text="How many do this work side by side.",
    )
    cycle_min = models.PositiveIntegerField(
        "cycle in minutes",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(LONGEST_CYCLE_MIN)],
        help_text="How long one of them takes; empty where you do not know.",
    )
    batch = models.PositiveSmallIntegerField(
        default=1,
        validators=[MinValueValidator(1), MaxValueValidator(MOST_IN_ONE)],
        help_text="How many casings one of them takes at once.",
    )
    caution = models.CharField(max_length=300, blank=True)
    caution_es = models.CharField("caution in Spanish", max_length=300, blank=True)
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_station"
        ordering = ("plant", "place")
        constraints = (models.UniqueConstraint(fields=["plant", "code"], name="station_code_once"),)

    def __str__(self) -> str:
        return self.name


class Chamber(models.Model):
    """A curing chamber: how many casings it holds, how long its usual cycle takes, and when one is
    begun: as soon as `least` casings wait, once the first of them has waited so long, or only at
    fixed times of the day."""

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey(
        "people.Site", models.CASCADE, related_name="chambers", limit_choices_to={"kind": "plant"}
    )
    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=80)
    holds = models.PositiveSmallIntegerField(
        validators=[MinValueValidator(1), MaxValueValidator(MOST_IN_ONE)],
        help_text="How many casings it takes at once.",
    )
    cycle_min = models.PositiveIntegerField(
        "cycle in minutes",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(LONGEST_CYCLE_MIN)],
        help_text="From door shut to door open; empty where you do not know.",
    )
    least = models.PositiveSmallIntegerField(
        "begins with",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(MOST_IN_ONE)],
        help_text="As soon as so many casings wait, a cycle begins; empty: once it is full.",
    )
    max_wait_min = models.PositiveIntegerField(
        "longest wait in minutes",
        null=True,
        blank=True,
        validators=[MaxValueValidator(LONGEST_CYCLE_MIN)],
        help_text="Once the first casing has waited so long, a cycle begins though the chamber is "
        "not full; empty where you do not know.",
    )
    starts = models.CharField(
        "fixed times",
        max_length=80,
        blank=True,
        default="",
        db_default="",
        validators=[RegexValidator(TIMES, "Times of the day such as 06:00, 14:30.")],
        help_text="Where cycles begin only at fixed times of the day: such as 06:00, 14:30.",
    )
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_chamber"
        ordering = ("plant", "name")
        constraints = (models.UniqueConstraint(fields=["plant", "code"], name="chamber_code_once"),)

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        """One that may begin only with more casings than it holds would never begin; a time that is
        entered twice is a slip."""
        times = [one.strip() for one in self.starts.split(",")]
        if twice := [one for one in times if one and times.count(one) > 1]:
            raise ValidationError({"starts": f"{twice[0]} stands there twice; once is allowed."})
        if self.holds and (self.least or 0) > self.holds:
            said = f"{self.least} is more than it holds; 1 to {self.holds} is allowed."
            raise ValidationError({"least": said})


class Route(models.Model):
    """What holds for a plant's route as a whole, and the number of its last change.

    rework_limit: how often a casing may be sent back to be worked again; None: no limit entered.
    plant_code: the retreader's own, the first symbols of every retread TIN that it brands (49 CFR
    574.5); empty: not entered, and then a TIN's code is compared with nothing.
    """

    plant = models.OneToOneField(
        "people.Site",
        models.CASCADE,
        primary_key=True,
        related_name="route",
        limit_choices_to={"kind": "plant"},
    )
    rework_limit = models.PositiveSmallIntegerField(
        null=True,
        blank=True,
        validators=[MaxValueValidator(MOST_REWORKS)],
        help_text="How often a casing may be worked again; empty: no limit entered.",
    )
    plant_code = models.CharField(
        "plant code",
        max_length=3,
        blank=True,
        db_default="",
        validators=[
            RegexValidator(
                rf"^[{tin.SYMBOLS}]{{3}}\Z", f"Three symbols, each one of {tin.SYMBOLS}."
            )
        ],
        help_text="The three symbols that a retread TIN branded here begins with, 49 CFR 574.5; "
        "empty: not entered.",
    )
    version = models.BigIntegerField(default=0, editable=False)
    limits_version = models.BigIntegerField(default=0, editable=False)
    targets_version = models.BigIntegerField(default=0, editable=False, db_default=0)
    history = HistoricalRecords(excluded_fields=["version", "limits_version", "targets_version"])

    class Meta:
        db_table = "dock_route"
        verbose_name = "rework limit and plant code"

    def __str__(self) -> str:
        return f"{self.plant}: rework limit and plant code"


class RepairLimit(models.Model):
    """How large and how many an injury may be to be repaired, as the plant entered it from a chart
    of its repair material's supplier: who did, when, and which chart.

    size_class: `light`, `medium` (plant/inspection/limits.py), a size as it stands on a sidewall,
    or empty for all. most_mm: across its longest; most_count: on one casing.
    """

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="repair_limits")
    zone = models.CharField(max_length=12)
    kind = models.CharField(max_length=40)
    size_class = models.CharField(max_length=24, blank=True)
    most_mm = models.FloatField(null=True)
    most_count = models.PositiveSmallIntegerField(null=True)
    chart = models.CharField(max_length=120)
    entered_by = models.ForeignKey("people.User", models.PROTECT, related_name="+")
    entered_at = models.DateTimeField()
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_repair_limit"
        ordering = ("zone", "kind", "size_class")
        constraints = (
            models.UniqueConstraint(
                fields=["plant", "zone", "kind", "size_class"], name="repair_limit_once"
            ),
            models.CheckConstraint(
                condition=models.Q(most_mm__isnull=False) | models.Q(most_count__isnull=False),
                name="repair_limit_says_something",
            ),
        )

    def __str__(self) -> str:
        return f"{self.zone} {self.kind} {self.size_class}".strip()


class TreadTarget(models.Model):
    """What the plant wants of a tread design, in one size or (size empty) in every one: as it
    entered it from the maker's sheet, with who, when and which sheet. Lengths in mm.

    A figure that is None was not entered, and then nothing is held against it. pitch_mm: one repeat
    of the pattern. gum_mm: thickness of the cushion gum under the tread. radius_mm: of the buffed
    crown. texture_least, texture_most: on the plant's own samples. tread_width_mm: of the tread,
    and so of the crown that it covers. *_off_mm: how far the measured figure may be away.
    """

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="tread_targets")
    tread_design = models.CharField(max_length=60)
    size = models.CharField(max_length=24, blank=True)
    pitch_mm = models.FloatField(null=True)
    gum_mm = models.FloatField(null=True)
    length_off_mm = models.FloatField(null=True)
    radius_mm = models.FloatField(null=True)
    radius_off_mm = models.FloatField(null=True)
    texture_least = models.FloatField(null=True)
    texture_most = models.FloatField(null=True)
    tread_width_mm = models.FloatField(null=True)
    width_off_mm = models.FloatField(null=True)
    sheet = models.CharField(max_length=120)
    entered_by = models.ForeignKey("people.User", models.PROTECT, related_name="+")
    entered_at = models.DateTimeField()
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_tread_target"
        ordering = ("tread_design", "size")
        constraints = (
            models.UniqueConstraint(
                fields=["plant", "tread_design", "size"], name="tread_target_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.tread_design} {self.size}".strip()


class Consignment(models.Model):
    """A truck's list at a plant: what it brings, or what it is to take. The id is derived from the
    stop of its run (or the run, where it starts at the plant) and the way.

    other: the place at the other end, whose run it is. driver: whose truck. listed: the work orders
    on the list; one that has gone the list's way stays on it. opened_at: when the run was handed to
    its driver. compared: at closing, what differed.
    """

    uid = models.UUIDField(primary_key=True, editable=False)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="+")
    other = models.ForeignKey("people.Site", models.CASCADE, related_name="+")
    way = models.CharField(max_length=3, choices=[("in", "it brings"), ("out", "it takes")])
    run = models.UUIDField()
    stop = models.UUIDField(null=True)
    driver = models.UUIDField(null=True)
    listed = models.JSONField(default=list)
    opened_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True)
    compared = models.JSONField(default=dict)
    version = models.BigIntegerField(default=0)

    class Meta:
        db_table = "dock_consignment"
        indexes = (
            models.Index(fields=["run"], name="consignment_run"),
            models.Index(fields=["plant", "closed_at"], name="consignment_of_plant"),
        )


class Count(models.Model):
    """A consignment counted by hand, before a single scan; never changed, the last by stamp counts.
    It may arrive before its consignment is known here."""

    uid = models.UUIDField(primary_key=True, editable=False)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="+")
    consignment = models.UUIDField()
    counted = models.PositiveSmallIntegerField()
    stamp = models.BigIntegerField()
    by = models.UUIDField()
    device = models.UUIDField()
    happened_at = models.DateTimeField()
    recorded_at = models.DateTimeField()

    class Meta:
        db_table = "dock_count"
        indexes = (models.Index(fields=["consignment"], name="count_consignment"),)


class Calendar(models.Model):
    """The weekdays (0 is Monday) on which a plant works. Without one it promises nothing."""

    plant = models.OneToOneField(
        "people.Site",
        models.CASCADE,
        primary_key=True,
        related_name="calendar",
        limit_choices_to={"kind": "plant"},
    )
    weekdays = models.JSONField(default=monday_to_friday)
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_calendar"
        verbose_name = "calendar and standard times"
        verbose_name_plural = "calendars and standard times"

    def __str__(self) -> str:
        return f"{self.plant}: calendar and standard times"


class Shift(models.Model):
    """When a plant works on a weekday (0 is Monday). One that ends before it begins runs past
    midnight. Without shifts a plant works on its weekdays, at hours that nobody has entered."""

    id = models.BigAutoField(primary_key=True)
    calendar = models.ForeignKey(Calendar, models.CASCADE, related_name="shifts")
    weekday = models.PositiveSmallIntegerField(choices=WEEKDAYS)
    begins = models.TimeField()
    ends = models.TimeField()
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_shift"
        ordering = ("weekday", "begins")
        constraints = (
            models.UniqueConstraint(
                fields=["calendar", "weekday", "begins"], name="shift_begins_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.get_weekday_display()} {self.begins:%H:%M}-{self.ends:%H:%M}"


class Holiday(models.Model):
    """A day on which a plant does not work although its weekday says so; no truck goes there."""

    id = models.BigAutoField(primary_key=True)
    calendar = models.ForeignKey(Calendar, models.CASCADE, related_name="holidays")
    on = models.DateField()
    name = models.CharField(max_length=60, blank=True)
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_holiday"
        ordering = ("on",)
        constraints = (models.UniqueConstraint(fields=["calendar", "on"], name="holiday_once"),)

    def __str__(self) -> str:
        return f"{self.on} {self.name}".strip()


class StandardTime(models.Model):
    """How many of its working days a plant needs for a work, from the day on which it receives a
    casing to the day on which it is finished. Entered by the plant, never by us."""

    class Work(models.TextChoices):
        RETREAD = "retread", "retread: a new tread"
        REPAIR = "repair", "repair only"

    id = models.BigAutoField(primary_key=True)
    calendar = models.ForeignKey(Calendar, models.CASCADE, related_name="times")
    work = models.CharField(max_length=12, choices=Work)
    working_days = models.PositiveSmallIntegerField(
        validators=[MinValueValidator(1), MaxValueValidator(LONGEST_DAYS)],
        help_text="From the day it is received to the day it is finished; the first day is not"
        " counted.",
    )
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_standard_time"
        ordering = ("work",)
        constraints = (
            models.UniqueConstraint(fields=["calendar", "work"], name="standard_time_of_work_once"),
        )

    def __str__(self) -> str:
        return f"{self.work}: {self.working_days}"
