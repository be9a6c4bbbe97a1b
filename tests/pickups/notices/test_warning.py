"""Who keeps a casing that may burst is warned in writing, whatever else is in doubt."""

from uuid import uuid4

import pytest

from pickups.customers.models import Contact
from pickups.journal import queries as journal_read
from pickups.notices.models import Notice
from tests.conftest import Enrol
from tests.pickups.notices.test_lines import CORD, STOP, TIRE, over, take
from tests.pickups.notices.visits import drain_all, pushed, taken
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of

pytestmark = pytest.mark.django_db

RUN_FLAT = {"zone": "sidewall", "kind": "run_flat"}
WARNING = "WARNING: do not run this tire and do not inflate it. It may burst."


def subjects(mail: MailServer) -> list[str]:
    return [str(m["Subject"]) for m in mail.mails]


def test_what_was_left_and_is_dangerous_is_warned_of_without_waiting_for_the_end(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    phone.leave_here(pickup, world.yard.uid, **TIRE, findings=[CORD], check=STOP)
    phone.leave_here(pickup, world.yard.uid, brand="Lathmore")
    pushed(phone)
    drain_all()
    (told,) = mail.mails
    assert told["Subject"] == "WARNING: do not run or inflate 1 casing that stays with you"
    assert told["To"] == "ines@tarn.example"
    text = text_of(told)
    assert text.count(WARNING) == 1
    assert "  1.  295/75R22.5, Corvane\n      At North yard, looked at on " in text
    assert "cord showing, sidewall, other side, 60 mm" in text
    assert "Lathmore" not in text
    assert journal_read.owed() == 0


def test_a_warning_leaves_while_a_disputed_label_keeps_the_receipt(
    world: World, enrol: Enrol, mail: MailServer
) -> None:
    ours, theirs = enrol(), enrol(world.other_driver)
    pickup = uuid4()
    op = take(ours, world, pickup)
    left = ours.leave_here(pickup, world.yard.uid, **TIRE, findings=[CORD], check=STOP)
    taken(theirs, world, op["payload"]["label"], yard=world.other_yard.uid)
    over(ours, world, pickup, casings=[op], left=[left])
    assert subjects(mail) == ["WARNING: do not run or inflate 1 casing that stays with you"]


def test_damage_that_is_told_after_the_receipt_is_warned_of_then(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    left = phone.leave_here(pickup, world.yard.uid, **TIRE)
    over(phone, world, pickup, left=[left])
    assert subjects(mail) == ["Receipt: nothing picked up at North yard"]
    phone.leave_here(pickup, world.yard.uid, **TIRE, findings=[CORD], corrects=left["id"])
    pushed(phone)
    drain_all()
    assert WARNING in text_of(mail.mails[1])


def test_nobody_is_warned_of_what_was_taken_after_all_or_is_not_dangerous(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    left = phone.leave_here(pickup, world.yard.uid, findings=[CORD])
    phone.leave_here(pickup, world.yard.uid, taken=True, corrects=left["id"])
    phone.leave_here(pickup, world.yard.uid, brand="Lathmore")
    pushed(phone)
    drain_all()
    assert mail.mails == []
    assert Notice.objects.count() == 0


def test_whose_it_is_is_warned_and_in_the_language_spoken(
    world: World, phone: Phone, mail: MailServer
) -> None:
    Contact.objects.filter(customer=world.other_customer).update(
        language="es", wants_receipts=True, email="abel@reed.example"
    )
    phone.leave_here(uuid4(), world.other_yard.uid, findings=[RUN_FLAT])
    pushed(phone)
    drain_all()
    (told,) = mail.mails
    assert told["To"] == "abel@reed.example"
    assert told["Subject"] == "ADVERTENCIA: no ruede ni infle 1 carcasa que se queda con usted"
    assert "ADVERTENCIA: no ruede con esta llanta y no la infle." in text_of(told)
    assert "Avise" in text_of(told)
