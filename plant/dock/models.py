"""Stations of a plant, in the order of its route."""

from django.db import models
from simple_history.models import HistoricalRecords


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
