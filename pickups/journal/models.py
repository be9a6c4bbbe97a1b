"""The journal and its delivery rows."""

from django.db import models


class Entry(models.Model):
    """One thing that the server did. Never updated, never deleted; ids and codes only, no names."""

    id = models.BigAutoField(primary_key=True)
    kind = models.CharField(max_length=60)
    subject = models.CharField(max_length=80)
    recorded_at = models.DateTimeField()
    body = models.JSONField()

    class Meta:
        db_table = "journal_entry"
        indexes = (models.Index(fields=["subject"], name="journal_entry_subject"),)


class Delivery(models.Model):
    """One reaction owed to one entry: who has claimed it until when, how often it was tried."""

    id = models.BigAutoField(primary_key=True)
    entry = models.ForeignKey(Entry, models.PROTECT, related_name="deliveries")
    reaction = models.CharField(max_length=60)
    claimed_until = models.DateTimeField(null=True)
    not_before = models.DateTimeField()
    tries = models.PositiveIntegerField(default=0)
    done_at = models.DateTimeField(null=True)
    gave_up_at = models.DateTimeField(null=True)
    last_error = models.CharField(max_length=500, blank=True)

    class Meta:
        db_table = "journal_delivery"
        constraints = (models.UniqueConstraint(fields=["entry", "reaction"], name="delivery_once"),)
        indexes = (
            models.Index(
                fields=["not_before", "id"],
                name="delivery_owed",
                condition=models.Q(done_at=None, gave_up_at=None),
            ),
        )
