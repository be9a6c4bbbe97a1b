"""A receipt reaches each contact once, by real SMTP, whatever is repeated, refused or settled."""

from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid4

import pytest
from pytest_django import Settings

from pickups.custody.models import Pickup
from pickups.customers import services as customers
from pickups.customers.models import Contact
from pickups.journal import queries as journal_read
from pickups.journal.models import Delivery
from pickups.journal.services import drain
from pickups.notices.models import Notice
from tests.conftest import Enrol
from tests.pickups.notices.conftest import a_day_passes, use
from tests.pickups.notices.visits import drain_all, pushed, shown, visit
from tests.world import Phone, World
from tests.world.mail import MailServer, running, text_of
from tests.world.plant import Gateway
from tests.world.threads import at_once

pytestmark = pytest.mark.django_db

INES, ABEL = "ines@tarn.example", "abel@reed.example"


# --- Once ---------------------------------------------------------------------------------------


def test_a_pickup_yields_one_receipt_that_lists_what_was_taken(
    world: World, phone: Phone, mail: MailServer
) -> None:
    _, labels = visit(phone, world, 3)
    drain_all()
    (receipt,) = mail.mails
    assert receipt["To"] == INES
    assert receipt["Subject"] == "Receipt: 3 casings picked up at North yard"
    assert receipt["Auto-Submitted"] == "auto-generated"
    assert all(shown(label) in text_of(receipt) for label in labels)
    notice = Notice.objects.get()
    assert notice.sent_at is not None
    assert notice.tries == 1
    assert journal_read.owed() == 0


def test_each_contact_gets_one_in_the_language_spoken(
    world: World, enrol: Enrol, mail: MailServer
) -> None:
    second = customers.add_contact(
        customer=world.customer, name="Teo Marsh", email="teo@tarn.example", language="es"
    )
    visit(enrol(), world)
    drain_all()
    assert len(mail.mails) == 2
    assert "Dear Ines Corvo" in text_of(mail.to(INES)[0])
    (spanish,) = mail.to(second.email)
    assert "Estimado/a Teo Marsh" in text_of(spanish)
    assert mail.to(ABEL) == []


def test_end_and_drain_repeated_send_nothing_more(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup, _ = visit(phone, world)
    operations = list(phone.sent)
    for _ in range(2):
        assert phone.push(operations).status == 200
        drain_all()
    # The same end told by another operation, and one that differs from it.
    casings = [o["id"] for o in operations if o["kind"] == "custody.pick_up"]
    phone.finish(pickup, world.yard.uid, casings)
    phone.finish(pickup, world.yard.uid, casings[:1])
    pushed(phone)
    # Every reaction is run once more, as after a crash between mail and mark.
    Delivery.objects.update(done_at=None)
    drain_all()
    assert len(mail.mails) == 1
    assert Pickup.objects.get().casings == casings


def test_a_casing_named_twice_at_the_end_is_one_casing(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup, label = uuid4(), world.a_label()
    casing = phone.pick_up(label, world.yard.uid, pickup)["id"]
    phone.finish(pickup, world.yard.uid, [casing, casing], customer_count=1)
    pushed(phone)
    drain_all()
    assert mail.mails[0]["Subject"] == "Receipt: 1 casing picked up at North yard"
    assert {a["outcome"] for a in phone.answers.values()} == {"accepted"}


@pytest.mark.django_db(transaction=True)
def test_drains_in_parallel_send_each_receipt_once(
    world: World, phone: Phone, mail: MailServer
) -> None:
    for _ in range(8):
        visit(phone, world, 1)
    at_once(*[drain_all] * 4)
    assert len(mail.mails) == 8
    assert len({m["Message-ID"] for m in mail.mails}) == 8
    assert journal_read.owed() == 0


@pytest.mark.django_db(transaction=True)
def test_while_one_is_sending_another_does_not_send_too(
    world: World, phone: Phone, mail: MailServer
) -> None:
    visit(phone, world)
    mail.gate.clear()

    def second() -> None:
        assert mail.arrived.wait(10)
        Delivery.objects.update(claimed_until=None)  # as if the first worker's claim had run out
        drain_all()
        mail.gate.set()

    at_once(drain_all, second)
    assert len(mail.mails) == 1
    a_day_passes()
    drain_all()
    assert len(mail.mails) == 1
    assert journal_read.owed() == 0


def test_the_message_id_is_made_from_what_the_mail_is(
    world: World, phone: Phone, mail: MailServer
) -> None:
    visit(phone, world)
    drain_all()
    Notice.objects.update(sent_at=None)  # a crash between the server's 250 and our mark
    Delivery.objects.update(done_at=None)
    drain_all()
    first, again = mail.mails
    assert first["Message-ID"] == again["Message-ID"]
    visit(phone, world)
    drain_all()
    assert mail.mails[2]["Message-ID"] != first["Message-ID"]


# --- Mail servers that refuse -------------------------------------------------------------------


def test_a_mail_server_that_is_down_is_tried_again_and_then_sends_once(
    world: World, phone: Phone, settings: Settings
) -> None:
    server = MailServer()
    use(settings, server)
    visit(phone, world)
    for tries in (1, 2):
        assert drain() > 0
        assert Notice.objects.get().tries == tries
        assert Notice.objects.get().sent_at is None
        assert drain() == 0, "it is put off"
        a_day_passes()
    with running(server):
        drain_all()
        a_day_passes()
        drain_all()
    assert len(server.mails) == 1
    assert Notice.objects.get().last_error == ""
    assert journal_read.owed() == 0


@pytest.mark.parametrize("answer", ["450 later", "550 nobody of that name"])
def test_an_address_that_is_refused_keeps_nobody_else_waiting_and_is_not_repeated_in_errors(
    world: World, phone: Phone, mail: MailServer, answer: str
) -> None:
    others = [
        customers.add_contact(customer=world.customer, name=n, email=f"{n}@tarn.example")
        for n in ("a", "b", "c")
    ]
    mail.refuse = {INES: answer}
    visit(phone, world)
    drain_all()
    assert sorted(str(m["To"]) for m in mail.mails) == [c.email for c in others]
    refused = Notice.objects.get(sent_at=None)
    assert answer[:3] in refused.last_error
    assert INES not in refused.last_error
    assert INES not in Delivery.objects.get(done_at=None, reaction="receipt").last_error
    mail.refuse = {}
    a_day_passes()
    drain_all()
    assert len(mail.to(INES)) == 1
    assert len(mail.mails) == 4


def test_an_address_that_no_header_can_hold_keeps_nobody_else_waiting(
    world: World, phone: Phone, mail: MailServer
) -> None:
    Contact.objects.create(customer=world.customer, name="x", email=f"x@tarn.example\nBcc: {ABEL}")
    visit(phone, world)
    drain_all()
    assert [m["To"] for m in mail.mails] == [INES]
    assert Notice.objects.get(sent_at=None).last_error == "ValueError"


# --- What must not leave ------------------------------------------------------------------------


def settle_by_withdrawal(phone: Phone, op: dict[str, Any], world: World) -> None:
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    payload = {"pickup": op["payload"]["pickup"], "withdraws": named, "reason": "wrong label"}
    phone.enter("custody.withdraw", payload)


def settle_by_correction(phone: Phone, op: dict[str, Any], world: World) -> None:
    named = {"fact": op["id"], "label": op["payload"]["label"]}
    changed = {"label": world.a_label(), "corrects": named}
    phone.enter("custody.pick_up", op["payload"] | changed)


Settle = Callable[[Phone, dict[str, Any], World], None]


@pytest.mark.xdist_group("feed")
@pytest.mark.usefixtures("apart")
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("settle", [settle_by_withdrawal, settle_by_correction])
def test_while_a_label_is_contested_nothing_about_it_leaves_and_then_one_receipt_does(
    world: World, enrol: Enrol, mail: MailServer, gateway: Gateway, settle: Settle
) -> None:
    ours, theirs = enrol(), enrol(world.other_driver)
    label = world.a_label()
    other_op = theirs.pick_up(label, world.other_yard.uid, uuid4())
    theirs.finish(UUID(other_op["payload"]["pickup"]), world.other_yard.uid, [other_op["id"]])
    pickup, labels = uuid4(), [label, world.a_label()]
    casings = [ours.pick_up(one, world.yard.uid, pickup)["id"] for one in labels]
    ours.finish(pickup, world.yard.uid, casings)
    pushed(ours)
    pushed(theirs)  # contested before anything was drained
    gateway.tell(label, "rejected")
    drain_all()
    a_day_passes()
    drain_all()
    assert mail.mails == []
    assert Notice.objects.count() == 0
    for phone, mine in ((ours, casings), (theirs, [other_op["id"]])):
        phone.pull_all()
        seen = phone.seen("work_order")
        assert set(seen) == set(mine)
        assert {w["progress"] for w in seen.values()} == {"picked_up"}
    settle(theirs, other_op, world)
    pushed(theirs)
    drain_all()
    a_day_passes()
    drain_all()
    receipt, rejected = mail.to(INES)
    assert all(shown(one) in text_of(receipt) for one in labels)
    assert rejected["Subject"] == "Your casings: 1 rejected"
    assert shown(label) in text_of(rejected)
    # A pickup of which nothing is left has no receipt.
    others = mail.to(ABEL)
    assert [str(other["Subject"]) for other in others] == (
        [] if settle is settle_by_withdrawal else ["Recibo: recogimos 1 carcasa en Pit gate"]
    )
    assert not any(shown(label) in text_of(other) for other in others)
    assert len(mail.mails) == 2 + len(others)
    ours.pull_all()
    assert ours.seen("work_order")[casings[0]]["progress"] == "rejected"


def test_a_pickup_that_is_cleared_before_it_is_over_is_told_at_its_end(
    world: World, enrol: Enrol, mail: MailServer
) -> None:
    ours, theirs = enrol(), enrol(world.other_driver)
    label, pickup = world.a_label(), uuid4()
    mine = ours.pick_up(label, world.yard.uid, pickup)
    pushed(ours)
    other_op = theirs.pick_up(label, world.other_yard.uid, uuid4())
    pushed(theirs)
    settle_by_withdrawal(theirs, other_op, world)
    pushed(theirs)
    drain_all()
    assert mail.mails == []
    ours.finish(pickup, world.yard.uid, [mine["id"]])
    pushed(ours)
    drain_all()
    assert len(mail.to(INES)) == len(mail.mails) == 1


def test_withdrawn_casings_are_not_listed_and_not_counted(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    ops = [phone.pick_up(world.a_label(), world.yard.uid, pickup) for _ in range(3)]
    phone.finish(pickup, world.yard.uid, [op["id"] for op in ops], customer_count=2)
    settle_by_withdrawal(phone, ops[0], world)
    pushed(phone)
    drain_all()
    (receipt,) = mail.mails
    assert "2 casings" in receipt["Subject"]
    assert shown(ops[0]["payload"]["label"]) not in text_of(receipt)
    assert "Your count" not in text_of(receipt)


def test_a_count_that_differs_is_said_and_asked_about(
    world: World, phone: Phone, mail: MailServer
) -> None:
    visit(phone, world, 2, customer_count=3)
    drain_all()
    assert "Your count was 3, ours is 2." in text_of(mail.mails[0])
    assert [a.get("code") for a in phone.answers.values()][-1] == "count_differs"


def test_an_erased_contact_is_not_written_to(world: World, phone: Phone, mail: MailServer) -> None:
    visit(phone, world)
    Contact.objects.filter(customer=world.customer).delete()
    drain_all()
    assert mail.mails == []
    assert journal_read.owed() == 0


def test_a_contact_erased_between_two_tries_is_given_up(
    world: World, phone: Phone, mail: MailServer
) -> None:
    mail.refuse = {INES: "450 later"}
    visit(phone, world)
    drain_all()
    Contact.objects.filter(customer=world.customer).delete()
    a_day_passes()
    drain_all()
    assert mail.mails == []
    assert journal_read.owed() == 0
    assert INES not in str(list(Notice.objects.values()))


def test_a_pickup_at_an_unknown_yard_tells_nobody(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup, yard = uuid4(), uuid4()
    op = phone.pick_up(world.a_label(), yard, pickup)
    phone.finish(pickup, yard, [op["id"]])
    pushed(phone)
    drain_all()
    assert mail.mails == []
    assert journal_read.owed() == 0
