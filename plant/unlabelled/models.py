"""Casings found without a label."""

from django.db import models


class Unlabelled(models.Model):
    """One casing without a label, as it was seen, where it lies, and whose it turned out to be.

    rack: its place on the owner-unknown rack, empty while somebody still searches. told_by: how it
    was recognised, in words. label: the new one that went on. Both with who and when, once.
    """

    uid = models.UUIDField(primary_key=True, editable=False)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    station = models.CharField(max_length=40, blank=True)
    size = models.CharField(max_length=24, blank=True)
    brand = models.CharField(max_length=40, blank=True)
    date_code = models.CharField(max_length=4, blank=True)
    tread_32nds = models.PositiveSmallIntegerField(null=True)
    note = models.CharField(max_length=500, blank=True)
    rack = models.CharField(max_length=40, blank=True)
    found_at = models.DateTimeField()
    found_by = models.UUIDField()
    work_order = models.UUIDField(null=True)
    label = models.CharField(max_length=8, blank=True)
    told_by = models.CharField(max_length=500, blank=True)
    settled_at = models.DateTimeField(null=True)
    settled_by = models.UUIDField(null=True)

    class Meta:
        db_table = "unlabelled_unlabelled"
        constraints = (
            models.CheckConstraint(
                condition=models.Q(settled_at=None) | ~models.Q(label="") & ~models.Q(told_by=""),
                name="unlabelled_settled_with_label_and_how",
            ),
        )
        indexes = (
            models.Index(
                fields=["plant", "found_at"],
                name="unlabelled_open",
                condition=models.Q(settled_at=None),
            ),
        )
