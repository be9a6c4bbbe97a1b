"""What the plant owes for what it ruined, and claims about retreads that failed.

Rows that say what was decided are only added to, by the database's own rule.
"""

from django.db import models


class Owed(models.Model):
    """A casing that the plant ruined: a rejection by its own doing. uid: of the custody fact."""

    uid = models.UUIDField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    label = models.CharField(max_length=8)
    reason = models.CharField(max_length=40)
    since = models.DateTimeField()

    class Meta:
        db_table = "adjustments_owed"


class Settled(models.Model):
    """How one was settled. change: the fact of the exchange in the trunk's ledger of owners."""

    class How(models.TextChoices):
        EXCHANGE = "exchange", "the owner took a casing from stock for it"
        CREDIT = "credit", "credited"
        RELEASED = "released", "the rejection was taken back"

    owed = models.OneToOneField(Owed, models.PROTECT, primary_key=True, related_name="settled")
    how = models.CharField(max_length=8, choices=How)
    cents = models.PositiveIntegerField(null=True)
    change = models.UUIDField(null=True)
    said = models.CharField(max_length=500, blank=True)
    by = models.UUIDField(null=True)
    settled_at = models.DateTimeField()

    class Meta:
        db_table = "adjustments_settled"


class Claim(models.Model):
    """A retread that failed, brought back: kept as evidence until somebody qualified has decided.

    found_by: the tag or retread TIN that was read off it. readings: remaining tread in 32nds.
    hold: the station event that keeps it in the plant.
    """

    uid = models.UUIDField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    found_by = models.CharField(max_length=40)
    label = models.CharField(max_length=8)
    complaint = models.CharField(max_length=500)
    readings = models.JSONField()
    hold = models.UUIDField()
    opened_by = models.UUIDField()
    opened_at = models.DateTimeField()

    class Meta:
        db_table = "adjustments_claim"


class ClaimDecision(models.Model):
    """What was decided, on what grounds; where it is honoured, the arithmetic with its figures."""

    class What(models.TextChoices):
        HONOURED = "honoured", "honoured: credited pro rata"
        REFUSED = "refused", "not honoured"

    claim = models.OneToOneField(Claim, models.PROTECT, primary_key=True, related_name="decision")
    what = models.CharField(max_length=8, choices=What)
    grounds = models.CharField(max_length=500)
    price_cents = models.PositiveIntegerField(null=True)
    original_32nds = models.PositiveSmallIntegerField(null=True)
    pull_32nds = models.PositiveSmallIntegerField(null=True)
    credit_cents = models.PositiveIntegerField(default=0)
    by = models.UUIDField()
    decided_at = models.DateTimeField()

    class Meta:
        db_table = "adjustments_claim_decision"
