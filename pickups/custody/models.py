"""The ledger of facts, and the visits in which casings change hands."""

from django.db import models
from django.db.models.fields.json import KeyTextTransform

from pickups.custody import owning
from pickups.custody.fold import Kind


class Fact(models.Model):
    """One thing that happened. Append-only: the database lets nothing change but `work_order`,
    which says whose fact it is once its label is bound.

    happened_at is the device's clock, recorded_at ours; skew_ms (device minus server) was measured
    when it was sent. by: the person, device: the sender; both are ids without a foreign key, since
    a fact from somebody unknown is kept all the same.
    """

    uid = models.UUIDField(primary_key=True)
    kind = models.CharField(max_length=12, choices=[(k.value, k.value) for k in Kind])
    label = models.CharField(max_length=8)
    stamp = models.BigIntegerField()
    corrects = models.UUIDField(null=True)
    work_order = models.UUIDField(null=True)
    holder = models.CharField(max_length=60)
    told = models.JSONField()
    happened_at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    skew_ms = models.BigIntegerField(null=True)
    by = models.UUIDField(null=True)
    device = models.UUIDField(null=True)

    class Meta:
        db_table = "custody_fact"
        indexes = (
            models.Index(fields=["label"], name="fact_label"),
            models.Index(
                fields=["corrects"], name="fact_corrects", condition=~models.Q(corrects=None)
            ),
            models.Index(fields=["work_order"], name="fact_work_order"),
            models.Index(
                fields=["happened_at"],
                name="fact_decided",
                condition=models.Q(kind__in=["finished", "rejected"]),
            ),
            models.Index(
                KeyTextTransform("visit", "told"),
                name="fact_visit",
                condition=models.Q(kind__in=["pickup_end", "delivery_end"]),
            ),
            models.Index(
                KeyTextTransform("visit", "told"),
                name="fact_emptied",
                condition=models.Q(kind="emptied"),
            ),
            models.Index(
                KeyTextTransform("delivery", "told"),
                name="fact_delivery",
                condition=models.Q(kind="returned"),
            ),
            models.Index(
                KeyTextTransform("now", "told"),
                name="fact_relabelled",
                condition=models.Q(kind="relabelled"),
            ),
            models.Index(
                fields=["recorded_at"],
                name="fact_returned",
                condition=models.Q(kind="returned"),
            ),
            models.Index(
                fields=["recorded_at"],
                name="fact_told_by_one",
                condition=models.Q(kind__in=["handed_in", "shipped"]),
            ),
        )


class Pickup(models.Model):
    """A visit that is over: which casings were taken, which lines of scrap and of what was left
    stand in it, how many casings the customer counted. `store` is the counter where they were
    dropped off, none where they were picked up in the yard. `trailer`: what was told of a trailer
    taken closed (number, seal, left), none where none was; its list comes when it is emptied:
    `emptied` is what was told of that (see `wire.trailers`), none until then."""

    uid = models.UUIDField(primary_key=True)
    yard = models.UUIDField()
    store = models.UUIDField(null=True)
    customer = models.UUIDField(null=True)
    site = models.UUIDField()
    casings = models.JSONField()
    scrap = models.JSONField(default=list)
    left = models.JSONField(default=list)
    customer_count = models.PositiveIntegerField(null=True)
    trailer = models.JSONField(null=True)
    emptied = models.JSONField(null=True)
    deposit_cents = models.PositiveIntegerField(null=True)
    deposit_note = models.CharField(max_length=40, blank=True, default="")
    shown = models.CharField(max_length=64, blank=True)
    unsigned = models.CharField(max_length=500, blank=True)
    refused = models.CharField(max_length=9, blank=True, default="")
    nobody_there = models.BooleanField(default=False)
    signed_in = models.CharField(max_length=2, blank=True, default="")
    note = models.CharField(max_length=500, blank=True)
    finished_at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    by = models.UUIDField()
    version = models.BigIntegerField(default=1)

    class Meta:
        db_table = "custody_pickup"


class VisitLine(models.Model):
    """A line of a pickup without a label, as it stands (see `lines`); `told` holds what was told
    last. kind: scrap that was counted, or a casing that was looked at and left there."""

    uid = models.UUIDField(primary_key=True)
    kind = models.CharField(max_length=5, choices=[(k, k) for k in ("scrap", "left")])
    pickup = models.UUIDField()
    yard = models.UUIDField()
    store = models.UUIDField(null=True)
    customer = models.UUIDField(null=True)
    site = models.UUIDField()
    withdrawn = models.BooleanField()
    told = models.JSONField()
    told_at = models.DateTimeField()
    by = models.UUIDField()
    version = models.BigIntegerField(default=1)

    class Meta:
        db_table = "custody_visit_line"
        indexes = (
            models.Index(fields=["pickup"], name="visit_line_pickup"),
            models.Index(fields=["customer"], name="visit_line_customer"),
        )


class Delivery(models.Model):
    """A visit in which casings were handed back, and is over; `store` is the counter where they
    were fetched, none in the yard."""

    uid = models.UUIDField(primary_key=True)
    yard = models.UUIDField()
    store = models.UUIDField(null=True)
    customer = models.UUIDField(null=True)
    site = models.UUIDField()
    casings = models.JSONField()
    shown = models.CharField(max_length=64, blank=True)
    unsigned = models.CharField(max_length=500, blank=True)
    refused = models.CharField(max_length=9, blank=True, default="")
    nobody_there = models.BooleanField(default=False)
    signed_in = models.CharField(max_length=2, blank=True, default="")
    note = models.CharField(max_length=500, blank=True)
    finished_at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    by = models.UUIDField()
    version = models.BigIntegerField(default=1)

    class Meta:
        db_table = "custody_delivery"


class Signature(models.Model):
    """Who signed for a pickup or a delivery: erasable, so it stands apart from the facts. `shown`
    is the list that was signed; the visit's own is of the end that was told first, signed or not.
    """

    visit = models.UUIDField(primary_key=True)
    name = models.CharField(max_length=120)
    image = models.CharField(max_length=64, blank=True)
    shown = models.CharField(max_length=64, blank=True, default="")

    class Meta:
        db_table = "custody_signature"


class ReceiptLink(models.Model):
    """A way to one visit's receipt, without a sign-in, for who has the key that the phone made:
    good for 30 days, revocable. Only the SHA-256 of the key is kept; `used_at` is when it was last
    opened."""

    id = models.BigAutoField(primary_key=True)
    key_hash = models.BinaryField(max_length=32, editable=False)
    visit = models.UUIDField()
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True)
    used_at = models.DateTimeField(null=True)

    class Meta:
        db_table = "custody_receipt_link"
        constraints = (models.UniqueConstraint(fields=["key_hash"], name="receipt_link_once"),)
        indexes = (models.Index(fields=["visit"], name="receipt_link_visit"),)


class Dispute(models.Model):
    """A case about a pickup after its signature. theirs: what the customer counts, as said last;
    opened_by: who of ours, none for the customer. assigned: who settles it, by due_on. What was
    said and done stands in its steps."""

    uid = models.UUIDField(primary_key=True)
    visit = models.UUIDField()
    customer = models.UUIDField(null=True)
    site = models.UUIDField()
    opened_at = models.DateTimeField()
    opened_by = models.UUIDField(null=True)
    theirs = models.PositiveIntegerField(null=True)
    assigned = models.UUIDField(null=True)
    due_on = models.DateField()
    settled_at = models.DateTimeField(null=True)
    outcome = models.CharField(max_length=9, blank=True, default="")

    class Meta:
        db_table = "custody_dispute"
        constraints = (
            models.UniqueConstraint(
                fields=["visit"], condition=models.Q(settled_at=None), name="dispute_open_once"
            ),
        )
        indexes = (
            models.Index(fields=["visit"], name="dispute_visit"),
            models.Index(fields=["settled_at"], name="dispute_settled"),
        )


class DisputeStep(models.Model):
    """What was said or done in a case. Append-only: the database lets nothing of it change. by: who
    of ours, none for the customer. told: ids and codes. words: under which id what was said is
    kept, apart and erasable; none where nothing was."""

    id = models.BigAutoField(primary_key=True)
    dispute = models.ForeignKey(Dispute, models.PROTECT, related_name="steps")
    kind = models.CharField(max_length=8)
    at = models.DateTimeField()
    by = models.UUIDField(null=True)
    words = models.UUIDField(null=True)
    told = models.JSONField(default=dict)

    class Meta:
        db_table = "custody_dispute_step"


class OwnerChange(models.Model):
    """One fact of ownership: a sale, an exchange, a settled mix-up, or that one of these was a
    mistake. Append-only: the database lets nothing of it change.

    other: the second casing of a mix-up. told: what was agreed, or why. by: who told it.
    """

    uid = models.UUIDField(primary_key=True)
    kind = models.CharField(max_length=9, choices=[(k.value, k.value) for k in owning.Kind])
    casing = models.UUIDField()
    other = models.UUIDField(null=True)
    stamp = models.BigIntegerField()
    undoes = models.UUIDField(null=True)
    told = models.JSONField()
    happened_at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    by = models.UUIDField()

    class Meta:
        db_table = "custody_owner_change"
        indexes = (
            models.Index(fields=["casing"], name="owner_change_casing"),
            models.Index(
                fields=["other"], name="owner_change_other", condition=~models.Q(other=None)
            ),
        )


class Acceptance(models.Model):
    """Who at the customer accepted a sale: erasable, so it stands apart from the fact."""

    change = models.UUIDField(primary_key=True)
    name = models.CharField(max_length=120)
    contact = models.UUIDField()

    class Meta:
        db_table = "custody_acceptance"
