"""Load sheets with their stops and what is dropped there, what happened to them on the way; the
regular runs."""

import uuid

from django.db import models
from simple_history.models import HistoricalRecords


class Run(models.Model):
    """One vehicle's trip on a day: its load sheet.

    site: the store whose devices see it. start: where it loads. Devices see it once it is handed
    to its driver. `version` rises with every change that a device or page should see.
    """

    class Kind(models.TextChoices):
        ROUTE = "route", "route: to yards and back"
        TRANSFER = "transfer", "transfer: between store and plant"

    class State(models.TextChoices):
        WRITTEN = "written", "being written; nobody on the road sees it"
        HANDED = "handed", "with its driver"
        BACK = "back", "the truck is back; what was not dropped is loose again"

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    site = models.ForeignKey("people.Site", models.PROTECT, related_name="runs")
    start = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    on = models.DateField()
    kind = models.CharField(max_length=12, choices=Kind, default=Kind.ROUTE)
    driver = models.ForeignKey("people.User", models.PROTECT, null=True, related_name="runs")
    vehicle = models.CharField(max_length=40, blank=True)
    note = models.CharField(max_length=200, blank=True)
    state = models.CharField(max_length=8, choices=State, default=State.WRITTEN)
    version = models.BigIntegerField(default=1)

    class Meta:
        db_table = "runs_run"
        indexes = (models.Index(fields=["site", "on"], name="run_site_on"),)


class Stop(models.Model):
    """A place on a run, in order: a yard, or a site of the dealer's; fetch is how many casings
    are said to wait there."""

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    run = models.ForeignKey(Run, models.CASCADE, related_name="stops")
    place = models.PositiveSmallIntegerField(help_text="Its place on the run, first is 1.")
    yard = models.ForeignKey("customers.Yard", models.PROTECT, null=True, related_name="+")
    site = models.ForeignKey("people.Site", models.PROTECT, null=True, related_name="+")
    from_time = models.TimeField(null=True)
    to_time = models.TimeField(null=True)
    fetch = models.PositiveSmallIntegerField(null=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        db_table = "runs_stop"
        ordering = ("run", "place")
        constraints = (
            models.CheckConstraint(
                condition=models.Q(yard=None) ^ models.Q(site=None), name="stop_is_one_place"
            ),
            # Looked at when the step is through: stops that change places pass each other.
            models.UniqueConstraint(
                fields=["run", "place"],
                name="stop_place_once",
                deferrable=models.Deferrable.DEFERRED,
            ),
            models.CheckConstraint(
                condition=models.Q(from_time=None)
                | models.Q(to_time=None)
                | models.Q(from_time__lt=models.F("to_time")),
                name="stop_window_in_order",
            ),
        )


class Drop(models.Model):
    """A work order to be dropped at a stop. `active` until the run is back: on one sheet only."""

    id = models.BigAutoField(primary_key=True)
    stop = models.ForeignKey(Stop, models.CASCADE, related_name="drops")
    work_order = models.UUIDField()
    active = models.BooleanField(default=True)

    class Meta:
        db_table = "runs_drop"
        constraints = (
            models.UniqueConstraint(
                fields=["work_order"], condition=models.Q(active=True), name="drop_on_one_sheet"
            ),
        )


class Happening(models.Model):
    """What a driver has told of a run (`happenings.Kind`); never changed or deleted.

    run, stop: by their ids alone, since a sheet may be thrown away and a stop removed; none where
    no sheet names the place. told: what the payload said beside that.
    """

    uid = models.UUIDField(primary_key=True, editable=False)
    run = models.UUIDField(null=True)
    stop = models.UUIDField(null=True)
    kind = models.CharField(max_length=12)
    told = models.JSONField(default=dict)
    stamp = models.BigIntegerField()
    by = models.UUIDField()
    device = models.UUIDField()
    skew_ms = models.BigIntegerField(default=0)
    happened_at = models.DateTimeField()
    recorded_at = models.DateTimeField()

    class Meta:
        db_table = "runs_happening"
        indexes = (models.Index(fields=["run"], name="happening_of_run"),)


class RegularRun(models.Model):
    """A trip that is made every week on some weekdays (0 is Monday): the timetable.

    A route goes to its yards; a transfer goes to `plant` and, on the same days, comes back.
    """

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    name = models.CharField(max_length=80)
    site = models.ForeignKey("people.Site", models.PROTECT, related_name="regular_runs")
    kind = models.CharField(max_length=12, choices=Run.Kind, default=Run.Kind.ROUTE)
    weekdays = models.JSONField(default=list)
    plant = models.ForeignKey(
        "people.Site", models.PROTECT, null=True, blank=True, related_name="+"
    )
    yards = models.ManyToManyField("customers.Yard", blank=True, related_name="+")
    history = HistoricalRecords(m2m_fields=[yards])

    class Meta:
        db_table = "runs_regular_run"

    def __str__(self) -> str:
        return self.name
