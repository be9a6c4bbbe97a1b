"""Stations of a plant in the order of its route, and its chambers.

Times of work are minutes. An empty one was not entered: nothing here is guessed.
"""

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from simple_history.models import HistoricalRecords

from pickups.casings import tin
from plant.dock.rules import LONGEST_CYCLE_MIN, MOST_IN_ONE, MOST_MACHINES, MOST_REWORKS, TIMES


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
