"""Trucks' lists at the dock, and what was counted of them by hand."""

from django.db import models


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
