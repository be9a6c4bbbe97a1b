"""What a plant takes back as a mistake is taken back from the customer too, by real SMTP."""

import pytest

from pickups.casings.models import WorkOrder
from tests.pickups.notices.visits import drain_all, taken
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(("outcome", "said"), [("rejected", "rejected"), ("finished", "finished")])
def test_a_mistake_that_was_mailed_is_taken_back_by_mail_once(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer, outcome: str, said: str
) -> None:
    op = taken(phone, world)
    label = str(op["payload"]["label"])
    wrong = gateway.tell(label, outcome, station="paint")
    drain_all()
    assert [str(m["Subject"]) for m in mail.mails] == [f"Your casings: 1 {said}"]
    gateway.tell(label, "withdrawn", withdraws=wrong["id"], note="another casing")
    drain_all()
    assert [str(m["Subject"]) for m in mail.mails][1:] == ["Your casings: 1 taken back"]
    assert f"said that it was {said}. That no longer holds" in text_of(mail.mails[1])
    assert WorkOrder.objects.get().progress == "picked_up"
    gateway.tell(label, "passed")
    drain_all()
    assert len(mail.mails) == 2


def test_a_mistake_that_was_taken_back_before_its_mail_went_out_is_never_told(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    label = str(op["payload"]["label"])
    wrong = gateway.event(label, "rejected")
    gateway.tell(label, "withdrawn", withdraws=wrong["id"], note="another casing")
    assert gateway.post(wrong).status == 200  # late: the line was down
    drain_all()
    assert mail.mails == []
