"""Station events as they were told, and where each casing stands inside the plant."""

from django.contrib.postgres.indexes import GinIndex
from django.db import models
from django.db.models import Func, Value
from django.db.models.fields.json import KeyTextTransform, KeyTransform
from django.db.models.functions import Upper


class StationEvent(models.Model):
    """One event, never changed. `fact` is the custody fact that it becomes.

    key: the prefix of the plant key by which it came; empty where a person told it (`by`) on a
    tablet (`device`). stamp: whole ms, by which events are ordered. about: the event that it
    releases or withdraws. label: as told, but of an event about another the other's, once that is
    here. operator: the plant's own code for the person. machine, load, envelope, tag: as told,
    empty where nothing was; they stand apart from `body` for tracing.
    """

    fact = models.UUIDField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    event = models.UUIDField()
    hash = models.BinaryField(max_length=32)
    key = models.CharField(max_length=12, blank=True)
    by = models.UUIDField(null=True)
    device = models.UUIDField(null=True)
    label = models.CharField(max_length=8)
    station = models.CharField(max_length=40)
    outcome = models.CharField(max_length=10)
    operator = models.CharField(max_length=20, blank=True, db_default="")
    machine = models.CharField(max_length=40, blank=True, db_default="")
    load = models.CharField(max_length=40, blank=True, db_default="")
    envelope = models.CharField(max_length=40, blank=True, db_default="")
    tag = models.CharField(max_length=8, blank=True, db_default="")
    about = models.UUIDField(null=True)
    stamp = models.BigIntegerField()
    happened_at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    body = models.JSONField()

    class Meta:
        db_table = "inspection_station_event"
        constraints = (
            models.UniqueConstraint(fields=["plant", "event"], name="station_event_once"),
        )
        indexes = (
            models.Index(fields=["label"], name="station_event_label"),
            models.Index(fields=["tag"], name="station_event_tag", condition=~models.Q(tag="")),
            # By what a trace asks; what was not told takes no room.
            models.Index(
                fields=["plant", "load"], name="station_event_load", condition=~models.Q(load="")
            ),
            models.Index(
                fields=["plant", "machine", "happened_at"],
                name="station_event_machine",
                condition=~models.Q(machine=""),
            ),
            models.Index(
                fields=["plant", "operator", "happened_at"],
                name="station_event_operator",
                condition=~models.Q(operator=""),
            ),
            models.Index(
                fields=["plant", "by", "happened_at"],
                name="station_event_by",
                condition=~models.Q(by=None),
            ),
            models.Index(fields=["plant", "happened_at"], name="station_event_when"),
            GinIndex(
                KeyTransform("lots", "body"),
                name="station_event_lots",
                condition=models.Q(body__has_key="lots"),
            ),
            models.Index(
                fields=["about"], name="station_event_about", condition=~models.Q(about=None)
            ),
        )


_MARKS = Func(
    Upper(KeyTextTransform("retread_tin", KeyTransform("built", "told"))),
    Value("[^A-Z0-9]"), Value(""), Value("g"), function="regexp_replace",
    output_field=models.TextField(),
)  # fmt: skip
RETREAD_TIN = Func(
    _MARKS, Value("^R+"), Value(""), function="regexp_replace", output_field=models.TextField()
)
"""A retread TIN as it is looked for: capitals and digits alone, without the R branded before it."""


class Work(models.Model):
    """One casing inside a plant, folded from the station events under its labels (fold.py).

    uid: derived from plant and the first of its labels, the id of its row in the feed. label: the
    one that it wears now. station: where it was seen last; next: where the route sends it, empty
    where it is done. told: the rest of what the fold says. doubts: what of it cannot be true, as a
    person was asked. entered_at: its first event.
    """

    class Stage(models.TextChoices):
        IN_WORK = "in_work", "on its way through the stations"
        REPAIR = "repair", "marked for repair, or sent back to be worked again"
        ON_HOLD = "on_hold", "somebody has to decide before it goes on"
        REJECTED = "rejected", "goes home with its reason"
        FINISHED = "finished", "done, still at the plant"
        SHIPPED = "shipped", "has left the plant"

    uid = models.UUIDField(primary_key=True, editable=False)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    label = models.CharField(max_length=8)
    stage = models.CharField(max_length=8, choices=Stage)
    station = models.CharField(max_length=40)
    next = models.CharField(max_length=40, blank=True)
    load = models.CharField(max_length=40, blank=True)
    envelope = models.CharField(max_length=40, blank=True)
    reworks = models.PositiveSmallIntegerField(default=0)
    entered_at = models.DateTimeField()
    seen_at = models.DateTimeField()
    told = models.JSONField()
    doubts = models.JSONField(default=dict)
    version = models.BigIntegerField(default=1)

    class Meta:
        db_table = "inspection_work"
        constraints = (
            # Looked at when all is written: labels change places when one is taken back.
            models.UniqueConstraint(
                fields=["plant", "label"],
                name="inspection_work_label_once",
                deferrable=models.Deferrable.DEFERRED,
            ),
        )
        indexes = (
            # What is inside a plant stays small, however long its history grows.
            models.Index(
                fields=["plant", "stage", "station"],
                name="inspection_work_inside",
                condition=~models.Q(stage="shipped"),
            ),
            models.Index(
                models.F("plant"),
                RETREAD_TIN,
                name="inspection_work_retread_tin",
                condition=models.Q(told__built__has_key="retread_tin"),
            ),
        )


class Rush(models.Model):
    """Somebody asked that a casing go first at every station; never changed.

    label: the one that it wore then. What was said of it since stands in RushWord.
    """

    uid = models.UUIDField(primary_key=True, editable=False)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    work_order = models.UUIDField()
    label = models.CharField(max_length=8)
    by = models.ForeignKey("people.User", models.PROTECT, related_name="+")
    at = models.DateTimeField()
    grounds = models.CharField(max_length=300)

    class Meta:
        db_table = "inspection_rush"
        indexes = (
            models.Index(fields=["plant", "-at"], name="inspection_rush_latest"),
            models.Index(fields=["work_order"], name="inspection_rush_order"),
        )


class RushWord(models.Model):
    """What was decided of a rush, by another person than who asked; rows are only added. moved: of
    an approval, whose promises it moves, as they were computed and shown then."""

    class Kind(models.TextChoices):
        APPROVED = "approved", "it goes first"
        DECLINED = "declined", "it waits its turn"
        ENDED = "ended", "it goes first no longer"

    id = models.BigAutoField(primary_key=True)
    rush = models.ForeignKey(Rush, models.PROTECT, related_name="words")
    kind = models.CharField(max_length=8, choices=Kind)
    by = models.ForeignKey("people.User", models.PROTECT, related_name="+")
    at = models.DateTimeField()
    grounds = models.CharField(max_length=300, blank=True)
    moved = models.JSONField(default=list)

    class Meta:
        db_table = "inspection_rush_word"
        constraints = (models.UniqueConstraint(fields=["rush", "kind"], name="rush_word_once"),)
