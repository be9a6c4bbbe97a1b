"""When a casing is ready its owner hears it once, where and from when, by real SMTP; and what no
longer holds is taken back."""

from datetime import date, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from pytest_django import Settings

from pickups.casings import queries as casings
from pickups.customers import services as customers
from pickups.customers.models import Contact, Customer
from pickups.journal.models import Delivery
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.notices.models import Line
from pickups.notices.queries import days
from pickups.promises import services as promises
from pickups.promises.models import Timetable
from tests.pickups.notices.test_progress import INES, label_of, subjects
from tests.pickups.notices.visits import drain_all, handed, promised, pushed, taken, wanted
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db
EVERY_DAY = list(range(7))


@pytest.fixture(autouse=True)
def zone(settings: Settings) -> None:
    settings.DEALER_TIME_ZONE = "UTC"


def tomorrow(ahead: int = 1) -> date:
    return days.today(clock.now()) + timedelta(days=ahead)


def trucks(world: World, from_plant: list[int] | None, to_yard: list[int] | None) -> None:
    """The first store's regular trucks, published by the services that runs use."""
    ways = [(world.plant.uid, Timetable.Way.FROM_PLANT, from_plant or []),
            (world.yard.uid, Timetable.Way.TO_YARD, to_yard or [])]  # fmt: skip
    rows = [(place, way.value, weekdays) for place, way, weekdays in ways]
    promises.publish_timetable(site=world.store.uid, rows=rows, at=clock.now())


def holders(world: World) -> tuple[str, str, str]:
    return (
        f"plant:{world.plant.uid}", f"person:{world.driver.uid}", f"site:{world.store.uid}"
    )  # fmt: skip


def come_home(phone: Phone, world: World, op: dict[str, Any]) -> None:
    """From the plant onto a truck and down on the store's rack."""
    plant, driver, rack = holders(world)
    handed(phone, op, plant, driver)
    handed(phone, op, driver, rack)


def brought(phone: Phone, world: World, op: dict[str, Any]) -> None:
    told = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": label_of(op)}
    phone.enter("custody.deliver", told)
    pushed(phone)


# --- Finished, and comes on -----------------------------------------------------------------------


def test_a_finished_casing_is_told_with_the_day_on_which_it_comes_and_what_was_promised(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    trucks(world, EVERY_DAY, EVERY_DAY)
    op = wanted(phone, world, **promised(tomorrow(5).isoformat()))
    pushed(phone)
    gateway.tell(label_of(op), "finished")
    drain_all()
    text = text_of(mail.mails[0])
    # The truck from the plant on the day after, the run to the yard on the day after that.
    assert f"Finished; comes to North yard on {day_in_words('en', tomorrow(2))}.\n" in text
    assert f"Promised for {day_in_words('en', tomorrow(5))}.\n" in text
    assert "It is at Fernhollow plant now." in text
    assert "no promise" not in text


def test_what_comes_later_than_it_was_promised_is_said_to_be_late(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    trucks(world, EVERY_DAY, EVERY_DAY)
    late, kept = (wanted(phone, world, **promised(tomorrow(n).isoformat())) for n in (0, 2))
    pushed(phone)
    for op in (late, kept):
        gateway.tell(label_of(op), "finished")
    drain_all()
    said = [text_of(m) for m in mail.mails]
    assert f"Late: it was promised for {day_in_words('en', tomorrow(0))}." in said[0]
    assert "Late:" not in said[1]


@pytest.mark.parametrize("ago", [0, 1])
def test_on_the_morning_of_the_promised_day_nobody_is_told_that_it_is_late(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer, ago: int
) -> None:
    trucks(world, [tomorrow(-1).weekday()], [tomorrow(0).weekday()])
    then = clock.from_ms(clock.to_ms(clock.now()) - ago * 86_400_000)
    op = wanted(phone, world, **promised(tomorrow(0).isoformat()))
    pushed(phone)
    gateway.tell(label_of(op), "finished", happened_at=then)
    _, driver, rack = holders(world)
    told = {"label": label_of(op), "way": "out", "giver": driver, "taker": rack}
    phone.enter("custody.hand_over", told, happened_at=clock.rfc3339(then))
    pushed(phone)
    drain_all()
    text = text_of(mail.mails[0])
    today = day_in_words("en", tomorrow(0))
    assert f"Ready at Bramblewick store; goes out to North yard on {today}.\n" in text
    assert f"Promised for {today}." in text
    assert "Late" not in text


def test_on_the_morning_of_a_transfer_day_nobody_is_told_that_it_is_late(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    trucks(world, [tomorrow(0).weekday()], [tomorrow(1).weekday()])
    op = wanted(phone, world, **promised(tomorrow(1).isoformat()))
    pushed(phone)
    gateway.tell(label_of(op), "finished")
    drain_all()
    text = text_of(mail.mails[0])
    assert f"Finished; comes to North yard on {day_in_words('en', tomorrow(1))}.\n" in text
    assert "Late" not in text


def test_a_promise_that_was_taken_back_is_not_told(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = wanted(phone, world, **promised(tomorrow(-1).isoformat()))
    pushed(phone)
    drain_all()
    told = {k: v for k, v in op["payload"].items() if k != "promised"}
    named = {"fact": op["id"], "label": label_of(op)}
    phone.enter("custody.pick_up", told | {"corrects": named}, version=2)
    pushed(phone)
    gateway.tell(label_of(op), "finished")
    drain_all()
    assert "romised" not in text_of(mail.mails[0])


def test_where_no_truck_goes_regularly_no_day_is_made_up(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    trucks(world, EVERY_DAY, None)
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    text = text_of(mail.mails[0])
    assert "Finished; no day fixed yet on which it comes to North yard." in text
    assert "romised" not in text


def test_another_day_on_which_it_comes_is_no_news(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    trucks(world, EVERY_DAY, EVERY_DAY)
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    trucks(world, EVERY_DAY, [tomorrow(5).weekday()])
    gateway.tell(label_of(op), "finished")
    Delivery.objects.update(done_at=None, not_before=clock.now())
    drain_all()
    assert len(mail.mails) == 1


# --- Ready ----------------------------------------------------------------------------------------


def test_ready_for_the_yard_names_the_run_that_brings_it(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    trucks(world, EVERY_DAY, [tomorrow().weekday()])  # one from the plant would miss this run
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    come_home(phone, world, op)
    drain_all()
    assert subjects(mail) == ["Your casings: 1 finished", "Your casings: 1 ready"]
    text = text_of(mail.mails[1])
    day = day_in_words("en", tomorrow())
    assert f"      Ready at Bramblewick store; goes out to North yard on {day}.\n" in text
    assert "our driver brings what goes out to your yard" in text
    assert "fetch" not in text
    assert "This replaces" not in text
    assert text.count("29 CFR 1910.177") == 1


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", "Ready to be fetched at Bramblewick store, 555 0100."),
        ("es", "Lista para recogerla en Bramblewick store, 555 0100."),
    ],
)
def test_ready_at_the_store_says_where_it_is_fetched_and_whom_to_call(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer, language: str, said: str
) -> None:
    Contact.objects.filter(email=INES).update(language=language)
    trucks(world, EVERY_DAY, EVERY_DAY)
    op = wanted(phone, world, back_to="store", store=str(world.store.uid))
    pushed(phone)
    gateway.tell(label_of(op), "finished")
    drain_all()
    come_home(phone, world, op)
    drain_all()
    day = day_in_words(language, tomorrow())
    comes = {
        "en": f"Finished; comes to Bramblewick store on {day}.",
        "es": f"Terminada; llega a Bramblewick store el {day}.",
    }
    assert comes[language] in text_of(mail.mails[0])
    assert said in text_of(mail.mails[1])
    assert (
        subjects(mail)[1]
        == {"en": "Your casings: 1 ready", "es": "Sus carcasas: 1 lista"}[language]
    )


def test_what_is_finished_and_ready_before_anybody_was_told_is_only_said_to_be_ready(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    come_home(phone, world, op)
    drain_all()
    assert subjects(mail) == ["Your casings: 1 ready"]
    assert "inished" not in text_of(mail.mails[0])


def test_a_customer_whose_home_is_the_plant_hears_ready_when_it_is_finished(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    Customer.objects.filter(uid=world.customer.uid).update(home_site=world.plant)
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    assert subjects(mail) == ["Your casings: 1 ready"]
    assert "Ready at Fernhollow plant; goes out to North yard" in text_of(mail.mails[0])


def test_a_rack_of_another_store_is_not_where_it_starts_from(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    plant, driver, _ = holders(world)
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    handed(phone, op, plant, driver)
    handed(phone, op, driver, f"site:{world.other_store.uid}")
    gateway.tell(label_of(op), "shipped")
    drain_all()
    assert subjects(mail) == ["Your casings: 1 finished"]
    assert "It is at Saltmarsh store now." in text_of(mail.mails[0])


def test_the_counter_that_took_it_in_is_where_it_is_fetched_whatever_its_home(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    plant, driver, _ = holders(world)
    op = wanted(phone, world, back_to="store", store=str(world.other_store.uid))
    pushed(phone)
    gateway.tell(label_of(op), "finished")
    handed(phone, op, plant, driver)
    handed(phone, op, driver, f"site:{world.other_store.uid}")
    drain_all()
    assert "Ready to be fetched at Saltmarsh store, 555 0101." in text_of(mail.mails[0])


def test_a_casing_on_its_way_in_on_the_rack_is_not_ready(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    _, driver, rack = holders(world)
    op = taken(phone, world)
    handed(phone, op, driver, rack, way="in")
    drain_all()
    assert mail.mails == []


def test_scans_again_and_the_driver_who_takes_it_out_are_no_news(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    _, driver, rack = holders(world)
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    come_home(phone, world, op)
    drain_all()
    handed(phone, op, driver, rack)  # the counter scans what the driver has scanned
    handed(phone, op, rack, driver)
    drain_all()
    handed(phone, op, driver, rack)  # nobody was there; it comes back
    drain_all()
    handed(phone, op, rack, driver)
    brought(phone, world, op)
    gateway.tell(label_of(op), "finished")
    Delivery.objects.update(done_at=None, not_before=clock.now())
    drain_all()
    assert subjects(mail) == ["Your casings: 1 ready"]
    assert Line.objects.count() == 1


def test_all_that_a_truck_unloads_in_one_batch_is_one_mail(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    ops = [taken(phone, world) for _ in range(3)]
    assert gateway.post({"events": [gateway.event(label_of(o), "finished") for o in ops]}).status
    drain_all()
    _, driver, rack = holders(world)
    for op in ops:
        told = {"label": label_of(op), "way": "out", "giver": driver, "taker": rack}
        phone.enter("custody.hand_over", told)
    pushed(phone)
    drain_all()
    assert subjects(mail) == ["Your casings: 3 finished", "Your casings: 3 ready"]


# --- What no longer holds -------------------------------------------------------------------------


def test_a_ready_casing_that_is_rejected_after_all_is_said_to_be_with_what_was_said_before(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    come_home(phone, world, op)
    drain_all()
    rejected = gateway.tell(label_of(op), "rejected")
    drain_all()
    assert subjects(mail)[1:] == ["Your casings: 1 rejected"]
    assert "This replaces our mail of " in text_of(mail.mails[1])
    assert "which said that it was ready." in text_of(mail.mails[1])
    gateway.tell(label_of(op), "released", releases=rejected["id"])
    drain_all()
    assert subjects(mail)[2:] == ["Your casings: 1 ready"]
    assert "which said that it was rejected." in text_of(mail.mails[2])


def test_a_rejected_casing_on_the_rack_is_never_said_to_be_ready(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "rejected")
    gateway.tell(label_of(op), "finished")
    come_home(phone, world, op)
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected"]
    assert "eady" not in text_of(mail.mails[0])


def test_one_on_hold_is_told_of_when_the_hold_ends(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    hold = gateway.tell(label_of(op), "hold")
    gateway.tell(label_of(op), "finished")
    come_home(phone, world, op)
    drain_all()
    assert mail.mails == []
    gateway.tell(label_of(op), "released", releases=hold["id"])
    drain_all()
    assert subjects(mail) == ["Your casings: 1 ready"]


def test_where_it_comes_back_to_told_otherwise_is_told_otherwise(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = wanted(phone, world, back_to="store")
    pushed(phone)
    gateway.tell(label_of(op), "finished")
    come_home(phone, world, op)
    drain_all()
    named = {"fact": op["id"], "label": label_of(op)}
    for changed in ({"unit": "T-118"}, {"back_to": "yard"}, {"back_to": "yard"}):
        told = op["payload"] | changed | {"corrects": named}
        phone.enter("custody.pick_up", told, version=2)
        pushed(phone)
        drain_all()
    assert subjects(mail) == ["Your casings: 1 ready"] * 2
    text = text_of(mail.mails[1])
    assert "Ready at Bramblewick store; goes out to North yard" in text
    assert "This replaces our mail of " in text


def test_a_ready_casing_of_another_customer_is_told_to_each_as_their_own_alone(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    come_home(phone, world, op)
    drain_all()
    named = {"fact": op["id"], "label": label_of(op)}
    other = op["payload"] | {"yard": str(world.other_yard.uid), "corrects": named}
    phone.enter("custody.pick_up", other)
    pushed(phone)
    drain_all()
    assert subjects(mail) == ["Your casings: 1 ready", "Your casings: 1 taken back"]
    mistaken = text_of(mail.to(INES)[1])
    assert "with this label was ready. That was our mistake" in mistaken
    for secret in ("Reedbank", "Pit gate", "Saltmarsh", "555 0101"):
        assert secret not in mistaken
    # Its home store is another: there it is not ready yet.
    assert subjects(mail, "abel@reed.example") == ["Sus carcasas: 1 terminada"]


def test_while_the_label_is_contested_nobody_hears_that_it_is_ready(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    label = world.a_label()
    op = taken(phone, world, label)
    taken(phone, world, label, yard=world.other_yard.uid)
    gateway.tell(label, "finished")
    come_home(phone, world, op)
    drain_all()
    assert mail.mails == []


def test_who_does_not_want_it_is_not_written_to(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    silent = customers.add_contact(customer=world.customer, name="Rolf", email="r@tarn.example")
    Contact.objects.filter(uid=silent.uid).update(wants_progress=False)
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    come_home(phone, world, op)
    drain_all()
    assert [m["To"] for m in mail.mails] == [INES]


def test_the_days_of_many_are_read_once_a_store(
    world: World, phone: Phone, gateway: Gateway, django_assert_num_queries: Any
) -> None:
    trucks(world, EVERY_DAY, EVERY_DAY)
    ops = [taken(phone, world) for _ in range(6)]
    for op in ops:
        gateway.tell(label_of(op), "finished")
    orders = list(casings.work_orders(UUID(op["id"]) for op in ops).values())
    with django_assert_num_queries(4):  # since when, timetable, standard times, calendars
        assert len(days.coming(orders, on=tomorrow(), promised={})) == 6
