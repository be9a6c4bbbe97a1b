"""Notices: made, claimed, sent. Names and addresses stay with the contact; here are only ids."""

from django.db import models


class Notice(models.Model):
    """One thing that one contact is told, once."""

    class Kind(models.TextChoices):
        RECEIPT = "receipt", "receipt: what was picked up"

    id = models.BigAutoField(primary_key=True)
    kind = models.CharField(max_length=20, choices=Kind)
    cause = models.CharField(max_length=80)
    contact = models.UUIDField()
    made_at = models.DateTimeField()
    claimed_until = models.DateTimeField(null=True)
    tries = models.PositiveIntegerField(default=0)
    sent_at = models.DateTimeField(null=True)
    gave_up_at = models.DateTimeField(null=True)
    last_error = models.CharField(max_length=300, blank=True)

    class Meta:
        db_table = "notices_notice"
        constraints = (
            models.UniqueConstraint(fields=["cause", "contact", "kind"], name="notice_once"),
        )
