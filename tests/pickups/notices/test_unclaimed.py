"""A written notice about what waits for its owner: one mail for all, in the reader's language, with
no threat; nothing of what is in question or was fetched meanwhile."""

from datetime import timedelta
from uuid import uuid4

import pytest

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact
from pickups.notices.models import Notice
from pickups.notices.words.unclaimed import Store, Unclaimed, Waits, unclaimed
from tests.pickups.custody.test_reminding import remind, waits
from tests.pickups.notices.visits import drain_all, pushed, shown
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def told(mail: MailServer) -> list[str]:
    """The notices that went out, beside the news of finished casings."""
    return [text_of(one) for one in mail.mails if "wait" in str(one["Subject"]).split(" at ")[0]]


def test_one_mail_says_all_that_waits_since_when_until_when_and_what_is_asked(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    first, second = waits(world, phone, gateway), waits(world, phone, gateway)
    for label in (first, second):
        phone.enter("custody.remind", {"label": label, "step": "written", "until": "2026-12-31"})
    pushed(phone)
    drain_all()
    (text,) = told(mail)
    assert shown(first) in text
    assert shown(second) in text
    assert "This property of Tarn Valley Haulage waits for you at Bramblewick store:" in text
    assert text.count("Waiting since ") == 2
    assert text.count("Held for you until Thu 31 Dec 2026.") == 2
    assert "no reply makes it neither ours nor scrap" in text
    assert "call " in text
    assert drain_all() == 0


def test_a_call_or_a_hold_mails_nobody(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    label = waits(world, phone, gateway)
    remind(phone, label, "called", said="nobody answers")
    remind(phone, label, "hold", until="2026-12-31")
    drain_all()
    assert told(mail) == []
    assert not Notice.objects.filter(kind="unclaimed").exists()


def test_what_was_fetched_meanwhile_or_is_in_question_is_in_no_notice(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    fetched, contested = waits(world, phone, gateway), waits(world, phone, gateway)
    for label in (fetched, contested):
        phone.enter("custody.remind", {"label": label, "step": "written", "until": "2026-12-31"})
    back = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": fetched}
    phone.enter("custody.deliver", back)
    phone.pick_up(contested, world.yard.uid, uuid4())
    pushed(phone)
    drain_all()
    assert told(mail) == []


def test_a_customer_who_reads_spanish_is_written_to_in_spanish(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    contact = world.customer.contacts.get()
    contact.language = "es"
    contact.save()
    label = waits(world, phone, gateway)
    phone.ahead = timedelta(0)
    remind(phone, label, "written", until="2026-12-31")
    drain_all()
    (one,) = [m for m in mail.mails if "espera" in str(m["Subject"])]
    assert one["Subject"] == "1 carcasa le espera en Bramblewick store"
    assert "Se la guardamos hasta el jue 31 dic 2026." in text_of(one)
    assert Fact.objects.get(kind="reminded").told["step"] == "written"


def test_two_counters_that_write_about_the_same_casing_send_one_mail(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    label, other = waits(world, phone, gateway), waits(world, phone, gateway)
    remind(phone, label, "written", until="2026-12-31")
    drain_all()
    phone.enter("custody.remind", {"label": label, "step": "written", "until": "2027-01-31"})
    phone.enter("custody.remind", {"label": other, "step": "written", "until": "2027-01-31"})
    pushed(phone)
    drain_all()
    first, second = told(mail)
    assert shown(label) in first
    assert shown(other) in second
    assert shown(label) not in second
    remind(phone, label, "written", until="2027-01-31")
    drain_all()
    assert len(told(mail)) == 2


def test_what_was_not_finished_or_goes_home_by_truck_is_in_no_notice(
    world: World, phone: Phone, mail: MailServer
) -> None:
    label, store = world.a_label(), f"site:{world.store.uid}"
    taken = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": label}
    taken |= {"store": str(world.store.uid), "work": "retread", "back_to": "store"}
    phone.enter("custody.pick_up", taken, version=2)
    phone.push()
    assert WorkOrder.objects.get(label=label).holder == store
    remind(phone, label, "written", until="2026-12-31")
    drain_all()
    assert told(mail) == []


def test_each_store_is_named_with_what_waits_there_and_no_day_that_nobody_told() -> None:
    one = Waits(label="K700 0001", marks="", since="", until="", tag="")
    stores = [Store("Bramblewick store", [one]), Store("Saltmarsh store", [one, one])]
    said = Unclaimed("Ines", "Tarn Valley Haulage", stores, "the dealer", "555 0100")
    subject, text = unclaimed(said, "en")
    assert subject == "3 casings wait for you at Bramblewick store, Saltmarsh store"
    assert text.index("at Bramblewick store:") < text.index("at Saltmarsh store:")
    assert "Waiting since" not in text
