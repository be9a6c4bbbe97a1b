"""The receipt of a delivery: by mail, by the square on the screen that handed it over, on the
customer's own pages and on paper, in both languages; what is rejected stands apart by its tag."""

from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.custody.shown import shown
from pickups.customers.models import Contact
from pickups.notices.models import Notice
from pickups.sync import push
from tests.conftest import Enrol
from tests.pickups.desk.test_life import drawn
from tests.pickups.notices.conftest import mail  # noqa: F401
from tests.pickups.notices.visits import drain_all, pushed
from tests.pickups.portal.conftest import Opened, text
from tests.pickups.portal.test_receipt import words_of
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db

KEY = "5G2XBV0N7QW3ZK1M9RD6TY8HJC"
TAG = "REJECTED \N{EN DASH} do not mount or inflate"


def worked_on(world: World, phone: Phone, gateway: Gateway) -> list[str]:
    """Two casings of one pickup: one came finished out of the plant, one rejected."""
    pickup, labels = uuid4(), [world.a_label(), world.a_label()]
    told = {
        "pickup": str(pickup),
        "yard": str(world.yard.uid),
        "work": "retread",
        "size": "11R22.5",
    }
    for label in labels:
        more = {"label": label, "tread_design": "R-4 drive", "unit": "TR 12"}
        phone.enter("custody.pick_up", told | more, version=2)
    pushed(phone)
    for label in labels:
        gateway.tell(label, "received", station="receiving")
    gateway.tell(labels[0], "finished")
    rejected = {"reason": "BEAD_TEAR", "cause": "casing"}
    gateway.tell(labels[1], "rejected", station="initial-inspection", **rejected)
    return labels


def delivered(phone: Phone, world: World, labels: list[str], **more: Any) -> UUID:
    """A delivery of these, over and pushed."""
    delivery, yard = uuid4(), str(world.yard.uid)
    each = {"delivery": str(delivery), "yard": yard}
    made = [phone.enter("custody.deliver", each | {"label": label}, version=2) for label in labels]
    end = {"casings": [op["id"] for op in made], "signer": "R. Amsel", "signed_in": "es"}
    end |= {"receipt_key": KEY, "shown": shown([(label, "") for label in labels])}
    phone.enter("custody.finish_delivery", each | end | more, version=5)
    pushed(phone)
    return delivery


@pytest.fixture
def labels(world: World, phone: Phone, gateway: Gateway) -> list[str]:
    return worked_on(world, phone, gateway)


def test_the_square_opens_this_one_delivery_in_the_language_it_was_signed_in(
    client: Client, world: World, phone: Phone, labels: list[str]
) -> None:
    delivered(phone, world, labels)
    answer = client.post(f"/R/{KEY}")
    assert (answer.status_code, answer.headers["Location"]) == (302, "/receipt/")
    page = text(client.get("/receipt/"))
    assert "Devuelto: 2 carcasas, de Tarn Valley Haulage, en North yard." in page
    assert "Firmado por R. Amsel. La lista se leyó en español." in page
    assert f"Rechazadas; la etiqueta de cada una dice {TAG}:" in page
    client.post("/receipt/language", {"language": "en", "next": "/receipt/"})
    answer = client.get("/receipt/")
    page = text(answer)
    good, bad = page.split(f"Rejected; the tag on each says {TAG}:")
    assert f"1. {labels[0]} 11R22.5" in good
    assert "Retread, tread design R-4 drive." in good
    assert "Off your unit: TR 12." in good
    assert f"2. {labels[1]} 11R22.5" in bad
    assert f"{TAG}. Why: " in bad
    assert "tread design" not in bad
    assert "Corrected after signing" not in page
    assert b"<textarea" not in answer.content, "about a delivery they call"
    assert "If this is not what came back to you, call us." in page
    assert client.post("/receipt/otherwise", {"said": "no"}).status_code == 404
    paper = words_of(client.get("/receipt/receipt.pdf").content)
    assert "Handed back: 2 casings" in paper[0]
    assert "Devuelto: 2 carcasas" in paper[1]
    assert all(TAG in sheet for sheet in paper)


def test_the_mail_says_what_was_handed_back_once_and_in_the_contacts_language(
    world: World,
    phone: Phone,
    gateway: Gateway,
    labels: list[str],
    mail: MailServer,  # noqa: F811
) -> None:
    drain_all()
    mail.mails.clear()
    contact = Contact.objects.get(customer=world.customer)
    visit = delivered(phone, world, labels)
    drain_all()
    drain_all()
    (told,) = mail.mails
    assert told["Subject"] == "Receipt: 2 casings delivered at North yard"
    assert f"Dear {contact.name}," in text_of(told)
    assert f"Rejected; the tag on each says {TAG}:\n  2.  " in text_of(told)
    assert "Signed by R. Amsel." in text_of(told)
    assert Notice.objects.get(kind="delivery").cause == f"delivery:{visit}"
    Contact.objects.update(language="es")
    mail.mails.clear()
    again = worked_on(world, phone, gateway)
    drain_all()
    mail.mails.clear()
    delivered(phone, world, again[:1], store=str(world.store.uid), receipt_key="")
    drain_all()
    (told,) = mail.mails
    assert str(told["Subject"]) == "Recibo: 1 carcasa, entrega en mostrador de Bramblewick store"
    assert "entregamos en mostrador 1 carcasa de" in text_of(told)


def test_where_nobody_was_there_the_customers_page_shows_the_photo_and_where_they_stand(
    world: World, phone: Phone, labels: list[str], opened: Opened
) -> None:
    photo = drawn(phone)
    unsigned = {"signer": "", "signed_in": "", "nobody_there": True, "unsigned": "gate open"}
    left = {"note": "behind the fuel tank", "photos": [photo]}
    visit = delivered(phone, world, labels, **unsigned, **left, shown=None)
    ines = opened()
    address = f"/casings/receipts/{visit}"
    page = text(ines.get(address))
    assert "Nobody of yours was there" in page
    assert "The driver noted: behind the fuel tank" in page
    assert "1 photo was taken; it is on your page." in page
    assert ines.get(f"{address}/photos/1").headers["Content-Type"] == "image/jpeg"
    assert ines.get(f"{address}/photos/2").status_code == 404
    assert ines.get(f"{address}.pdf").content.startswith(b"%PDF")
    assert opened(world.other_customer).get(address).status_code == 404
    assert opened(world.other_customer).get(f"{address}/photos/1").status_code == 404
    assert ines.post(f"{address}/otherwise", {"said": "no"}).status_code == 404


def test_each_casings_page_leads_to_it(
    world: World, phone: Phone, labels: list[str], opened: Opened
) -> None:
    ines = opened()
    order = WorkOrder.objects.get(label=labels[0]).uid
    assert "Receipt of the delivery" not in text(ines.get(f"/casings/{order}"))
    visit = delivered(phone, world, labels)
    page = ines.get(f"/casings/{order}")
    assert f'href="/casings/receipts/{visit}"' in page.content.decode()
    assert "Receipt of the delivery" in text(page)


def test_while_its_list_is_in_doubt_nothing_leaves_and_then_it_does(
    client: Client,
    world: World,
    phone: Phone,
    enrol: Enrol,
    labels: list[str],
    mail: MailServer,  # noqa: F811
) -> None:
    drain_all()
    mail.mails.clear()
    late = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": labels[0]}
    first = phone.enter("custody.deliver", late, version=2)
    second = enrol(world.driver)
    other = second.enter("custody.deliver", late | {"label": labels[1]}, version=2)
    end = {
        "delivery": late["delivery"],
        "yard": late["yard"],
        "casings": [first["id"], other["id"]],
    }
    phone.enter("custody.finish_delivery", end | {"receipt_key": KEY}, version=5)
    phone.push()
    drain_all()
    assert mail.mails == []
    pushed(second)
    phone.push()
    push.retry_held()
    drain_all()
    (told,) = mail.mails
    assert "2 casings" in str(told["Subject"])
    assert client.post(f"/R/{KEY}").status_code == 302


def test_ends_of_older_apps_are_mailed_too(
    world: World,
    phone: Phone,
    labels: list[str],
    mail: MailServer,  # noqa: F811
) -> None:
    drain_all()
    mail.mails.clear()
    each = {"delivery": str(uuid4()), "yard": str(world.yard.uid)}
    op = phone.enter("custody.deliver", each | {"label": labels[0]})
    phone.enter("custody.finish_delivery", each | {"casings": [op["id"]]})
    pushed(phone)
    drain_all()
    (told,) = mail.mails
    assert "Receipt: 1 casing delivered" in str(told["Subject"])
