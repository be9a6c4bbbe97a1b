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
        STOP_USE = "stop_use", "stop use: casings to be taken out of service at once"
        NEW_DAY = "new_day", "new day: a promised day that has changed"

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


class DayTold(models.Model):
    """A promised day that a notice tells its contact; told once the notice is sent. A promise is
    told to a contact once."""

    id = models.BigAutoField(primary_key=True)
    notice = models.ForeignKey(Notice, models.CASCADE, related_name="days")
    contact = models.UUIDField()
    work_order = models.UUIDField()
    promise = models.UUIDField()
    on = models.DateField()

    class Meta:
        db_table = "notices_day_told"
        constraints = (
            models.UniqueConstraint(fields=["contact", "promise"], name="day_told_once"),
        )
        indexes = (models.Index(fields=["work_order"], name="day_told_work_order"),)


class StopUse(models.Model):
    """Casings that their owners are to take out of service, and why; never changed or deleted.

    why: by language, in the words of whoever wrote it; a language that is missing is told in the
    other. traced: what was looked for when they were found (a lot, a load and so on).
    """

    uid = models.UUIDField(primary_key=True)
    plant = models.ForeignKey("people.Site", models.PROTECT, related_name="+")
    why = models.JSONField()
    traced = models.JSONField()
    by = models.UUIDField()
    told_at = models.DateTimeField()

    class Meta:
        db_table = "notices_stop_use"


class StopUseCasing(models.Model):
    """One of its casings with its owner as both stood when it was written."""

    id = models.BigAutoField(primary_key=True)
    stop = models.ForeignKey(StopUse, models.PROTECT, related_name="casings", db_index=False)
    customer = models.UUIDField()
    work_order = models.UUIDField()
    label = models.CharField(max_length=8)
    size = models.CharField(max_length=40, blank=True)
    tin = models.CharField(max_length=40, blank=True)
    retread_tin = models.CharField(max_length=40, blank=True)

    class Meta:
        db_table = "notices_stop_use_casing"
        constraints = (
            models.UniqueConstraint(fields=["stop", "work_order"], name="stop_use_casing_once"),
        )
        indexes = (
            models.Index(fields=["customer"], name="stop_use_customer"),
            models.Index(fields=["work_order"], name="stop_use_work_order"),
        )


class StopUseStep(models.Model):
    """What was done about one afterwards; never changed or deleted. customer: none where it is
    about all of them. contact: who confirmed. by: who of the dealer's did it. form: what was
    pressed, where a second tap on it must do nothing."""

    class Kind(models.TextChoices):
        AGAIN = "again", "sent again to who has not confirmed"
        CONFIRMED = "confirmed", "confirmed on the customer's own page"
        HEARD = "heard", "told to the office, by phone or in person"
        WITHDRAWN = "withdrawn", "it was a mistake"

    id = models.BigAutoField(primary_key=True)
    stop = models.ForeignKey(StopUse, models.PROTECT, related_name="steps")
    kind = models.CharField(max_length=9, choices=Kind)
    customer = models.UUIDField(null=True)
    contact = models.UUIDField(null=True)
    by = models.UUIDField(null=True)
    form = models.UUIDField(null=True)
    said = models.JSONField(default=dict)
    at = models.DateTimeField()

    class Meta:
        db_table = "notices_stop_use_step"
        constraints = (
            models.UniqueConstraint(
                fields=["stop", "contact"],
                condition=models.Q(kind="confirmed"),
                name="stop_use_confirmed_once",
            ),
            models.UniqueConstraint(
                fields=["stop"],
                condition=models.Q(kind="withdrawn"),
                name="stop_use_withdrawn_once",
            ),
            models.UniqueConstraint(fields=["stop", "form"], name="stop_use_form_once"),
        )
