"""Customers, yards, what they accept, contacts, and the links that are mailed to contacts."""

import uuid

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from simple_history.models import HistoricalRecords

PROMISE_PERCENT, LEAST_PERCENT, MOST_PERCENT = 90, 50, 99
"""How sure a promised day is: where nothing was agreed, and what may be. Our own figures."""


class Customer(models.Model):
    """A fleet whose casings we take. `number`: its account in the dealer's books, if it has one."""

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    number = models.CharField(max_length=20, blank=True)
    name = models.CharField(max_length=120)
    home_site = models.ForeignKey("people.Site", models.PROTECT, related_name="customers")
    promise_percent = models.PositiveSmallIntegerField(
        "days are promised with",
        default=PROMISE_PERCENT,
        validators=[MinValueValidator(LEAST_PERCENT), MaxValueValidator(MOST_PERCENT)],
        help_text="Percent, from 50 to 99: of a hundred casings, so many are to be back by the day"
        " that is promised. 90 where nothing else was agreed.",
    )
    version = models.BigIntegerField(default=1, editable=False)
    history = HistoricalRecords()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=["number"], name="customer_number_once", condition=~models.Q(number="")
            ),
            models.CheckConstraint(
                condition=models.Q(promise_percent__range=(LEAST_PERCENT, MOST_PERCENT)),
                name="customer_promise_percent",
            ),
        )

    def __str__(self) -> str:
        return self.name


class Yard(models.Model):
    """A place of a customer where casings are picked up and brought back."""

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    customer = models.ForeignKey(Customer, models.PROTECT, related_name="yards")
    name = models.CharField(max_length=80)
    address = models.CharField(max_length=200, blank=True)
    lat = models.DecimalField(
        "latitude",
        max_digits=9,
        decimal_places=6,
        null=True,
        blank=True,
        help_text="Of the gate, degrees north (WGS 84), as 41.123456; a phone finds the way by it.",
    )
    lon = models.DecimalField(
        "longitude",
        max_digits=9,
        decimal_places=6,
        null=True,
        blank=True,
        help_text="Degrees east, so west of Greenwich with a minus: -88.123456.",
    )
    version = models.BigIntegerField(default=1, editable=False)
    history = HistoricalRecords()

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=models.Q(lat=None, lon=None)
                | models.Q(
                    lat__isnull=False,
                    lat__range=(-90, 90),
                    lon__isnull=False,
                    lon__range=(-180, 180),
                ),
                name="yard_is_on_earth",
                violation_error_message="Give both latitude (-90 to 90) and longitude (-180 to "
                "180), or neither.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.customer.name}, {self.name}"


class Specification(models.Model):
    """What a customer accepts of a casing, at all of its yards or at one: `number` stands.

    `number` rises with each word about it, withdrawals too; `version` also where the customer
    moves to another store. What was accepted when is in its versions, of which none changes.
    """

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    customer = models.ForeignKey(Customer, models.PROTECT, related_name="specifications")
    yard = models.ForeignKey(
        Yard, models.PROTECT, null=True, related_name="specifications", db_index=False
    )
    number = models.PositiveIntegerField()
    version = models.BigIntegerField(default=1)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=["customer"],
                name="specification_of_customer_once",
                condition=models.Q(yard=None),
            ),
            models.UniqueConstraint(fields=["yard"], name="specification_of_yard_once"),
        )


class SpecificationVersion(models.Model):
    """One word about a specification: its terms (`rules.Terms` as JSON), or none from here on.

    by: who said it, none where the dealer's own program did. Never changed or deleted.
    """

    id = models.BigAutoField(primary_key=True)
    specification = models.ForeignKey(Specification, models.PROTECT, related_name="versions")
    number = models.PositiveIntegerField()
    terms = models.JSONField(null=True)
    by = models.UUIDField(null=True)
    at = models.DateTimeField()

    class Meta:
        db_table = "customers_specification_version"
        constraints = (
            models.UniqueConstraint(
                fields=["specification", "number"], name="specification_number_once"
            ),
        )


class Contact(models.Model):
    """A person at a customer: the erasable store of names and addresses. No history is kept."""

    class Language(models.TextChoices):
        ENGLISH = "en", "English"
        SPANISH = "es", "español"

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    customer = models.ForeignKey(Customer, models.CASCADE, related_name="contacts")
    yard = models.ForeignKey(
        Yard,
        models.SET_NULL,
        null=True,
        blank=True,
        related_name="contacts",
        help_text="Whom drivers call for this yard; empty: for every yard that has nobody.",
    )
    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(
        max_length=40,
        blank=True,
        help_text="Drivers at the customer's yards can call it.",
    )
    language = models.CharField(max_length=2, choices=Language, default=Language.ENGLISH)
    wants_receipts = models.BooleanField(default=True)
    wants_progress = models.BooleanField(default=True)
    may_sell = models.BooleanField(
        default=False,
        help_text="This person may accept the sale of a casing in the customer's name.",
    )

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        """Its yard is one of its customer's."""
        if self.yard is not None and self.yard.customer_id != self.customer_id:
            raise ValidationError({"yard": f"{self.yard} is another customer's yard."})


class Link(models.Model):
    """A mailed way to a contact's page: good for 30 days, as often as it is opened, revocable.

    Only the SHA-256 of the token is kept. `used_at` is when it was last opened; `made_by` who in
    the office made it to hand it over, empty where a mail carries it. Erased with the contact.
    """

    id = models.BigAutoField(primary_key=True)
    token_hash = models.BinaryField(max_length=32, editable=False)
    contact = models.ForeignKey(Contact, models.CASCADE, related_name="links")
    made_at = models.DateTimeField()
    made_by = models.UUIDField(null=True)
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True)
    used_at = models.DateTimeField(null=True)

    class Meta:
        constraints = (models.UniqueConstraint(fields=["token_hash"], name="link_token_once"),)
