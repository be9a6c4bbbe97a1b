"""Names, places and days as people wrote and live them: in a mail they are only words."""

from datetime import UTC, datetime

import pytest
from pytest_django import Settings

from pickups.custody.models import Pickup
from pickups.customers import services as customers
from pickups.customers.models import Contact, Customer
from tests.pickups.notices.visits import drain_all, visit
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of

pytestmark = pytest.mark.django_db

INES = "ines@tarn.example"


@pytest.mark.parametrize(
    "name",
    [
        "$count ${name} $",
        "North\r\nBcc: abel@reed.example\r\n\r\nyard",
        "North\nSubject: another",
        "{{ customer }} %s \\",
        "Niño & Søn \N{EN DASH} 北",
        "x" * 80,
    ],
)
def test_names_cannot_break_headers_or_words(
    world: World, phone: Phone, mail: MailServer, name: str
) -> None:
    customers.rename_yard(uid=world.yard.uid, name=name, address="")
    Customer.objects.update(name=name)
    Contact.objects.filter(email=INES).update(name=name)
    visit(phone, world)
    drain_all()
    (receipt,) = mail.mails
    assert receipt.keys() == [
        "Content-Type",
        "MIME-Version",
        "Content-Transfer-Encoding",
        "Subject",
        "From",
        "To",
        "Date",
        "Message-ID",
        "Auto-Submitted",
    ]
    assert receipt["To"] == INES
    one_line = " ".join(name.split())
    # A subject that begins on its second line (RFC 5322, 2.2.3) is read with the fold's space.
    assert receipt["Subject"].strip() == f"Receipt: 2 casings picked up at {one_line}"
    assert name.replace("\r\n", "\n") in text_of(receipt)


def test_the_day_is_the_dealers_day(
    world: World, phone: Phone, mail: MailServer, settings: Settings
) -> None:
    settings.DEALER_TIME_ZONE = "America/Chicago"
    visit(phone, world)
    # Three in the morning in UTC is the evening before in Chicago (UTC-5 in summer).
    Pickup.objects.update(finished_at=datetime(2026, 5, 4, 3, 5, tzinfo=UTC))
    drain_all()
    assert "On Sun 3 May 2026, 22:05 we picked up" in text_of(mail.mails[0])
