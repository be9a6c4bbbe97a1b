"""Users, sites, devices, enrolment codes and plant keys. Secrets are kept only as SHA-256."""

import uuid
from datetime import datetime

from django.conf import settings
from django.contrib.auth.models import AbstractUser
from django.db import models
from simple_history.models import HistoricalRecords

from pickups.kernel import clock
from pickups.people import rules
from pickups.people.rules import closing_ends


class Site(models.Model):
    """A store or a plant of the dealer."""

    class Kind(models.TextChoices):
        STORE = "store", "store: counter, rack, where routes start"
        PLANT = "plant", "plant: where casings are retreaded"

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=8, choices=Kind)
    phone = models.CharField(max_length=40, blank=True)
    version = models.BigIntegerField(default=1, editable=False)
    history = HistoricalRecords()

    class Meta:
        constraints = (models.UniqueConstraint(fields=["name"], name="site_name_once"),)

    def __str__(self) -> str:
        return self.name


class User(AbstractUser):
    """A person who works for the dealer; facts name the uid, never the name."""

    class Role(models.TextChoices):
        DRIVER = "driver", "driver: picks up and delivers"
        COUNTER = "counter", "counter: drop-offs and hand-overs at a store"
        DISPATCHER = "dispatcher", "dispatcher: what goes on which truck"
        PLANT = "plant", "plant operator"
        SALES = "sales", "sales manager"
        ADMIN = "admin", "administrator"

    uid = models.UUIDField(unique=True, default=uuid.uuid4, editable=False)
    role = models.CharField(max_length=12, choices=Role, default=Role.DRIVER)
    site = models.ForeignKey(Site, models.PROTECT, null=True, blank=True, related_name="people")
    version = models.BigIntegerField(default=1, editable=False)

    def __str__(self) -> str:
        return self.get_full_name() or self.username


class Device(models.Model):
    """A phone or tablet that may send operations. Its row is the first lock of every push."""

    class Status(models.TextChoices):
        ACTIVE = "active", "sends and fetches"
        CLOSING = "closing", "sends what it still holds, fetches nothing"
        REVOKED = "revoked", "neither sends nor fetches"

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    name = models.CharField(max_length=60)
    site = models.ForeignKey(Site, models.PROTECT, related_name="devices")
    status = models.CharField(max_length=8, choices=Status, default=Status.ACTIVE)
    push_hash = models.BinaryField(max_length=32, null=True, editable=False)
    read_hash = models.BinaryField(max_length=32, null=True, editable=False)
    enrolled_at = models.DateTimeField()
    closed_at = models.DateTimeField(null=True, editable=False)
    emptied_at = models.DateTimeField(null=True, editable=False)
    seen_at = models.DateTimeField(null=True, editable=False)
    skew_ms = models.BigIntegerField(null=True, editable=False)
    history = HistoricalRecords(
        excluded_fields=[
            "push_hash",
            "read_hash",
            "closed_at",
            "emptied_at",
            "seen_at",
            "skew_ms",
        ]
    )

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=["push_hash"], name="device_push_hash_once"),
            models.UniqueConstraint(fields=["read_hash"], name="device_read_hash_once"),
        )

    def __str__(self) -> str:
        return self.name

    @property
    def is_closing(self) -> bool:
        """Sends what it still holds and fetches nothing."""
        return self.status == Device.Status.CLOSING

    @property
    def is_revoked(self) -> bool:
        """Neither sends nor fetches; so does a closing device whose days are over."""
        closing = self.status == Device.Status.CLOSING
        over = self.closing_until is not None and self.closing_until <= clock.now()
        return self.status == Device.Status.REVOKED or (closing and over)

    @property
    def closing_until(self) -> datetime | None:
        """Until when a closing device may send; None where it was never closed."""
        return self.closed_at and closing_ends(self.closed_at, settings.DEVICE_CLOSING_DAYS)


class EnrolmentCode(models.Model):
    """A code that the office shows once; it enrols one device within 15 minutes."""

    code_hash = models.BinaryField(max_length=32, primary_key=True)
    site = models.ForeignKey(Site, models.CASCADE, related_name="+")
    made_by = models.ForeignKey(User, models.CASCADE, related_name="+")
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)


class PlantKey(models.Model):
    """A key by which a plant's system posts and reads. Prefix shown, secret kept as hash.

    scopes: what it opens (rules.KeyScope). follows: the key in whose place it was made; both are
    good until the old one is revoked.
    """

    prefix = models.CharField(max_length=12, primary_key=True)
    secret_hash = models.BinaryField(max_length=32, editable=False)
    plant = models.ForeignKey(Site, models.PROTECT, related_name="plant_keys")
    name = models.CharField(max_length=60)
    scopes = models.JSONField(default=rules.every_scope)
    follows = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="successors"
    )
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    history = HistoricalRecords(excluded_fields=["secret_hash"])

    def __str__(self) -> str:
        return f"{self.name} ({self.prefix})"


class Words(models.Model):
    """What somebody typed beside a fact or a step that is never changed: the erasable store of it.

    uid: the fact's own id, or one that the step names. No history is kept.
    """

    uid = models.UUIDField(primary_key=True)
    kind = models.CharField(max_length=8, choices=[(k.value, k.value) for k in rules.Words])
    text = models.CharField(max_length=500)
    said_at = models.DateTimeField()

    class Meta:
        db_table = "people_words"
        verbose_name_plural = "words"
        indexes = (models.Index(fields=["kind", "said_at"], name="words_kind_said_at"),)

    def __str__(self) -> str:
        return str(self.uid)
