"""A stop-use notice: written from a trace, mailed to every owner, confirmed on their own page or by
phone, asked about while it is not, sent again, and taken back."""

import re
from datetime import timedelta
from uuid import UUID, uuid4

import pytest
from django.db import DatabaseError, transaction
from django.test import Client
from pytest_django import Settings

from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.ids import uuid7
from pickups.notices import stopping
from pickups.notices.models import Notice, StopUse, StopUseCasing, StopUseStep
from pickups.questions.models import Question
from tests.conftest import Enrol
from tests.pickups.notices.conftest import a_day_passes, mail, use
from tests.plant.curing.plant_day import NUMBER, drain
from tests.plant.floor.conftest import SignedIn
from tests.plant.floor.stop_uses import (
    LOOK,
    SEND,
    WHY,
    cured,
    hidden,
    looked,
    opened,
    order,
    spaced,
    written,
)
from tests.sync.batches import push
from tests.world import World
from tests.world.mail import MailServer, text_of
from tests.world.tables import nothing_written

__all__ = ["cured", "mail"]  # fixtures
pytestmark = pytest.mark.django_db


def test_those_back_with_their_owners_are_chosen_and_the_rest_is_said(
    world: World, cured: list[str], signed_in: SignedIn
) -> None:
    desk = signed_in("dispatcher")
    traced = desk.get(f"/plant/trace/?load={NUMBER}").content.decode()
    assert LOOK in traced
    page = desk.get(LOOK).content.decode()
    for label, chosen in zip(cured[:3], (True, False, True), strict=True):
        box = re.search(rf'value="{order(label).uid}"( checked)?', page)
        assert box
        assert bool(box[1]) is chosen
    assert "nobody can be written to" in page  # the fourth: no pick-up, no owner
    assert "call counsel now" in page


def test_it_goes_to_everybody_with_an_address_in_their_language_and_names_their_casings_alone(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    world.customer.contacts.update(wants_receipts=False, wants_progress=False)
    juan = Contact.objects.create(customer=world.customer, name="Juan Soto", language="es",
                                  email="juan@tarn.example", wants_receipts=False,
                                  wants_progress=False)  # fmt: skip
    gone = Contact.objects.create(customer=world.customer, name="Ada", email="ada@tarn.example")
    gone.delete()
    mail.mails.clear()
    stop = written(signed_in("dispatcher"), [cured[0], cured[2]])
    drain()
    assert len(mail.mails) == 3
    english = text_of(mail.to("ines@tarn.example")[0])
    assert "out of service now" in english
    assert "do not inflate them" in english
    assert WHY["why_en"] in english
    shown = spaced(cured[0])
    assert re.search(rf"{shown}\s+size 11R22.5\s+TIN 1YB2 4F7 2318\s+retread TIN 7X32826", english)
    assert "counsel" not in english
    assert spaced(cured[2]) not in english
    spanish = mail.to("juan@tarn.example")[0]
    assert str(spanish["Subject"]).startswith("DEJE DE USAR")
    assert WHY["why_es"] in text_of(spanish)
    assert spaced(cured[2]) in text_of(mail.to("abel@reed.example")[0])
    assert {n.contact for n in Notice.objects.filter(kind="stop_use")} >= {juan.uid}
    drain()
    assert len(mail.mails) == 3
    assert StopUseCasing.objects.filter(stop=stop).count() == 2


def test_nothing_is_sent_before_the_number_of_casings_is_typed_and_it_is_sent_once(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("plant")
    page = looked(desk, cured[:1])
    form = {name: hidden(page, name) for name in ("uid", "orders", "why_en", "why_es")}
    mail.mails.clear()
    with nothing_written():
        for wrong in ("", "2", "one", "9" * 4000):
            answer = desk.post(SEND, form | {"count": wrong})
            assert answer.status_code == 400
            assert WHY["why_es"].encode() in answer.content
        for fault in ({"orders": ""}, {"why_en": "", "why_es": ""}, {"uid": "none"},
                      {"orders": f"{form['orders']} {uuid4()}"}):  # fmt: skip
            assert desk.post(SEND, form | {"count": "1"} | fault).status_code == 400, fault
        assert desk.post(LOOK, {"order": [], **WHY}).status_code == 400
        assert desk.post(LOOK, {"order": ["x"], **WHY}).status_code == 400
        assert desk.post("/plant/stop-use/new", WHY).status_code == 302
    for _ in range(2):
        assert desk.post(SEND, form | {"count": "1"}).status_code == 302
    drain()
    assert len(mail.mails) == 1
    assert StopUse.objects.count() == 1


def test_what_became_contested_meanwhile_is_not_sent(
    world: World, cured: list[str], signed_in: SignedIn, enrol: Enrol
) -> None:
    desk = signed_in("dispatcher")
    page = looked(desk, cured[:1])
    form = {name: hidden(page, name) for name in ("uid", "orders", "why_en", "why_es")}
    rival = enrol(world.other_driver)
    rival.pick_up(cured[0], world.other_yard.uid, uuid4())
    assert push(rival) == ["contested label_contested"]
    with nothing_written():
        assert desk.post(SEND, form | {"count": "1"}).status_code == 400


def test_the_mails_link_leads_to_the_notice_and_a_button_confirms_it(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("dispatcher")
    mail.mails.clear()
    stop = written(desk, [cured[0], cured[2]])
    drain()
    ines, first = opened(mail.to("ines@tarn.example")[0])
    assert first == f"/casings/stop-use/{stop.uid}"
    page = ines.get(first).content.decode()
    assert spaced(cured[0]) in page
    assert spaced(cured[2]) not in page
    assert WHY["why_en"] in page
    assert not StopUseStep.objects.exists()  # looking confirms nothing
    whose = ines.get("/casings/").content.decode()
    assert "STOP USE" in whose
    assert "STOP USE" in ines.get(f"/casings/{order(cured[0]).uid}").content.decode()
    assert "STOP USE" not in ines.get(f"/casings/{order(cured[1]).uid}").content.decode()
    at = f"/plant/stop-use/{stop.uid}/"
    assert "confirmed: 0 of 2" in desk.get(at).content.decode()
    for _ in range(2):
        assert ines.post(first).status_code == 302
    assert "You confirmed this" in ines.get(first).content.decode()
    assert StopUseStep.objects.filter(kind="confirmed").count() == 1
    page = desk.get(at).content.decode()
    assert "confirmed: 1 of 2" in page
    assert "Confirmed" in page.split("Tarn Valley Haulage")[1]
    assert page.index("Reedbank Gravel") < page.index("Tarn Valley Haulage")  # who has not, first
    late = desk.get("/plant/stop-use/").content.decode().split("late-head")[2]
    assert "Reedbank Gravel" in late
    assert "Tarn Valley" not in late
    stranger = Client()
    assert stranger.get(first).status_code == stranger.post(first).status_code == 403


def test_another_customer_is_not_told_that_there_is_one(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    mail.mails.clear()
    stop = written(signed_in("dispatcher"), [cured[0]])
    other = written(signed_in("dispatcher"), [cured[2]])
    drain()
    abel, first = opened(mail.to("abel@reed.example")[0])
    assert first == f"/casings/stop-use/{other.uid}"
    with nothing_written():
        for ask in (abel.get, abel.post):
            assert ask(f"/casings/stop-use/{stop.uid}").status_code == 404
            assert ask(f"/casings/stop-use/{uuid4()}").status_code == 404


def test_who_has_not_confirmed_for_hours_is_asked_about_once_and_settled_by_confirming(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer, settings: Settings
) -> None:
    settings.STOP_USE_CONFIRM_HOURS = 4
    desk = signed_in("dispatcher")
    mail.mails.clear()
    stop = written(desk, [cured[0], cured[2]])
    drain()
    about = Question.objects.filter(kind="stop_use_unconfirmed")
    hours = clock.now() + timedelta(hours=4)
    assert stopping.ask_unconfirmed(at=hours - timedelta(minutes=2)) == 0
    assert stopping.ask_unconfirmed(at=hours + timedelta(minutes=2)) == 2
    assert stopping.ask_unconfirmed(at=hours + timedelta(hours=9)) == 0
    assert about.count() == 2
    page = desk.get("/office/").content.decode()
    assert f"/plant/stop-use/{stop.uid}/" in page
    assert "Reedbank Gravel" in page
    abel, first = opened(mail.to("abel@reed.example")[0])
    abel.post(first)
    assert about.filter(settled_at=None).count() == 1
    told = {"customer": world.customer.uid, "heard": "Ines, by phone"}
    assert desk.post(f"/plant/stop-use/{stop.uid}/heard", told).status_code == 302
    assert not about.filter(settled_at=None).exists()
    page = desk.get(f"/plant/stop-use/{stop.uid}/").content.decode()
    assert "Ines, by phone" in page
    assert "confirmed: 2 of 2" in page


def test_an_owner_without_an_address_is_asked_about_at_once(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    world.other_customer.contacts.update(email="")
    desk = signed_in("dispatcher")
    assert "call them" in looked(desk, [cured[2]])
    stop = written(desk, [cured[0], cured[2]])
    drain()
    question = Question.objects.get(kind="stop_use_unconfirmed")
    assert question.facts["customer"] == str(world.other_customer.uid)
    assert "call them" in desk.get(f"/plant/stop-use/{stop.uid}/").content.decode()


def test_it_is_sent_again_to_who_has_not_confirmed(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("plant")
    mail.mails.clear()
    stop = written(desk, [cured[0], cured[2]])
    drain()
    ines, first = opened(mail.to("ines@tarn.example")[0])
    ines.post(first)
    again = f"/plant/stop-use/{stop.uid}/again"
    mail.mails.clear()
    assert desk.post(again, {"uid": uuid7()}).status_code == 302
    drain()
    assert [str(m["To"]) for m in mail.mails] == ["abel@reed.example"]
    assert desk.post(again, {"uid": uuid7(), "customer": world.customer.uid}).status_code == 302
    drain()
    assert len(mail.mails) == 1  # who has confirmed is left alone
    assert (
        desk.post(again, {"uid": uuid7(), "customer": world.other_customer.uid}).status_code == 302
    )
    drain()
    assert len(mail.mails) == 2
    assert len({str(m["Message-ID"]) for m in mail.mails}) == 2


def test_one_that_was_a_mistake_is_withdrawn_towards_everybody_who_was_told(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer
) -> None:
    desk = signed_in("dispatcher")
    mail.mails.clear()
    stop = written(desk, [cured[0], cured[2]])
    drain()
    ines, first = opened(mail.to("ines@tarn.example")[0])
    ines.post(first)
    Contact.objects.create(customer=world.customer, name="New", email="new@tarn.example")
    at = f"/plant/stop-use/{stop.uid}/withdraw"
    with nothing_written():
        assert desk.post(at, WHY).status_code == 400
        assert desk.post(at, {"why_en": "", "why_es": "", "sure": "yes"}).status_code == 400
    mail.mails.clear()
    typed = {"why_en": "Another lot was meant.", "sure": "yes"}
    assert desk.post(at, typed).status_code == 302
    drain()
    assert {str(m["To"]) for m in mail.mails} == {"ines@tarn.example", "abel@reed.example"}
    told = text_of(mail.to("ines@tarn.example")[0])
    assert "That was a mistake" in told
    assert "Another lot was meant." in told
    assert spaced(cured[0]) in told
    page = ines.get(first).content.decode()
    assert "withdrawn" in page
    assert "I have read this" not in page
    assert "STOP USE" not in ines.get("/casings/").content.decode()
    assert "Withdrawn" in desk.get(f"/plant/stop-use/{stop.uid}/").content.decode()
    mail.mails.clear()
    for step in ("again", "withdraw", "heard"):
        more = {"customer": world.other_customer.uid, "heard": "x", "uid": uuid7()}
        assert desk.post(f"/plant/stop-use/{stop.uid}/{step}", typed | more).status_code == 302
    drain()
    assert mail.mails == []
    assert stopping.ask_unconfirmed(at=clock.now() + timedelta(days=9)) == 0


def test_what_was_withdrawn_before_it_went_out_never_does(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer, settings: Settings
) -> None:
    desk = signed_in("dispatcher")
    settings.EMAIL_PORT = 1  # nobody listens
    mail.mails.clear()
    stop = written(desk, [cured[0]])
    drain()
    assert "not out yet" in desk.get(f"/plant/stop-use/{stop.uid}/").content.decode()
    use(settings, mail)
    typed = WHY | {"sure": "yes"}
    assert desk.post(f"/plant/stop-use/{stop.uid}/withdraw", typed).status_code == 302
    a_day_passes()
    drain()
    assert mail.mails == []


def test_it_is_kept_for_ever(world: World, cured: list[str], signed_in: SignedIn) -> None:
    stop = written(signed_in("dispatcher"), [cured[0]])
    for rows in (StopUse.objects.filter(uid=stop.uid), StopUseCasing.objects.filter(stop=stop)):
        with pytest.raises(DatabaseError), transaction.atomic():
            rows.delete()
    with pytest.raises(DatabaseError), transaction.atomic():
        StopUse.objects.filter(uid=stop.uid).update(why={})
    assert stop.traced == {"load": NUMBER}
    assert isinstance(stop.by, UUID)


@pytest.mark.parametrize("language", ["en", "es"])
def test_it_is_followed_in_both_languages_and_names_are_for_the_office(
    world: World, cured: list[str], signed_in: SignedIn, mail: MailServer, language: str
) -> None:
    stop = written(signed_in("dispatcher"), [cured[0]])
    drain()
    name = world.customer.contacts.get().name
    for role, sees in (("dispatcher", True), ("sales", True), ("plant", False)):
        page = signed_in(role, language).get(f"/plant/stop-use/{stop.uid}/").content.decode()
        assert (name in page) is sees, role
        assert "None" not in page
        counsel = "call counsel now" if language == "en" else "llame ahora a su abogado"
        assert counsel in page
    assert signed_in("sales").get(LOOK).status_code == 403
