"""Rolls and the codes printed on them."""

from django.db import models


class Roll(models.Model):
    """A run of labels printed at once, for one store, driver or plant.

    uid: made by whoever asked for it, so that asking again prints nothing twice; may be empty.
    """

    id = models.BigAutoField(primary_key=True)
    uid = models.UUIDField(null=True)
    range = models.CharField(max_length=2)
    first = models.PositiveIntegerField()
    last = models.PositiveIntegerField()
    site = models.ForeignKey("people.Site", models.PROTECT, related_name="rolls")
    printed_at = models.DateTimeField()

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(first__lte=models.F("last"), last__lt=27000), name="roll_span"
            ),
            models.UniqueConstraint(fields=["uid"], name="roll_uid_once"),
        )

    def __str__(self) -> str:
        return f"{self.range} {self.first} to {self.last}"


class Label(models.Model):
    """One printed code."""

    code = models.CharField(primary_key=True, max_length=8)
    roll = models.ForeignKey(Roll, models.PROTECT, related_name="labels")

    class Meta:
        db_table = "labels_label"
