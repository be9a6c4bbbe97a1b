"""Rolls and the codes printed on them, who has which roll and which label was spoiled before use;
the stock that they are printed on, and its trials.

What a stock stands is known from trials and from nothing else: no column says it.
"""

from django.db import models
from simple_history.models import HistoricalRecords

from pickups.labels.rules import Outcome, Use


class LabelStock(models.Model):
    """What labels are printed on, as it is bought: a name, and what it is meant for."""

    name = models.CharField(max_length=80, help_text="Maker and article, as ordered.")
    use = models.CharField(
        max_length=12, choices=[(u.value, u.value.replace("_", " ")) for u in Use]
    )
    note = models.CharField(max_length=500, blank=True)
    history = HistoricalRecords()

    class Meta:
        db_table = "labels_stock"
        verbose_name = "label stock"
        verbose_name_plural = "label stocks"
        constraints = (models.UniqueConstraint(fields=["name"], name="stock_name_once"),)

    def __str__(self) -> str:
        return self.name


class Trial(models.Model):
    """One label of a stock through heat or under paint, and whether it was read afterwards.

    degrees_c: degrees Celsius, empty where no heat was tried; minutes: how long; paint: which one,
    empty where none was; by: who tried it, as they are called, which no history keeps.
    """

    stock = models.ForeignKey(LabelStock, models.PROTECT, related_name="trials")
    on = models.DateField()
    by = models.CharField(max_length=80)
    degrees_c = models.PositiveSmallIntegerField(null=True, blank=True)
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    paint = models.CharField(max_length=80, blank=True)
    outcome = models.CharField(
        max_length=12, choices=[(o.value, o.value.replace("_", " ")) for o in Outcome]
    )
    note = models.CharField(max_length=500, blank=True)
    history = HistoricalRecords(excluded_fields=["by"])

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(degrees_c__isnull=False) | ~models.Q(paint=""),
                name="trial_of_something",
                violation_error_message="Say the degrees, or the paint: one of the two was tried.",
            ),
            models.CheckConstraint(
                condition=models.Q(degrees_c__isnull=True)
                | models.Q(minutes__isnull=False, minutes__gt=0),
                name="trial_heat_has_minutes",
                violation_error_message="Heat is tried for some minutes: say how many.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.stock}, {self.on}"


class Roll(models.Model):
    """A run of labels printed at once, for one store, driver or plant.

    uid: made by whoever asked for it, so that asking again prints nothing twice; may be empty.
    stock: what it is printed on, where that was said. twins: each code comes twice, one label for
    either sidewall.
    """

    id = models.BigAutoField(primary_key=True)
    uid = models.UUIDField(null=True)
    range = models.CharField(max_length=2)
    first = models.PositiveIntegerField()
    last = models.PositiveIntegerField()
    site = models.ForeignKey("people.Site", models.PROTECT, related_name="rolls")
    printed_at = models.DateTimeField()
    stock = models.ForeignKey(LabelStock, models.PROTECT, null=True, related_name="rolls")
    twins = models.BooleanField(default=True)

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(first__lte=models.F("last"), last__lt=27000), name="roll_span"
            ),
            models.UniqueConstraint(fields=["uid"], name="roll_uid_once"),
        )

    def __str__(self) -> str:
        return f"{self.range} {self.first} to {self.last}"


class Allocation(models.Model):
    """Who got a roll, or that it went back to its store (no holder): by whom and when. Rows are
    only added, so they are its history; the newest says who has it."""

    id = models.BigAutoField(primary_key=True)
    roll = models.ForeignKey(Roll, models.PROTECT, related_name="allocations")
    holder = models.ForeignKey("people.User", models.PROTECT, null=True, related_name="+")
    by = models.ForeignKey("people.User", models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        db_table = "labels_allocation"


class Label(models.Model):
    """One printed code."""

    code = models.CharField(primary_key=True, max_length=8)
    roll = models.ForeignKey(Roll, models.PROTECT, related_name="labels")

    class Meta:
        db_table = "labels_label"


class VoidLabel(models.Model):
    """A label that was found damaged before it was on a casing, and is never to be used: why, by
    whom and when. One that was worn gives way by a relabelling, which is custody's."""

    label = models.OneToOneField(Label, models.PROTECT, primary_key=True, related_name="void")
    reason = models.CharField(max_length=200)
    by = models.ForeignKey("people.User", models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        db_table = "labels_void"
