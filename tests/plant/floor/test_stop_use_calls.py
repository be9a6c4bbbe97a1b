"""What is not a mail's about a stop-use notice: whom to call when it is withdrawn, what a second
tap does, which telephone an owner reads, and what their own page says once they have confirmed."""

import re
from uuid import uuid4

import pytest
from django.db import IntegrityError, transaction
from django.test import Client
from pytest_django import Settings

from pickups.customers.models import Contact
from pickups.kernel.ids import uuid7
from pickups.notices.models import StopUse, StopUseStep
from pickups.people.models import Site
from pickups.questions.models import Question
from tests.pickups.notices.conftest import a_day_passes, mail, use
from tests.plant.curing.plant_day import drain
from tests.plant.floor.conftest import SignedIn
from tests.plant.floor.stop_uses import WHY, cured, looked, opened, order, spaced, written
from tests.world import World
from tests.world.mail import MailServer, text_of
from tests.world.tables import nothing_written

__all__ = ["cured", "mail"]  # fixtures
pytestmark = pytest.mark.django_db
BACK = {"why_en": "Another lot was meant.", "sure": "yes"}


def calls(owner: object) -> Question | None:
    """The question to call this owner about a withdrawal."""
    rows = Question.objects.filter(kind="stop_use_withdrawn", facts__customer=str(owner))
    return rows.first()


def withdrawn(desk: Client, stop: StopUse) -> str:
    """Taken back; the page that comes next."""
    answer = desk.post(f"/plant/stop-use/{stop.uid}/withdraw", BACK, follow=True)
    assert answer.status_code == 200
    return answer.content.decode()


def test_who_was_told_by_phone_is_called_when_it_is_withdrawn(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("dispatcher")
    stop = written(desk, [cured[0], cured[2]])
    drain()
    told = {"customer": world.other_customer.uid, "heard": "Abel, by phone"}
    assert desk.post(f"/plant/stop-use/{stop.uid}/heard", told).status_code == 302
    page = withdrawn(desk, stop)
    assert calls(world.other_customer.uid) is not None
    assert calls(world.customer.uid) is None  # their mail is answered by a mail
    assert "Everybody who was told hears of it" not in page
    assert "Owners to call now: 1" in page
    reedbank, tarn = (
        page.split(name)[1].split("</section>")[0]
        for name in ("Reedbank Gravel", "Tarn Valley Haulage")
    )
    assert "Call them now: they may not know that it was withdrawn" in reedbank
    assert "Call them now" not in tarn
    office = desk.get("/office/").content.decode()
    assert "was withdrawn" in office
    assert f"/plant/stop-use/{stop.uid}/" in office


def test_who_has_no_address_or_got_no_mail_is_called_when_it_is_withdrawn(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer, settings: Settings
) -> None:
    world.other_customer.contacts.update(email="")
    desk = signed_in("dispatcher")
    settings.EMAIL_PORT = 1  # nobody listens
    mail.mails.clear()
    stop = written(desk, [cured[0], cured[2]])
    drain()
    assert "Owners to call now: 2" in withdrawn(desk, stop)
    assert Question.objects.get(kind="stop_use_unconfirmed").settled_at is not None
    use(settings, mail)
    a_day_passes()
    drain()
    assert mail.mails == []
    for owner in (world.customer, world.other_customer):
        question = calls(owner.uid)
        assert question is not None
        done = desk.post(f"/office/questions/{question.pk}/settle", {"said": "called Ines"})
        assert done.status_code == 302
    page = desk.get(f"/plant/stop-use/{stop.uid}/").content.decode()
    assert "to call now" not in page
    assert "Call them now" not in page


def test_nobody_is_called_where_every_owner_hears_by_mail(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("dispatcher")
    stop = written(desk, [cured[0]])
    drain()
    assert "to call now" not in withdrawn(desk, stop)
    assert not Question.objects.filter(kind="stop_use_withdrawn").exists()


def test_an_owner_whose_reader_has_left_is_called_when_it_is_withdrawn(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("dispatcher")
    stop = written(desk, [cured[0]])
    drain()
    world.customer.contacts.all().delete()
    Contact.objects.create(customer=world.customer, name="New", email="new@tarn.example")
    withdrawn(desk, stop)
    assert calls(world.customer.uid) is not None


def test_a_second_tap_sends_nothing_again(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("dispatcher")
    stop = written(desk, [cured[0], cured[2]])
    drain()
    at = f"/plant/stop-use/{stop.uid}/"
    forms = re.findall(r'again".*?name="uid" value="([^"]+)"', desk.get(at).content.decode())
    assert len(set(forms)) == 3  # all, and each owner: a form of its own each
    mail.mails.clear()
    for _ in range(2):
        answer = desk.post(f"{at}again", {"uid": forms[0]}, follow=True)
        assert "It is sent again." in answer.content.decode()
    drain()
    assert len(mail.mails) == 2  # one at each owner
    step = StopUseStep.objects.get(kind="again")
    with pytest.raises(IntegrityError), transaction.atomic():
        StopUseStep.objects.create(stop=stop, kind="again", form=step.form, at=step.at)


def test_a_damaged_form_sends_to_nobody(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("dispatcher")
    stop = written(desk, [cured[0]])
    drain()
    again, uid = f"/plant/stop-use/{stop.uid}/again", uuid7()
    with nothing_written():
        for damaged in (
            {"uid": uid, "customer": "none"},
            {"uid": uid, "customer": ""},
            {"uid": uid, "customer": world.other_customer.uid},
            {"uid": uid, "customer": uuid4()},
            {"uid": "none"},
            {},
        ):
            answer = desk.post(again, damaged)
            assert answer.status_code == 400, damaged
            assert "Nothing was sent" in answer.content.decode()


def test_the_mail_and_the_page_name_the_telephone_of_the_owners_own_store(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer, settings: Settings
) -> None:
    settings.DEALER_PHONE = "555 0199"
    Site.objects.filter(uid=world.customer.home_site_id).update(phone="555 0123")
    desk = signed_in("dispatcher")
    mail.mails.clear()
    shown = looked(desk, [cured[0]])
    written(desk, [cured[0]])
    drain()
    message = mail.to("ines@tarn.example")[0]
    ines, first = opened(message)
    for said in (text_of(message), ines.get(first).content.decode(), shown.split("mail-head")[2]):
        assert "555 0123" in said
        assert "555 0199" not in said
    assert "any hour" not in text_of(message)  # nobody promises that it is answered at night
    assert "cualquier hora" not in shown


def test_once_confirmed_the_list_raises_no_alarm_and_the_tires_line_says_it(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("dispatcher")
    juan = Contact.objects.create(customer=world.customer, name="Juan", email="juan@tarn.example")
    mail.mails.clear()
    older = written(desk, [cured[0]])
    newer = written(desk, [cured[0]])
    drain()
    ines, first = opened(mail.to("ines@tarn.example")[0])
    assert first == f"/casings/stop-use/{newer.uid}"
    page = ines.get("/casings/").content.decode()
    assert page.count('class="caution"') == 1  # one box for both
    alarm = page.split('class="caution"')[1].split("</section>")[0]
    assert alarm.index(str(newer.uid)) < alarm.index(str(older.uid))
    assert alarm.count("Read it and confirm") == 2
    line = page.split(f"/casings/{order(cured[0]).uid}")[1].split("</li>")[0]
    assert "STOP USE: this tire" in line
    assert "STOP USE" not in page.split(f"/casings/{order(cured[1]).uid}")[1].split("</li>")[0]
    for stop in (older, newer):
        assert ines.post(f"/casings/stop-use/{stop.uid}").status_code == 302
    page = ines.get("/casings/").content.decode()
    assert 'class="caution"' not in page
    assert "Read it and confirm" not in page
    assert page.count("Read it again") == 2
    assert page.count("You confirmed this on") == 2
    assert "STOP USE: this tire" in page
    story = ines.get(f"/casings/{order(cured[0]).uid}").content.decode()
    assert "Read it again" in story
    theirs, _ = opened(mail.to(juan.email)[0])  # has not read it yet
    assert 'class="caution"' in theirs.get("/casings/").content.decode()
    found = ines.get("/casings/", {"q": cured[0]}).content.decode()
    assert "STOP USE: this tire" in found


def test_what_to_do_which_tires_and_why_stand_above_the_button(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    mail.mails.clear()
    written(signed_in("dispatcher"), [cured[0]])
    drain()
    ines, first = opened(mail.to("ines@tarn.example")[0])
    page = ines.get(first).content.decode()
    order_of = ["Do not drive", spaced(cured[0]), WHY["why_en"], "I have read this"]
    places = [page.index(said) for said in order_of]
    assert places == sorted(places)
