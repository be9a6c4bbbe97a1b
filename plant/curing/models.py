"""Cure specifications, what was told of loads, their records, and what was decided about them.

Every table but CureLoad is only added to, by the database's own rule; CureLoad is what the words,
the record and the station events come to.
"""

from django.contrib.postgres.indexes import GinIndex
from django.db import models
from django.db.models.fields.json import KeyTransform


class CureSpecification(models.Model):
    """What a plant entered for a chamber, or ("") for all of them; the newest number holds.

    terms: as record.Terms, None where it was withdrawn. law: as equivalent.Law, None where no
    activation energy was entered. source: whose chart or sheet it is from.
    """

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    chamber = models.CharField(max_length=40, blank=True)
    number = models.PositiveIntegerField()
    terms = models.JSONField(null=True)
    law = models.JSONField(null=True)
    source = models.CharField(max_length=200)
    entered_by = models.UUIDField()
    entered_at = models.DateTimeField()

    class Meta:
        db_table = "curing_specification"
        constraints = (
            models.UniqueConstraint(
                fields=["plant", "chamber", "number"], name="cure_specification_number_once"
            ),
        )


class LoadWord(models.Model):
    """One word about a load as it was told. load: the id that its teller gave the load."""

    uid = models.UUIDField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    load = models.UUIDField()
    number = models.CharField(max_length=40)
    told = models.JSONField()
    hash = models.BinaryField(max_length=32)
    stamp = models.BigIntegerField()
    by = models.UUIDField(null=True)
    device = models.UUIDField(null=True)
    key = models.CharField(max_length=12, blank=True)
    recorded_at = models.DateTimeField()

    class Meta:
        db_table = "curing_load_word"
        indexes = (
            models.Index(fields=["plant", "number"], name="load_word_number"),
            models.Index(fields=["plant", "load"], name="load_word_load"),
            GinIndex(KeyTransform("lots", "told"), name="load_word_lots"),
        )


class CureLoad(models.Model):
    """One load as it stands, by the plant's own number.

    set_in: [{label, envelope, at}], set_out: labels seen after the chamber, missing: labels that
    went in and were not seen since, over: labels that came out and were never seen to go in. held:
    labels that this load holds. record: as judged, see keeping. short_by: the first record that was
    judged short, whatever was said later. since: its start, or the first that was seen of it.
    shown: devices are told of it.
    """

    class State(models.TextChoices):
        SETTING = "setting", "being set in"
        IN = "in", "in the chamber"
        OUT = "out", "out of the chamber"
        HELD = "held", "fell short; its casings wait for a decision"
        RELEASED = "released", "fell short; decided for every casing"

    uid = models.UUIDField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    number = models.CharField(max_length=40)
    chamber = models.CharField(max_length=40, blank=True)
    state = models.CharField(max_length=8, choices=State)
    started_at = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)
    operator = models.CharField(max_length=20, blank=True)
    note = models.CharField(max_length=500, blank=True)
    lots = models.JSONField()
    set_in = models.JSONField()
    set_out = models.JSONField()
    missing = models.JSONField()
    over = models.JSONField(default=list)
    held = models.JSONField()
    verdict = models.CharField(max_length=10)
    record = models.JSONField()
    short_by = models.BigIntegerField(null=True)
    since = models.DateTimeField()
    out_at = models.DateTimeField(null=True)
    shown = models.BooleanField(default=True)
    version = models.BigIntegerField(default=1)

    class Meta:
        db_table = "curing_load"
        constraints = (
            models.UniqueConstraint(fields=["plant", "number"], name="cure_load_number_once"),
        )
        indexes = (
            models.Index(fields=["plant", "since"], name="cure_load_since"),
            GinIndex(fields=["lots"], name="cure_load_lots", opclasses=["jsonb_path_ops"]),
        )


class CureRecord(models.Model):
    """A record as it was uploaded or posted; of several the one that came last is read.

    form: of the bytes, a table or a posted series. start: the load's as it was then, for minutes.
    """

    class Form(models.TextChoices):
        TABLE = "table", "a table (CSV)"
        SERIES = "series", "a posted series (JSON)"

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    number = models.CharField(max_length=40)
    form = models.CharField(max_length=6, choices=Form)
    raw = models.BinaryField()
    sha256 = models.BinaryField(max_length=32)
    start = models.DateTimeField(null=True)
    by = models.UUIDField(null=True)
    key = models.CharField(max_length=12, blank=True)
    recorded_at = models.DateTimeField()

    class Meta:
        db_table = "curing_record"
        constraints = (
            models.UniqueConstraint(
                fields=["plant", "number", "sha256"], name="cure_record_bytes_once"
            ),
        )
        indexes = (models.Index(fields=["plant", "number"], name="cure_record_number"),)


class Hold(models.Model):
    """A casing that a load holds; `event` is the station event that says so."""

    event = models.UUIDField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    number = models.CharField(max_length=40)
    label = models.CharField(max_length=8)
    held_at = models.DateTimeField()

    class Meta:
        db_table = "curing_hold"
        constraints = (
            models.UniqueConstraint(fields=["plant", "number", "label"], name="cure_hold_once"),
        )


class Decision(models.Model):
    """What a qualified person decided about one held casing, once, and on what grounds."""

    class What(models.TextChoices):
        RELEASE = "release", "goes on as it is"
        REJECT = "reject", "rejected, by the plant's doing"
        RECURE = "recure", "is cured again"

    hold = models.OneToOneField(Hold, models.PROTECT, primary_key=True, related_name="decision")
    what = models.CharField(max_length=8, choices=What)
    grounds = models.CharField(max_length=500)
    by = models.UUIDField()
    decided_at = models.DateTimeField()

    class Meta:
        db_table = "curing_decision"


class Qualified(models.Model):
    """A person whom the plant named as qualified to decide; until when, once it was ended."""

    class Matter(models.TextChoices):
        CURE = "cure", "loads that fell short"
        CLAIM = "claim", "failed retreads and what is owed for them"

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    person = models.UUIDField()
    matter = models.CharField(max_length=8, choices=Matter)
    grounds = models.CharField(max_length=300)
    since = models.DateTimeField()
    named_by = models.UUIDField()
    until = models.DateTimeField(null=True)
    ended_by = models.UUIDField(null=True)

    class Meta:
        db_table = "curing_qualified"
        constraints = (
            models.UniqueConstraint(
                fields=["plant", "person", "matter"],
                condition=models.Q(until=None),
                name="cure_qualified_once",
            ),
        )
