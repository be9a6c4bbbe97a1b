"""What plants and runs have published, the table computed from it, and promises made."""

from django.db import models


class StandardTime(models.Model):
    """How many of its working days a plant needs for a work, from the day it receives the casing
    to the day it is finished: what the plant published last."""

    plant = models.UUIDField()
    work = models.CharField(max_length=12)
    working_days = models.PositiveSmallIntegerField()
    published_at = models.DateTimeField()

    class Meta:
        db_table = "promises_standard_time"
        constraints = (
            models.UniqueConstraint(fields=["plant", "work"], name="standard_time_once"),
        )


class PlantCalendar(models.Model):
    """The days on which a plant works: weekdays (0 is Monday) but for the holidays (dates)."""

    plant = models.UUIDField(primary_key=True)
    weekdays = models.JSONField()
    holidays = models.JSONField(default=list)
    published_at = models.DateTimeField()

    class Meta:
        db_table = "promises_plant_calendar"


class Timetable(models.Model):
    """The weekdays (0 is Monday) on which a store's trucks go a way regularly.

    place: the plant for `to_plant` and `from_plant`, the yard for `to_yard`.
    """

    class Way(models.TextChoices):
        TO_PLANT = "to_plant", "from the store to the plant"
        FROM_PLANT = "from_plant", "from the plant to the store"
        TO_YARD = "to_yard", "from the store to a yard"

    site = models.UUIDField()
    place = models.UUIDField()
    way = models.CharField(max_length=12, choices=Way)
    weekdays = models.JSONField()
    published_at = models.DateTimeField()

    class Meta:
        db_table = "promises_timetable"
        constraints = (
            models.UniqueConstraint(fields=["site", "place", "way"], name="timetable_once"),
        )


class Forecast(models.Model):
    """The last forecast that a plant published: see `finishing`. It counts until `valid_until`.

    origin: the instant that its minutes count from. ahead: where casings wait most, the longest
    queue first, as `{station, name, name_es, count}`.
    """

    plant = models.UUIDField(primary_key=True)
    origin = models.DateTimeField()
    valid_until = models.DateTimeField()
    ahead = models.JSONField()
    published_at = models.DateTimeField()

    class Meta:
        db_table = "promises_forecast"


class Finish(models.Model):
    """When a casing that the forecast knows of is finished, in each course: packed minutes."""

    work_order = models.UUIDField(primary_key=True)
    plant = models.UUIDField()
    minutes = models.BinaryField()

    class Meta:
        db_table = "promises_finish"
        indexes = (models.Index(fields=["plant"], name="promises_finish_plant"),)


class Arrival(models.Model):
    """When the last of so many casings that a plant receives together on a day is finished.

    size_class: light, standard or wide, empty for any. minutes: packed, one for each course.
    """

    plant = models.UUIDField()
    work = models.CharField(max_length=12)
    size_class = models.CharField(max_length=8, blank=True)
    on = models.DateField()
    group = models.PositiveSmallIntegerField()
    minutes = models.BinaryField()

    class Meta:
        db_table = "promises_arrival"
        constraints = (
            models.UniqueConstraint(
                fields=["plant", "work", "size_class", "on", "group"], name="arrival_once"
            ),
        )


class Table(models.Model):
    """What a store's devices may promise: see `rules.table`. Replaced when anything under it is
    published anew, and every day; `version` rises with each.

    places: by standard times. forecast: by the plants' forecasts, see `offering.Table`; none where
    there is none. stock: finished casings of the dealer's own, as `{size, tread_design, count}`.
    """

    site = models.UUIDField(primary_key=True)
    computed_on = models.DateField()
    valid_until = models.DateField()
    places = models.JSONField()
    forecast = models.JSONField(null=True)
    stock = models.JSONField(default=list)
    version = models.BigIntegerField(default=1)

    class Meta:
        db_table = "promises_table"


class Promise(models.Model):
    """A day that was promised for a work order. Never changed; the last by (stamp, uid) counts.

    uid: the fact that told it. basis: `forecast` or `standard_time` where a table offered the
    day, `by_hand` where a person named it. offered, table: what the device's table said. Of a
    forecast's day: confidence in percent, when the forecast was made, where casings waited most
    then (`{name, name_es, count}`). expected: what ours said for that hand-over day when the
    promise came here, on which basis; none where it said nothing. revises: the promise in whose
    place it was told, by whom (nobody where our own watching did); else a fact told it.
    """

    class Basis(models.TextChoices):
        FORECAST = "forecast", "by forecast"
        STANDARD_TIME = "standard_time", "by standard time"
        BY_HAND = "by_hand", "agreed by hand"

    uid = models.UUIDField(primary_key=True)
    work_order = models.UUIDField()
    stamp = models.BigIntegerField()
    on = models.DateField()
    basis = models.CharField(max_length=16)
    back_to = models.CharField(max_length=8)
    offered = models.DateField(null=True)
    table = models.BigIntegerField(null=True)
    confidence = models.PositiveSmallIntegerField(null=True)
    forecast_at = models.DateTimeField(null=True)
    ahead = models.JSONField(default=list)
    expected = models.DateField(null=True)
    expected_by = models.CharField(max_length=16, blank=True, db_default="")
    revises = models.UUIDField(null=True)
    by = models.UUIDField(null=True)
    told_at = models.DateTimeField()
    recorded_at = models.DateTimeField()

    class Meta:
        db_table = "promises_promise"
        indexes = (models.Index(fields=["work_order"], name="promise_work_order"),)

    @property
    def too_early(self) -> bool:
        """Whether the day lies before what our forecast or the standard times said of it."""
        return self.expected is not None and self.on < self.expected


class Risk(models.Model):
    """How a promise stands that is not kept yet, by the last forecast that knew of its casing.

    on: the promised day. probability: of being back by then, none where nobody computes. expected:
    the day by which it is back with `percent` percent, none where no truck is known. since: from
    when on it was at risk without a break, none where it is not.
    """

    work_order = models.UUIDField(primary_key=True)
    plant = models.UUIDField()
    on = models.DateField()
    probability = models.FloatField(null=True)
    expected = models.DateField(null=True)
    percent = models.PositiveSmallIntegerField()
    forecast_at = models.DateTimeField(null=True)
    since = models.DateTimeField(null=True)
    at = models.DateTimeField()

    class Meta:
        db_table = "promises_risk"
        indexes = (models.Index(fields=["plant"], name="promises_risk_plant"),)
