"""A receipt of what was wanted, promised and signed, in a yard or over a counter: by real SMTP."""

from typing import Any
from uuid import uuid4

import pytest

from pickups.custody.shown import shown
from pickups.customers.models import Contact
from pickups.people.models import Site
from tests.pickups.notices.visits import drain_all, promised, pushed, wanted
from tests.pickups.notices.visits import shown as grouped
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of

pytestmark = pytest.mark.django_db

DESIGN = {"tread_design": "open shoulder drive", "purchase_order": "PO 4471", "unit": "T-118"}


def over(phone: Phone, ops: list[dict[str, Any]], **more: Any) -> None:
    """The end of a visit, told by the second version, pushed."""
    first = ops[0]["payload"]
    payload = {"pickup": first["pickup"], "yard": first["yard"], "casings": [o["id"] for o in ops]}
    phone.enter("custody.finish_pickup", payload | more, version=2)
    pushed(phone)


def test_every_line_says_what_is_wanted_and_promised_and_the_receipt_who_signed(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    ops = [
        wanted(phone, world, pickup=pickup, size="11R22.5", **DESIGN, **promised("2026-04-28")),
        wanted(phone, world, pickup=pickup, minute=1, work="repair", basis="pool",
               **promised("2026-05-05", "by_hand")),
    ]  # fmt: skip
    over(phone, ops, signer="R. Amsel", customer_count=2)
    drain_all()
    (receipt,) = mail.mails
    assert receipt["Subject"] == "Receipt: 2 casings picked up at North yard"
    first, second = (grouped(op["payload"]["label"]) for op in ops)
    assert (
        f"  1.  {first}   11R22.5\n"
        "      Work wanted: retread, tread design open shoulder drive.\n"
        "      Your purchase order: PO 4471.\n"
        "      Off your unit: T-118.\n"
        "      Promised for Tue 28 Apr 2026, standard time.\n"
        f"  2.  {second}\n"
        "      Work wanted: repair only.\n"
        "      What comes back for it: any casing of yours.\n"
        "      Promised for Tue 5 May 2026, as agreed with the driver.\n\n"
        "All of them are promised by Tue 5 May 2026.\n\n"
        "Counted; condition subject to plant inspection. The casings stay the property of"
        " Tarn Valley Haulage.\n\n"
        "Signed by R. Amsel.\n\n"
        "If this is not what left your yard, answer this mail."
    ) in text_of(receipt)


def test_a_drop_off_is_a_receipt_of_the_counter_in_the_language_spoken(
    world: World, phone: Phone, mail: MailServer
) -> None:
    Contact.objects.filter(customer=world.customer).update(language="es")
    at = {"store": str(world.store.uid)}
    op = wanted(phone, world, back_to="store", basis="exchange", **at,
                **promised("2026-04-24", "by_hand"))  # fmt: skip
    over(phone, [op], **at, unsigned="tenía prisa")
    drain_all()
    (receipt,) = mail.mails
    assert receipt["Subject"] == "Recibo: recibimos 1 carcasa en Bramblewick store"
    text = text_of(receipt)
    assert "recibimos 1 carcasa de Tarn Valley Haulage en Bramblewick store:" in text
    for said in (
        "Trabajo pedido: reencauche.",
        "Vuelve por ella: una carcasa de nuestras existencias, a cambio.",
        "Se recoge en Bramblewick store.",
        "Prometida para el vie 24 abr 2026, según lo acordado con el mostrador.",
        "Contadas; estado sujeto a inspección en planta.",
        "salvo las que la lista indica.",
        "Sin firma: tenía prisa",
        "Si esto no es lo que nos dejó, responda a este correo.",
    ):
        assert said in text
    assert "North yard" not in text
    assert "Todas están" not in text


def test_what_an_older_phone_told_stays_as_it_is(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    old = phone.pick_up(world.a_label(), world.yard.uid, pickup, size="11R22.5")
    phone.finish(pickup, world.yard.uid, [old["id"]])
    pushed(phone)
    drain_all()
    text = text_of(mail.mails[0])
    assert f"  1.  {grouped(old['payload']['label'])}   11R22.5\n\nCounted;" in text
    for word in ("Work wanted", "romised", "igned", "fetched"):
        assert word not in text


def test_where_some_have_no_day_the_latest_is_not_said_to_be_all_of_them(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    ops = [
        wanted(phone, world, pickup=pickup, **promised("2026-04-28")),
        wanted(phone, world, pickup=pickup),
    ]
    over(phone, ops)
    drain_all()
    text = text_of(mail.mails[0])
    assert "No day was promised for it." in text
    assert "The last of those with a promised day is promised for Tue 28 Apr 2026." in text
    assert "All of them" not in text
    assert "igned" not in text


def test_a_list_that_was_put_right_after_it_was_signed_says_so(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    ops = [wanted(phone, world, pickup=pickup, **promised("2026-04-28")) for _ in range(2)]
    signed = shown((op["payload"]["label"], "2026-04-28") for op in ops)
    over(phone, ops, signer="R. Amsel", shown=signed)
    drain_all()
    assert text_of(mail.mails[0]).count("Signed by R. Amsel.\n") == 1
    pickup = uuid4()
    ops = [wanted(phone, world, pickup=pickup, **promised("2026-04-28")) for _ in range(2)]
    named = {"fact": ops[0]["id"], "label": ops[0]["payload"]["label"]}
    back = {"pickup": str(pickup), "withdraws": named, "reason": "wrong pile"}
    phone.enter("custody.withdraw", back)
    signed = shown((op["payload"]["label"], "2026-04-28") for op in ops)
    over(phone, ops, signer="R. Amsel", shown=signed)
    drain_all()
    text = text_of(mail.mails[1])
    assert "Signed by R. Amsel. The list was put right after it was signed;" in text
    assert grouped(named["label"]) not in text


def test_a_signature_without_a_name_is_one_and_its_absence_is_not_made_up(
    world: World, phone: Phone, mail: MailServer
) -> None:
    over(phone, [wanted(phone, world)], signature="0" * 64)
    drain_all()
    assert "Signed; no name was given." in text_of(mail.mails[0])
    over(phone, [wanted(phone, world)])
    drain_all()
    assert "igned" not in text_of(mail.mails[1])


@pytest.mark.parametrize(
    "store", ["renamed\r\nBcc: abel@reed.example", "$count ${name} $", "{x}%s"]
)
def test_what_people_wrote_cannot_break_headers_or_words(
    world: World, phone: Phone, mail: MailServer, store: str
) -> None:
    Site.objects.filter(uid=world.store.uid).update(name=store)
    at = {"store": str(world.store.uid)}
    told = {"tread_design": "$design", "purchase_order": "${number}\nBcc: x@y", "unit": "$"}
    op = wanted(phone, world, **at, **told)
    over(phone, [op], **at, signer="$signer\r\nTo: z@z")
    drain_all()
    (receipt,) = mail.mails
    assert receipt["To"] == "ines@tarn.example"
    assert receipt["Bcc"] is None
    assert receipt["Subject"] == f"Receipt: 1 casing dropped off at {' '.join(store.split())}"
    text = text_of(receipt)
    for written in (*told.values(), "$signer\nTo: z@z", store.replace("\r\n", "\n")):
        assert written in text
