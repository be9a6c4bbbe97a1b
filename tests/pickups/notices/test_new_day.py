"""A promised day that has changed is told once, by real SMTP, in the reader's language; and what
moved back before anybody heard of it is told to nobody."""

from typing import Any
from uuid import UUID

import pytest
from pytest_django import Settings

from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.notices import revised
from pickups.notices.models import DayTold, Notice
from pickups.notices.words import new_day as words
from pickups.promises import queries, watching
from pickups.promises.watching import NewDay
from tests.conftest import Enrol
from tests.pickups.notices.conftest import a_day_passes
from tests.pickups.notices.visits import drain_all, shown
from tests.pickups.promises.forecasting import DAY, back, forecast, trucks_every_day
from tests.pickups.promises.history import finished
from tests.pickups.promises.promising import by_table, sent, taken, today
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def tells(world: World, settings: Settings) -> None:
    settings.TELLING_BEGINS_HOUR, settings.TELLING_ENDS_HOUR = 0, 24
    settings.PROMISE_TELL_NEW_DAYS = True
    trucks_every_day(world)


def told(mail: MailServer) -> list[str]:
    """The mails about new days, in the order sent."""
    return [text_of(one) for one in mail.mails if "ew day" in str(one["Subject"])]


def by_hand(world: World, op: dict[str, Any], ahead: int) -> None:
    """The office names a day; what it owes is not done yet."""
    uid = UUID(op["id"])
    new = NewDay(queries.standing([uid])[uid].uid, back(ahead), "by_hand")
    assert watching.revise(new_days={uid: new}, by=world.dispatcher.uid, at=clock.now())


def test_one_mail_says_all_new_days_of_a_forecast_what_they_were_and_on_what_they_stand(
    world: World, phone: Phone, mail: MailServer
) -> None:
    ops = [
        taken(phone, world, by_table(back(3))),
        taken(phone, world, by_table(back(4)), back_to="store"),
    ]
    sent(phone)
    forecast(world, *((op, [6]) for op in ops))
    (text,) = told(mail)
    assert mail.mails[-1]["Subject"] == "New days for 2 casings"
    for op in ops:
        assert shown(op["payload"]["label"]) in text
    assert f"Back at North yard on {day_in_words('en', back(6))}." in text
    at_store = day_in_words("en", back(6) - DAY)
    assert f"Ready to be fetched at Bramblewick store on {at_store}." in text
    before = day_in_words("en", back(3))
    assert f"It was promised for {before}: we will not keep that day." in text
    assert text.count("9 of 10 such casings are back by then") == 2
    assert "answer this mail, or call" in text
    assert "/c/" in text
    forecast(world, *((op, [6]) for op in ops))
    assert len(told(mail)) == 1, "the same day again is no news"


def test_what_moves_back_is_told_as_better_news_against_what_was_told_last(
    world: World, phone: Phone, mail: MailServer
) -> None:
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    forecast(world, (op, [6]))
    forecast(world, (op, [3]))
    first, second = told(mail)
    assert "comes sooner after all" not in first
    assert f"We wrote {day_in_words('en', back(6))} before: it comes sooner after all." in second
    assert f"Back at North yard on {day_in_words('en', back(3))}." in second
    assert [d.on for d in DayTold.objects.order_by("id")] == [back(6), back(3)]


def test_what_moved_back_before_a_mail_went_out_is_told_to_nobody(
    world: World, phone: Phone, mail: MailServer
) -> None:
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    by_hand(world, op, 6)
    by_hand(world, op, 3)
    drain_all()
    assert told(mail) == []
    assert not Notice.objects.filter(kind="new_day").exists()


def test_two_changes_at_once_are_one_mail_with_the_last(
    world: World, phone: Phone, mail: MailServer
) -> None:
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    by_hand(world, op, 6)
    by_hand(world, op, 8)
    drain_all()
    (text,) = told(mail)
    assert day_in_words("en", back(8)) in text
    assert day_in_words("en", back(6)) not in text
    assert "Named by us by hand." in text
    for entry in Entry.objects.filter(kind="promise.revised"):
        revised.new_day(entry)
    assert len(told(mail)) == 1


def test_a_mail_that_did_not_go_out_says_later_what_stands_then(
    world: World, phone: Phone, mail: MailServer
) -> None:
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    mail.refuse["ines@tarn.example"] = "450 later"
    by_hand(world, op, 6)
    drain_all()
    assert told(mail) == []
    by_hand(world, op, 9)
    mail.refuse.clear()
    a_day_passes()
    drain_all()
    (text,) = told(mail)
    assert day_in_words("en", back(9)) in text
    assert drain_all() == 0


def test_what_nobody_told_is_written_of_at_no_hour_of_the_night(
    world: World, phone: Phone, mail: MailServer, settings: Settings
) -> None:
    """Its mail was refused in the evening; a person's word goes out at any hour."""
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    mail.refuse["ines@tarn.example"] = "450 later"
    forecast(world, (op, [6]))
    mail.refuse.clear()
    settings.TELLING_ENDS_HOUR = 0
    a_day_passes()
    drain_all()
    assert told(mail) == []
    settings.TELLING_ENDS_HOUR = 24
    a_day_passes()
    drain_all()
    (text,) = told(mail)
    assert day_in_words("en", back(6)) in text
    settings.TELLING_ENDS_HOUR = 0
    by_hand(world, op, 9)
    drain_all()
    assert len(told(mail)) == 2


def test_a_day_that_is_past_is_owned_up_to(world: World, phone: Phone, mail: MailServer) -> None:
    op = taken(phone, world, by_table(today() - 2 * DAY), on=today() - 9 * DAY)
    sent(phone)
    forecast(world, (op, [1]))
    (text,) = told(mail)
    before = day_in_words("en", today() - 2 * DAY)
    assert f"It was promised for {before}: we did not keep that day." in text


def test_nothing_leaves_of_what_is_in_question_finished_at_its_store_or_anothers(
    world: World, phone: Phone, gateway: Gateway, enrol: Enrol, mail: MailServer
) -> None:
    contested, ready, gone = (taken(phone, world, back(3), back_to="store") for _ in range(3))
    sent(phone)
    for op in (contested, ready, gone):
        by_hand(world, op, 6)
    other = enrol(world.other_driver)
    other.pick_up(contested["payload"]["label"], world.other_yard.uid, UUID(int=7))
    assert other.push().status == 200
    finished(gateway, ready, today())
    label = ready["payload"]["label"]
    out = {"label": label, "way": "out", "giver": f"plant:{world.plant.uid}"}
    phone.enter("custody.hand_over", out | {"taker": f"site:{world.store.uid}"})
    gateway.tell(gone["payload"]["label"], "rejected")
    assert phone.push().status == 200
    drain_all()
    assert told(mail) == []


def test_who_wants_no_news_gets_none(world: World, phone: Phone, mail: MailServer) -> None:
    world.customer.contacts.update(wants_progress=False)
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    forecast(world, (op, [6]))
    assert told(mail) == []


def test_a_customer_who_reads_spanish_is_written_to_in_spanish(
    world: World, phone: Phone, mail: MailServer
) -> None:
    world.customer.contacts.update(language="es")
    op = taken(phone, world, by_table(back(3)))
    sent(phone)
    forecast(world, (op, [6]))
    one = mail.mails[-1]
    assert one["Subject"] == f"Día nuevo para 1 carcasa: {day_in_words('es', back(6))}"
    assert f"De vuelta en North yard el {day_in_words('es', back(6))}." in text_of(one)


def test_both_languages_say_everything_with_the_same_names() -> None:
    en, es = words.WORDS["en"], words.WORDS["es"]
    assert en.keys() == es.keys()

    def names(text: str) -> set[str]:
        return {part.split()[0].strip(".,:") for part in text.split("$")[1:]}

    assert {k for k in en if names(en[k]) != names(es[k])} == set()
