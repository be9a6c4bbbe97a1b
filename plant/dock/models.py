"""Stations of a plant in the order of its route; its calendar and standard times."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from simple_history.models import HistoricalRecords

from plant.dock.rules import LONGEST_DAYS, monday_to_friday


class Station(models.Model):
    """Where one step is done; `code` is what machines post. A plant orders and omits freely."""

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="stations")
    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=80)
    place = models.PositiveIntegerField(help_text="Its place in the route, first is 1.")
    caution = models.CharField(max_length=200, blank=True)
    history = HistoricalRecords()

    class Meta:
        db_table = "dock_station"
        ordering = ("plant", "place")
        constraints = (models.UniqueConstraint(fields=["plant", "code"], name="station_code_once"),)

    def __str__(self) -> str:
        return self.name


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
