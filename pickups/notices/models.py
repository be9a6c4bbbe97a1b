"""Notices: made, claimed, sent. Names and addresses stay with the contact; here are only ids."""

from django.db import models


class Notice(models.Model):
    """One mail to one contact, once a cause."""

    class Kind(models.TextChoices):
        RECEIPT = "receipt", "receipt: what was picked up"
        DELIVERY = "delivery", "delivery: what was handed back"
        WARNING = "warning", "warning: casings that stay with their owner and may burst"
        UNCLAIMED = "unclaimed", "unclaimed: what waits for its owner at a counter"
        DISPUTE = "dispute", "dispute: a pickup that its customer says was otherwise"
        PROGRESS = "progress", "progress: what the plant finished or rejected, and corrections"

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


class Line(models.Model):
    """What a notice tells its contact of one casing; told once the notice is sent.

    place counts what the contact was told of the casing, from 1: of two that would be the next,
    one is. news is what it comes to (see rules.News), label the one that it was told under.
    """

    id = models.BigAutoField(primary_key=True)
    notice = models.ForeignKey(Notice, models.CASCADE, related_name="lines")
    contact = models.UUIDField()
    work_order = models.UUIDField()
    place = models.PositiveIntegerField()
    news = models.CharField(max_length=120)
    label = models.CharField(max_length=8)

    class Meta:
        db_table = "notices_line"
        constraints = (
            models.UniqueConstraint(
                fields=["contact", "work_order", "place"], name="line_told_once"
            ),
        )
        indexes = (
            models.Index(fields=["work_order"], name="line_work_order"),
            models.Index(fields=["label"], name="line_label"),
        )
