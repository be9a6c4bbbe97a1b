"""Figures that a plant enters from papers of others: repair limits from a supplier's chart, what is
wanted of a tread design from its maker's sheet. Each with who, when and which paper: none is ours.
"""

from django.db import models
from simple_history.models import HistoricalRecords


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
