"""On what basis a day was promised is said wherever it is shown: in the receipt's mail and on the
casing's page, with how sure it is and why."""

from datetime import date, timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from tests.pickups.desk.conftest import SignedIn, office, signed_in  # noqa: F401
from tests.pickups.notices.conftest import mail  # noqa: F401
from tests.pickups.portal.conftest import text
from tests.pickups.promises.foretold import foretell
from tests.pickups.promises.promising import drained, sent, taken, today
from tests.pickups.promises.trucks import publish
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of

pytestmark = pytest.mark.django_db(transaction=True)

DAY = timedelta(days=1)


def by_forecast(on: date, percent: int = 90) -> dict[str, Any]:
    """As a phone tells the day of its table's forecast."""
    return {
        "on": str(on),
        "basis": "forecast",
        "offered": str(on),
        "table": 3,
        "confidence": percent,
        "forecast_at": clock.rfc3339(clock.now()),
        "ahead": [{"name": "Shearography", "name_es": "Shearografía", "count": 14}],
    }


def over(phone: Phone, op: dict[str, Any]) -> None:
    """The end of its visit, and all that is owed for it."""
    told = {name: op["payload"][name] for name in ("pickup", "yard")}
    phone.enter("custody.finish_pickup", {**told, "casings": [op["id"]], "signer": "R."}, version=2)
    sent(phone)
    drained()


@pytest.mark.parametrize(
    ("language", "percent", "said"),
    [
        ("en", 90, "Promised for {on}, by the plant's forecast: 9 of 10 are back by then."),
        ("en", 95, "Promised for {on}, by the plant's forecast: 95 of 100 are back by then."),
        ("es", 90, "Prometida para el {on}, por pronóstico de la planta: 9 de 10 regresan para"),
    ],
)
def test_the_receipt_says_how_sure_a_forecasts_day_is(
    world: World,
    phone: Phone,
    mail: MailServer,  # noqa: F811
    language: str,
    percent: int,
    said: str,
) -> None:
    Contact.objects.filter(customer=world.customer).update(language=language)
    on = today() + 12 * DAY
    op = taken(phone, world, by_forecast(on, percent), version=4, work="retread")
    over(phone, op)
    (receipt,) = mail.mails
    assert said.format(on=day_in_words(language, on)) in " ".join(text_of(receipt).split())


def test_a_casings_page_says_how_sure_it_is_why_and_what_our_own_day_was(
    world: World,
    phone: Phone,
    office: Client,  # noqa: F811
    signed_in: SignedIn,  # noqa: F811
) -> None:
    publish(world, to_plant=range(7), to_yard=range(7), weekdays=range(7))
    foretell(world, working=9)
    on, ours = today() + 8 * DAY, today() + 13 * DAY
    op = taken(phone, world, by_forecast(on), version=4, pickup=str(uuid4()))
    sent(phone)
    address = f"/office/labels/{op['payload']['label']}"
    page = text(office.get(address))
    assert f"{day_in_words('en', on)}, by forecast: 9 of 10 are back by then" in page
    assert "14 ahead at Shearography" in page
    assert f"Our own day when it came in {day_in_words('en', ours)}, by forecast" in page
    page = text(signed_in("sales", "es").get(address))
    assert "por pronóstico: 9 de 10 regresan para entonces" in page
    assert "14 antes en Shearografía" in page
