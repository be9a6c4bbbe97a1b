"""Operations as they came, the feed, its epoch, incarnations of outboxes, photos."""

import uuid

from django.db import models
from django.db.models import Q

from pickups.sync.wire import Outcome


class XidField(models.Field):  # type: ignore[type-arg]
    """PostgreSQL's xid8: a transaction id of 64 bits that never wraps; compared as itself."""

    def db_type(self, connection: object) -> str:
        return "xid8"


class Incarnation(models.Model):
    """One outbox database on one device; `last_sequence` is the greatest number it has sent."""

    id = models.BigAutoField(primary_key=True)
    uid = models.UUIDField()
    device = models.ForeignKey("people.Device", models.PROTECT, related_name="incarnations")
    first_at = models.DateTimeField()
    last_sequence = models.BigIntegerField(default=0)
    received = models.BigIntegerField(default=0)

    class Meta:
        db_table = "sync_incarnation"
        constraints = (models.UniqueConstraint(fields=["device", "uid"], name="incarnation_once"),)


class Operation(models.Model):
    """One operation that was answered, with the hash of its RFC 8785 form.

    `raw` is kept while it is held (the whole operation), else empty. `awaits` is the id that a
    held one waits for. `position` is the transaction that last gave it an effect.
    """

    id = models.UUIDField(primary_key=True)
    device = models.ForeignKey("people.Device", models.PROTECT, related_name="operations")
    incarnation = models.UUIDField()
    sequence = models.BigIntegerField(null=True)
    kind = models.CharField(max_length=60)
    version = models.IntegerField()
    hash = models.BinaryField(max_length=32)
    outcome = models.CharField(max_length=10, choices=[(o.value, o.value) for o in Outcome])
    code = models.CharField(max_length=40)
    awaits = models.UUIDField(null=True)
    raw = models.BinaryField(null=True)
    skew_ms = models.BigIntegerField()
    recorded_at = models.DateTimeField()
    position = XidField()

    class Meta:
        db_table = "sync_operation"
        constraints = (
            models.UniqueConstraint(
                fields=["device", "incarnation", "sequence"], name="operation_sequence_once"
            ),
        )
        indexes = (
            models.Index(fields=["awaits"], name="operation_awaits", condition=~Q(awaits=None)),
            models.Index(
                fields=["recorded_at"], name="operation_held", condition=Q(outcome="held")
            ),
        )


class Feed(models.Model):
    """What a phone with a scope key should know: the newest version of each row in that scope.

    xid and seq are set by a trigger on insert and update; nothing else may.
    """

    pk = models.CompositePrimaryKey("scope", "entity", "uid")
    scope = models.CharField(max_length=60)
    entity = models.CharField(max_length=30)
    uid = models.UUIDField()
    version = models.BigIntegerField()
    gone = models.BooleanField(default=False)
    xid = XidField()
    seq = models.BigIntegerField()

    class Meta:
        db_table = "sync_feed"
        indexes = (models.Index(fields=["scope", "xid", "seq"], name="feed_order"),)


class FeedState(models.Model):
    """The one row about the feed: its epoch, and the transaction before which drops were purged."""

    id = models.SmallIntegerField(primary_key=True, default=1)
    epoch = models.UUIDField(default=uuid.uuid4)
    horizon = XidField()

    class Meta:
        db_table = "sync_feed_state"
        constraints = (models.CheckConstraint(condition=Q(id=1), name="feed_state_one_row"),)


class Photo(models.Model):
    """A photo, named by the hash of what was sent; the file is our own re-encoding of it."""

    sha256 = models.CharField(primary_key=True, max_length=64)
    file = models.CharField(max_length=120)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    bytes = models.PositiveIntegerField()
    device = models.UUIDField()
    recorded_at = models.DateTimeField()

    class Meta:
        db_table = "sync_photo"
