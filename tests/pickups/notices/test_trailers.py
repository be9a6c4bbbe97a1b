"""What a customer is told of a trailer that leaves closed, of a yard where nobody was, of casings
taken by label and size."""

from typing import Any
from uuid import UUID, uuid4

import pytest
from pytest_django import Settings

from pickups.journal.models import Delivery
from pickups.notices.models import Notice
from tests.pickups.notices.conftest import a_day_passes, use
from tests.pickups.notices.visits import drain_all, pushed, shown
from tests.world import Phone, World
from tests.world.mail import MailServer, running, text_of

pytestmark = pytest.mark.django_db

TRAILER = {"number": "TW-118", "seal": "0047112", "left": "TW-109"}


def take(phone: Phone, world: World, **more: Any) -> UUID:
    """A whole trailer is taken, closed; the pickup."""
    pickup = uuid4()
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "trailer": TRAILER} | more
    phone.enter("custody.finish_pickup", payload, version=4)
    pushed(phone)
    return pickup


def empty(phone: Phone, world: World, pickup: UUID, count: int, **more: Any) -> list[str]:
    """It is opened at the store, and everything in it is labelled; the labels."""
    labels = [world.a_label() for _ in range(count)]
    ids = [phone.pick_up(label, world.yard.uid, pickup)["id"] for label in labels]
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "casings": ids}
    phone.enter("custody.empty_trailer", payload | {"store": str(world.store.uid)} | more)
    pushed(phone)
    return labels


def test_a_closed_trailer_is_said_at_the_swap_and_its_list_once_it_is_emptied(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = take(phone, world, customer_count=3)
    drain_all()
    (first,) = mail.mails
    assert first["Subject"] == "Receipt: trailer TW-118 taken closed from North yard"
    said = " ".join(text_of(first).split())
    assert "Its seal: 0047112." in said
    assert "Your count: 3 casings." in said
    assert "counted and labelled when it is opened at the store or the plant" in said
    labels = empty(phone, world, pickup, 2, seal="0047112", seal_state="whole")
    drain_all()
    _, second = mail.mails
    assert second["Subject"] == "Receipt: 2 casings picked up at North yard"
    said = " ".join(text_of(second).split())
    assert f"emptied at {world.store.name} on" in said
    assert "Its seal was whole." in said
    assert "Your count was 3, ours is 2." in said
    assert all(shown(label) in said for label in labels)
    # Every reaction once more, as after a crash between mail and mark.
    Delivery.objects.update(done_at=None)
    drain_all()
    assert len(mail.mails) == 2


def test_who_would_not_sign_for_a_closed_trailer_stands_in_its_mail(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "trailer": TRAILER}
    payload |= {"refused": "count", "unsigned": "wants it opened"}
    phone.enter("custody.finish_pickup", payload, version=5)
    pushed(phone)
    drain_all()
    (first,) = mail.mails
    assert "they dispute the count: wants it opened" in " ".join(text_of(first).split())


def test_labelled_one_by_one_nothing_is_promised_or_mailed_before_the_list(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = take(phone, world)
    phone.pick_up(world.a_label(), world.yard.uid, pickup)
    pushed(phone)
    drain_all()
    assert len(mail.mails) == 1


def test_emptied_before_its_end_came_it_is_one_mail_with_the_list(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    empty(phone, world, pickup, 1)
    drain_all()
    assert mail.mails == []
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "trailer": TRAILER}
    phone.enter("custody.finish_pickup", payload, version=4)
    pushed(phone)
    drain_all()
    (only,) = mail.mails
    assert only["Subject"] == "Receipt: 1 casing picked up at North yard"


def test_a_first_word_that_never_went_out_gives_way_to_the_list(
    world: World, phone: Phone, settings: Settings
) -> None:
    server = MailServer()
    use(settings, server)
    pickup = take(phone, world)
    drain_all()  # nobody listens
    assert Notice.objects.filter(sent_at=None).count() == 1
    empty(phone, world, pickup, 1)
    with running(server):
        a_day_passes()
        drain_all()
    assert [m["Subject"] for m in server.mails] == ["Receipt: 1 casing picked up at North yard"]
    assert Notice.objects.filter(sent_at=None).count() == 0


def test_a_seal_in_doubt_is_said(world: World, phone: Phone, mail: MailServer) -> None:
    pickup = take(phone, world)
    empty(phone, world, pickup, 1, seal_state="broken")
    drain_all()
    said = " ".join(text_of(mail.mails[-1]).split())
    assert "Its seal was not as it was told when it left" in said


def test_an_empty_trailer_is_said_too(world: World, phone: Phone, mail: MailServer) -> None:
    pickup = take(phone, world)
    empty(phone, world, pickup, 0)
    drain_all()
    assert "in it: nothing." in " ".join(text_of(mail.mails[-1]).split())


def test_nobody_there_is_said_with_the_count_when_and_whom_to_call(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup, photo = uuid4(), "a" * 64
    casings = [phone.pick_up(world.a_label(), world.yard.uid, pickup)["id"] for _ in range(2)]
    payload: dict[str, Any] = {"pickup": str(pickup), "yard": str(world.yard.uid)}
    payload |= {
        "casings": casings,
        "nobody_there": True,
        "unsigned": "Nobody there",
        "photos": [photo],
    }
    phone.enter("custody.finish_pickup", payload, version=4)
    pushed(phone)
    drain_all()
    (receipt,) = mail.mails
    said = " ".join(text_of(receipt).split())
    assert "2 casings" in receipt["Subject"]
    assert "Nobody of yours was there" in said
    assert "Photos of the pile before and after are on your page." in said
    assert "555 0100" in said, "the store that looks after the yard"
    assert "days" not in said.partition("Counted;")[0]


def test_casings_taken_by_label_and_size_are_said_to_be(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    quick = {"line": "retread", "size": "295/75R22.5"}
    read = quick | {"tins": [{"tin": "1M3 F4 A5B 2319", "made": "new"}]}
    ids = []
    for seen in (quick, read):
        payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "label": world.a_label()}
        ids.append(phone.enter("custody.pick_up", payload | seen, version=3)["id"])
    phone.finish(pickup, world.yard.uid, ids)
    pushed(phone)
    drain_all()
    said = " ".join(text_of(mail.mails[0]).split())
    assert "1 of them are identified by label and size" in said
