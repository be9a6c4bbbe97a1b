"""When a plant works, and how many of its days a work takes: entered by the plant, never by us."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from simple_history.models import HistoricalRecords

from plant.dock.rules import LONGEST_DAYS, WEEKDAYS, monday_to_friday


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
