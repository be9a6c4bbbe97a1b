"""What was computed of a plant and when, what was learned of its stations, and what was predicted
of casings, kept until it can be held against what became of them.

Hours are worked hours, of the plant's own shifts. Nothing here is read by a screen outside the
plant: what promises need is published down.
"""

from django.db import models


class Forecast(models.Model):
    """A plant's last computing and its last forecast: one row a plant.

    mark: of what the plant had told and entered when the last computing that came to its end began;
    another one now means that it is due. begun_at: of the last one, whatever came of it. failed_at,
    why: the last computing came to nothing, and by what kind of fault; empty once one comes to
    something.
    missing: what has to be entered first, as (what, station) pairs; then nothing is forecast.
    at: when what stands was computed; None where nothing is. took_ms, replications: of that one.
    said: what the plant's page shows of it, in figures (services).
    """

    plant = models.OneToOneField(
        "people.Site", models.CASCADE, primary_key=True, related_name="forecast"
    )
    mark = models.CharField(max_length=64, blank=True)
    begun_at = models.DateTimeField(null=True)
    failed_at = models.DateTimeField(null=True)
    why = models.CharField(max_length=60, blank=True)
    missing = models.JSONField(default=list)
    at = models.DateTimeField(null=True)
    took_ms = models.PositiveIntegerField(default=0)
    replications = models.PositiveIntegerField(default=0)
    said = models.JSONField(default=dict)

    class Meta:
        db_table = "forecast_forecast"


class Learned(models.Model):
    """What was learned of one station on a day; the newest holds, the ones before are its history.

    figures: as learning.LearnedStation, plain. station: its code, which it keeps for ever.
    """

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="+")
    station = models.CharField(max_length=40)
    on = models.DateField()
    at = models.DateTimeField()
    figures = models.JSONField()

    class Meta:
        db_table = "forecast_learned"
        constraints = (
            models.UniqueConstraint(
                fields=["plant", "station", "on"], name="forecast_learned_once_a_day"
            ),
        )


class Prediction(models.Model):
    """When a casing was said to be finished, in worked hours after it was said, and when it was.

    work_order: whose casing it is; kind: `arrival` is the first that was said of it inside the
    plant, `inside` what was said on a later day. grid: the quantiles as simulated, at
    calibration.LEVELS; said: the shares making.SAID as corrected then. finished_at, actual_h: None
    until it is finished, and for ever where it was rejected, taken back or lost (`ended`). load:
    the cure load that it came out of: those of one load are late together.
    """

    class Kind(models.TextChoices):
        ARRIVAL = "arrival", "the first since it arrived"
        INSIDE = "inside", "on a later day"

    id = models.BigAutoField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="+")
    work_order = models.UUIDField()
    kind = models.CharField(max_length=8, choices=Kind)
    on = models.DateField()
    made_at = models.DateTimeField()
    grid = models.JSONField()
    said = models.JSONField()
    ended = models.BooleanField(default=False)
    finished_at = models.DateTimeField(null=True)
    actual_h = models.FloatField(null=True)
    load = models.CharField(max_length=40, blank=True)

    class Meta:
        db_table = "forecast_prediction"
        constraints = (
            models.UniqueConstraint(
                fields=["plant", "work_order", "on"], name="forecast_prediction_once_a_day"
            ),
        )
        indexes = (
            # What is still open stays small, however long what was scored grows.
            models.Index(
                fields=["plant", "work_order"],
                name="forecast_prediction_open",
                condition=models.Q(ended=False),
            ),
            models.Index(
                fields=["plant", "finished_at"],
                name="forecast_prediction_scored",
                condition=models.Q(finished_at__isnull=False),
            ),
        )


class Supposed(models.Model):
    """What somebody asked would be if, and what came of it; the plant itself is left as it is.

    asked: as supposing.Supposed, plain. step: how much is done of trying.STEPS. at: when what it
    compares was told; came: the comparison (trying), in figures and ids. why: the kind of fault.
    """

    class State(models.TextChoices):
        WAITS = "waits", "not begun"
        RUNS = "runs", "being computed"
        DONE = "done", "computed"
        STOPPED = "stopped", "stopped by who asked or another"
        LACKS = "lacks", "something has to be entered first"
        FAILED = "failed", "came to nothing"

    uid = models.UUIDField(primary_key=True, editable=False)
    plant = models.ForeignKey("people.Site", models.CASCADE, related_name="+")
    by = models.ForeignKey("people.User", models.PROTECT, related_name="+")
    asked_at = models.DateTimeField()
    asked = models.JSONField()
    state = models.CharField(max_length=8, choices=State, default=State.WAITS)
    step = models.PositiveSmallIntegerField(default=0)
    at = models.DateTimeField(null=True)
    came = models.JSONField(default=dict)
    why = models.CharField(max_length=60, blank=True)

    class Meta:
        db_table = "forecast_supposed"
        indexes = (models.Index(fields=["plant", "-asked_at"], name="forecast_supposed_latest"),)
