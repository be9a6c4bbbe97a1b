"""Casings and work orders."""

from django.db import models

from pickups.casings.rules import Progress


class Casing(models.Model):
    """A tire body. It is the customer's until an exchange or a sale says otherwise.

    The columns below `size` are folded from custody's facts of ownership. yard: the one that it
    came from, where a settled mix-up says another than its pick_up. dealers: what made it the
    dealer's, and since when; empty while it is the customer's.
    """

    uid = models.UUIDField(primary_key=True, editable=False)
    tin = models.CharField(max_length=24, blank=True)
    size = models.CharField(max_length=24, blank=True)
    yard = models.UUIDField(null=True)
    dealers = models.CharField(max_length=9, blank=True, db_default="")
    owned_since = models.DateTimeField(null=True)

    class Meta:
        db_table = "casings_casing"


class WorkOrder(models.Model):
    """One trip of a casing; every column below `label` is folded from facts by custody.

    The uid is that of the pick_up that began it. `version` rises with every change that a phone
    or page should see.
    """

    uid = models.UUIDField(primary_key=True, editable=False)
    casing = models.ForeignKey(Casing, models.PROTECT, related_name="work_orders")
    pickup = models.UUIDField()
    yard = models.UUIDField()
    customer = models.UUIDField(null=True)
    site = models.UUIDField()
    label = models.CharField(max_length=8)
    progress = models.CharField(max_length=12, choices=Progress.choices())
    station = models.CharField(max_length=40, blank=True)
    reason = models.CharField(max_length=40, blank=True)
    on_hold = models.BooleanField(default=False)
    contested = models.BooleanField(default=False)
    withdrawn = models.BooleanField(default=False)
    holder = models.CharField(max_length=60)
    picked_up_at = models.DateTimeField()
    told = models.JSONField()
    version = models.BigIntegerField(default=1)

    class Meta:
        db_table = "casings_work_order"
        indexes = (
            models.Index(fields=["label"], name="work_order_label"),
            models.Index(fields=["pickup"], name="work_order_pickup"),
            models.Index(fields=["customer"], name="work_order_customer"),
            # What is not back yet stays small, however long a store's history grows.
            models.Index(
                fields=["site", "progress"],
                name="work_order_out",
                condition=models.Q(withdrawn=False) & ~models.Q(progress="returned"),
            ),
            models.Index(
                fields=["holder"],
                name="work_order_holder",
                condition=models.Q(withdrawn=False) & ~models.Q(progress="returned"),
            ),
            models.Index(fields=["yard", "picked_up_at"], name="work_order_yard"),
        )

    @property
    def picked_up_under(self) -> str:
        """The label that it was picked up under, as corrected: what was signed and mailed."""
        return str(self.told.get("picked_up_under") or self.label)
