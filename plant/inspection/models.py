"""Station events as they were posted."""

from django.db import models


class StationEvent(models.Model):
    """One event, never changed. `fact` is the custody fact that it became."""

    fact = models.UUIDField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    event = models.UUIDField()
    hash = models.BinaryField(max_length=32)
    key = models.CharField(max_length=12)
    label = models.CharField(max_length=8)
    station = models.CharField(max_length=40)
    outcome = models.CharField(max_length=10)
    happened_at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    body = models.JSONField()

    class Meta:
        db_table = "inspection_station_event"
        constraints = (
            models.UniqueConstraint(fields=["plant", "event"], name="station_event_once"),
        )
        indexes = (models.Index(fields=["label"], name="station_event_label"),)
