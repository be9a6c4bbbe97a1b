"""No news of what was sold or exchanged; a settled mix-up is told to both, by real SMTP."""

from uuid import UUID

import pytest

from pickups.custody import ownership
from pickups.customers.models import Contact
from tests.conftest import Enrol
from tests.pickups.notices.test_progress import ABEL, INES, label_of, subjects
from tests.pickups.notices.visits import drain_all, taken
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def sold(world: World, work_order: str) -> UUID:
    """The office writes a sale that the customer's contact accepted."""
    return ownership.sell(
        work_order=UUID(work_order),
        agreed=ownership.Agreed("A", 4000, "credit"),
        accepted_by=Contact.objects.get(customer=world.customer).uid,
        by=world.dispatcher.uid,
    )


def test_news_that_waited_when_it_was_sold_does_not_leave(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    sold(world, op["id"])
    drain_all()
    assert mail.mails == []
    gateway.tell(label_of(op), "rejected")
    drain_all()
    assert mail.mails == []


def test_once_the_sale_is_undone_what_stands_is_told(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    change = sold(world, op["id"])
    gateway.tell(label_of(op), "finished")
    drain_all()
    assert mail.mails == []
    ownership.undo(change=change, reason="no agreement", by=world.dispatcher.uid)
    drain_all()
    assert subjects(mail) == ["Your casings: 1 finished"]


def test_a_settled_mix_up_is_told_to_who_was_told_otherwise_and_to_whose_it_is(
    world: World, phone: Phone, enrol: Enrol, gateway: Gateway, mail: MailServer
) -> None:
    ours = taken(phone, world)
    theirs = taken(enrol(world.other_driver), world, yard=world.other_yard.uid)
    gateway.tell(label_of(ours), "finished")
    drain_all()
    assert (len(subjects(mail)), len(subjects(mail, ABEL))) == (1, 0)
    ownership.settle(
        work_order=UUID(ours["id"]), other=UUID(theirs["id"]), reason="swapped",
        by=world.dispatcher.uid,
    )  # fmt: skip
    drain_all()
    assert "That was our mistake" in text_of(mail.to(INES)[1])
    assert label_of(ours)[4:] in text_of(mail.to(ABEL)[0])
    assert (len(subjects(mail)), len(subjects(mail, ABEL))) == (2, 1)
