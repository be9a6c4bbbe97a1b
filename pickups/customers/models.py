"""Customers, yards, what they accept, contacts, and the links that are mailed to contacts."""

import uuid

from django.db import models
from simple_history.models import HistoricalRecords


class Customer(models.Model):
    """A fleet whose casings we take. `number`: its account in the dealer's books, if it has one."""

    uid = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    number = models.CharField(max_length=20, blank=True)
    name = models.CharField(max_length=120)
    home_site = models.ForeignKey("people.Site", models.PROTECT, related_name="customers")
    version = models.BigIntegerField(default=1, editable=False)
    history = HistoricalRecords()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=["number"], name="customer_number_once", condition=~models.Q(number="")
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
    version = models.BigIntegerField(default=1, editable=False)
    history = HistoricalRecords()

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
    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    language = models.CharField(max_length=2, choices=Language, default=Language.ENGLISH)
    wants_receipts = models.BooleanField(default=True)
    wants_progress = models.BooleanField(default=True)
    may_sell = models.BooleanField(
        default=False,
        help_text="This person may accept the sale of a casing in the customer's name.",
    )

    def __str__(self) -> str:
        return self.name


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
