"""What became of casings reaches their customer once, by real SMTP, and is set right when wrong."""

import threading
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import connection, transaction
from django.test import Client
from pytest_django import Settings

from pickups.custody import services as custody
from pickups.custody.fold import Fact, Kind
from pickups.custody.ledger import Told
from pickups.customers import queries as customers_read
from pickups.customers import services as customers
from pickups.customers.models import Contact, Customer
from pickups.journal import queries as journal_read
from pickups.journal.models import Delivery, Entry
from pickups.journal.services import drain
from pickups.kernel import clock, locks
from pickups.notices import queries
from pickups.notices.models import Line, Notice
from tests.conftest import Enrol
from tests.pickups.notices.conftest import a_day_passes, use
from tests.pickups.notices.visits import drain_all, shown, taken, taken_back, told_again
from tests.world import Phone, World
from tests.world.mail import MailServer, running, text_of
from tests.world.plant import Gateway
from tests.world.seat import specify
from tests.world.threads import at_once

pytestmark = pytest.mark.django_db

INES, ABEL = "ines@tarn.example", "abel@reed.example"


def label_of(op: dict[str, Any]) -> str:
    return str(op["payload"]["label"])


def subjects(mail: MailServer, address: str = INES) -> list[str]:
    return [str(m["Subject"]) for m in mail.to(address)]


# --- Finished -----------------------------------------------------------------------------------


def test_a_finished_casing_is_told_with_where_it_is_and_what_happens_next(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world, size="11R22.5", tin="4B08 2910")
    gateway.tell(label_of(op), "received", station="receiving")
    drain_all()
    assert mail.mails == []
    gateway.tell(label_of(op), "finished", station="paint")
    drain_all()
    (told,) = mail.mails
    assert told["To"] == INES
    assert told["Subject"] == "Your casings: 1 finished"
    assert told["Auto-Submitted"] == "auto-generated"
    text = text_of(told)
    assert f"  1.  {shown(label_of(op))}   11R22.5   4B08 2910\n" in text
    assert "Picked up at North yard, " in text
    assert "It is at Fernhollow plant now." in text
    assert "finished casings come back to you with a delivery of ours" in text
    assert "29 CFR 1910.177" in text
    assert "rejected" not in text.lower()


def test_the_link_in_a_mail_opens_the_contacts_page(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer, settings: Settings
) -> None:
    settings.PUBLIC_BASE_URL = "https://yardloop.example"
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    (address,) = [w for w in text_of(mail.mails[0]).split() if "://" in w]
    assert address.startswith("https://yardloop.example/c/")
    token = address.rpartition("/")[2]
    found = customers_read.contact_by_link(token, at=clock.now())
    assert found is not None
    assert found.email == INES
    assert Client().get(f"/c/{token}").status_code == 200


def test_two_scans_of_one_finish_and_every_repetition_tell_it_once(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    event = gateway.tell(label_of(op), "finished", station="paint")
    drain_all()
    gateway.tell(label_of(op), "finished", station="shipping")
    assert gateway.post(event).json["answers"][0]["repeat"] is True
    drain_all()
    Delivery.objects.update(done_at=None, not_before=clock.now())
    drain_all()
    gateway.tell(label_of(op), "shipped", station="shipping")
    drain_all()
    assert len(mail.mails) == 1
    assert (Notice.objects.count(), Line.objects.count()) == (1, 1)
    assert journal_read.owed() == 0


def test_a_casing_that_is_back_before_anybody_was_told_is_no_news(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    payload = {"delivery": str(UUID(int=7)), "yard": str(world.yard.uid), "label": label_of(op)}
    phone.enter("custody.deliver", payload)
    assert phone.push().status == 200
    drain_all()
    assert mail.mails == []


# --- Rejected -----------------------------------------------------------------------------------


def test_a_rejection_is_told_with_reason_zone_station_cause_and_what_happens_next(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    finding = {"zone": "sidewall", "kind": "cut", "size_mm": 38}
    gateway.tell(label_of(op), "rejected", reason="SW_CUT", cause="road_or_dock",
                 station="initial-inspection", operator="op-7", findings=[finding])  # fmt: skip
    drain_all()
    (told,) = mail.mails
    assert told["Subject"] == "Your casings: 1 rejected"
    text = text_of(told)
    assert [
        line
        for line in (
            "Why: a cut or scrape in the sidewall down to the cord, or 2/32 inch deep.",
            "Where on it: sidewall.",
            "Found at: initial inspection.",
            "Cause: the road or a dock.",
            "It is at Fernhollow plant now.",
            "we will ask you what to do with each rejected casing",
            '"REJECTED \N{EN DASH} do not mount or inflate"',
            "29 CFR 1910.177",
        )
        if line not in text
    ] == []
    assert "op-7" not in text
    assert "we owe you" not in text
    assert "come back to you with a delivery" not in text


def test_a_rejection_says_what_the_specification_of_its_owner_has_done_with_it(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    specify(str(world.customer.uid), rejects="return")
    gateway.tell(label_of(op), "rejected", reason="SW_CUT", cause="casing")
    drain_all()
    text = text_of(mail.mails[0])
    assert "by your specification each comes back to you with the next run" in text
    assert "we will ask you" not in text


def test_what_the_plant_spoiled_it_owes_and_says_so(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "rejected", reason="CURED_DEFECT", cause="plant")
    drain_all()
    text = text_of(mail.mails[0])
    assert "Cause: our plant." in text
    assert "What our plant has spoiled we owe you" in text


def test_each_contact_hears_it_in_the_language_spoken(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    customers.add_contact(
        customer=world.customer, name="Teo Marsh", email="teo@tarn.example", language="es"
    )
    op = taken(phone, world)
    gateway.tell(label_of(op), "rejected", reason="ZIPPER", cause="plant", station="shearography")
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected"]
    (spanish,) = mail.to("teo@tarn.example")
    assert spanish["Subject"] == "Sus carcasas: 1 rechazada"
    text = text_of(spanish)
    assert "las cuerdas del flanco están fatigadas" in text
    assert "Hallado en: shearografía." in text
    assert "Causa: nuestra planta." in text
    assert "se lo debemos" in text
    assert "Ahora está en Fernhollow plant." in text
    assert "(no montar ni inflar)" in text


@pytest.mark.parametrize("order", [("finished", "rejected"), ("rejected", "finished")])
@pytest.mark.parametrize("between", [False, True], ids=["told at the end", "told between"])
def test_a_rejected_casing_is_never_announced_as_finished_after_it(
    world: World,
    phone: Phone,
    gateway: Gateway,
    mail: MailServer,
    order: tuple[str, str],
    between: bool,
) -> None:
    op = taken(phone, world)
    for outcome in order:
        gateway.tell(label_of(op), outcome)
        if between:
            drain_all()
    drain_all()
    told = [s.rpartition(" ")[2] for s in subjects(mail)]
    assert told == (["finished", "rejected"] if between and order[0] == "finished" else
                    ["rejected"])  # fmt: skip
    if len(told) == 2:
        assert "which said that it was finished" in text_of(mail.mails[1])


def test_two_stations_that_reject_for_one_reason_tell_it_once_and_another_reason_replaces_it(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "rejected", reason="ZIPPER", station="shearography")
    drain_all()
    gateway.tell(label_of(op), "rejected", reason="ZIPPER", station="buffing")
    drain_all()
    assert len(mail.mails) == 1
    gateway.tell(label_of(op), "rejected", reason="SEPARATION", station="buffing")
    drain_all()
    assert len(mail.mails) == 2
    text = text_of(mail.mails[1])
    assert "plies or belts have come apart inside" in text
    assert "This replaces our mail of " in text


# --- Corrected ----------------------------------------------------------------------------------


def test_a_rejection_that_is_released_is_taken_back_and_one_made_anew_is_told_anew(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    first = gateway.tell(label_of(op), "rejected", reason="SW_CUT")
    drain_all()
    gateway.tell(label_of(op), "released", releases=first["id"])
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected", "Your casings: 1 taken back"]
    text = text_of(mail.mails[1])
    assert "said that it was rejected. That no longer holds" in text
    assert "do not mount" not in text
    gateway.tell(label_of(op), "rejected", reason="SW_CUT")
    drain_all()
    assert subjects(mail)[2:] == ["Your casings: 1 rejected"]
    assert "This replaces" not in text_of(mail.mails[2])


def test_a_rejection_released_and_made_anew_at_once_is_a_new_cause(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op, at = taken(phone, world), clock.now()
    first = gateway.tell(label_of(op), "rejected", reason="SW_CUT", happened_at=at)
    drain_all()
    later = at + timedelta(seconds=1)
    gateway.tell(label_of(op), "released", releases=first["id"], happened_at=later)
    gateway.tell(
        label_of(op), "rejected", reason="SW_CUT", happened_at=later + timedelta(seconds=1)
    )
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected"] * 2
    assert "This replaces our mail of " in text_of(mail.mails[1])


def test_a_rejection_that_two_stations_told_still_stands_when_one_of_them_takes_it_back(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    """Whatever order it is told in: nothing new for the customer, and nothing twice."""
    op, at = taken(phone, world), clock.now() - timedelta(hours=1)

    def scan(minute: int, outcome: str, **more: Any) -> dict[str, Any]:
        if outcome == "rejected":
            more["reason"] = "SW_CUT"
        return gateway.tell(
            label_of(op), outcome, happened_at=at + timedelta(minutes=minute), **more
        )

    first = scan(0, "rejected")
    scan(1, "rejected", station="buffing")
    drain_all()
    scan(2, "released", releases=first["id"])
    drain_all()
    scan(3, "rejected", station="shipping")
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected"]


def test_a_rejection_released_of_a_finished_casing_lets_it_be_finished(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    first = gateway.tell(label_of(op), "rejected")
    gateway.tell(label_of(op), "finished")
    drain_all()
    gateway.tell(label_of(op), "released", releases=first["id"])
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected", "Your casings: 1 finished"]
    assert "which said that it was rejected" in text_of(mail.mails[1])


def test_a_casing_that_moves_to_another_label_takes_what_was_told_of_it_back(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "rejected")
    drain_all()
    other = world.a_label()
    told_again(phone, op, label=other)
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected", "Your casings: 1 taken back"]
    text = text_of(mail.mails[1])
    assert f"1.  {shown(other)}" in text
    assert f"We knew it by the label {shown(label_of(op))} then." in text


def test_a_casing_withdrawn_after_it_was_told_of_is_said_to_be_a_mistake(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    taken_back(phone, op)
    gateway.tell(label_of(op), "finished")
    drain_all()
    assert subjects(mail) == ["Your casings: 1 finished", "Your casings: 1 taken back"]
    text = text_of(mail.mails[1])
    assert shown(label_of(op)) in text
    assert "That was our mistake; please take it as not said." in text


def test_a_rejection_that_the_plant_takes_back_is_said_to_be_a_mistake_at_once(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    told = gateway.tell(label_of(op), "rejected")
    drain_all()
    gateway.tell(label_of(op), "withdrawn", withdraws=told["id"], note="the wrong tire")
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected", "Your casings: 1 taken back"]


def test_a_casing_that_turns_out_to_be_another_customers_tells_each_only_their_own(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world, size="315/80R22.5")
    gateway.tell(label_of(op), "rejected", reason="RUN_FLAT", cause="customer")
    drain_all()
    told_again(phone, op, yard=str(world.other_yard.uid))
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected", "Your casings: 1 taken back"]
    mistaken = text_of(mail.to(INES)[1])
    assert "That was our mistake" in mistaken
    for secret in ("Reedbank", "Pit gate", "315/80R22.5", "overloaded"):
        assert secret not in mistaken
    assert subjects(mail, ABEL) == ["Sus carcasas: 1 rechazada"]
    theirs = text_of(mail.to(ABEL)[0])
    assert "North yard" not in theirs
    assert "Tarn" not in theirs
    assert "sustituye" not in theirs


# --- Nothing leaves -----------------------------------------------------------------------------

Settle = Callable[[Phone, dict[str, Any], World], None]


def withdrawn(phone: Phone, op: dict[str, Any], world: World) -> None:
    taken_back(phone, op)


def corrected(phone: Phone, op: dict[str, Any], world: World) -> None:
    told_again(phone, op, label=world.a_label())


@pytest.mark.parametrize("settle", [withdrawn, corrected])
@pytest.mark.parametrize("outcome", ["finished", "rejected"])
def test_while_a_label_is_contested_nothing_leaves_and_then_the_owner_hears_it_once(
    world: World, enrol: Enrol, gateway: Gateway, mail: MailServer, settle: Settle, outcome: str
) -> None:
    ours, theirs = enrol(), enrol(world.other_driver)
    op = taken(ours, world)
    other = taken(theirs, world, label_of(op), yard=world.other_yard.uid)
    gateway.tell(label_of(op), outcome)
    drain_all()
    a_day_passes()
    drain_all()
    assert mail.mails == []
    assert Notice.objects.count() == 0
    settle(theirs, other, world)
    drain_all()
    assert subjects(mail) == [f"Your casings: 1 {outcome}"]
    assert mail.to(ABEL) == []


def test_a_contest_settled_for_the_other_sets_right_what_the_first_was_told(
    world: World, enrol: Enrol, gateway: Gateway, mail: MailServer
) -> None:
    ours, theirs = enrol(), enrol(world.other_driver)
    op = taken(ours, world)
    gateway.tell(label_of(op), "rejected")
    drain_all()
    taken(theirs, world, label_of(op), yard=world.other_yard.uid)
    drain_all()
    assert len(mail.mails) == 1
    told_again(ours, op, label=world.a_label())
    drain_all()
    assert subjects(mail) == ["Your casings: 1 rejected", "Your casings: 1 taken back"]
    assert subjects(mail, ABEL) == ["Sus carcasas: 1 rechazada"]


def test_a_contest_settled_for_the_one_who_was_told_says_nothing_again(
    world: World, enrol: Enrol, gateway: Gateway, mail: MailServer
) -> None:
    ours, theirs = enrol(), enrol(world.other_driver)
    op = taken(ours, world)
    gateway.tell(label_of(op), "rejected")
    drain_all()
    other = taken(theirs, world, label_of(op), yard=world.other_yard.uid)
    taken_back(theirs, other)
    drain_all()
    assert len(mail.mails) == 1


def test_a_casing_on_hold_is_told_of_when_the_hold_ends(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    hold = gateway.tell(label_of(op), "hold")
    gateway.tell(label_of(op), "finished")
    drain_all()
    assert mail.mails == []
    gateway.tell(label_of(op), "released", releases=hold["id"])
    drain_all()
    assert subjects(mail) == ["Your casings: 1 finished"]


def test_nothing_is_told_of_a_casing_that_was_withdrawn_before(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    taken_back(phone, op)
    gateway.tell(label_of(op), "rejected")
    drain_all()
    assert mail.mails == []


def test_who_does_not_want_it_has_no_address_or_was_erased_is_not_written_to(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    silent = customers.add_contact(customer=world.customer, name="Rolf", email="r@tarn.example")
    Contact.objects.filter(uid=silent.uid).update(wants_progress=False)
    customers.add_contact(customer=world.customer, name="No Address", email="")
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    assert [m["To"] for m in mail.mails] == [INES]
    Contact.objects.filter(email=INES).delete()
    gateway.tell(label_of(op), "rejected")
    drain_all()
    assert len(mail.mails) == 1
    assert journal_read.owed() == 0


def test_who_wants_no_more_mails_gets_no_corrections_either(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "rejected")
    drain_all()
    Contact.objects.filter(email=INES).update(wants_progress=False)
    told_again(phone, op, yard=str(world.other_yard.uid))
    drain_all()
    assert len(mail.to(INES)) == 1
    assert len(mail.to(ABEL)) == 1


# --- Whole batches ------------------------------------------------------------------------------


def test_all_casings_of_a_batch_reach_a_contact_in_one_mail_and_nobody_elses(
    world: World, enrol: Enrol, gateway: Gateway, mail: MailServer
) -> None:
    ours, theirs = enrol(), enrol(world.other_driver)
    mine = [label_of(taken(ours, world)) for _ in range(3)]
    other = label_of(taken(theirs, world, yard=world.other_yard.uid))
    events = [gateway.event(label, "finished") for label in [*mine, other, world.a_label()]]
    assert gateway.post({"events": events}).status == 200
    drain_all()
    (told,) = mail.to(INES)
    assert told["Subject"] == "Your casings: 3 finished"
    assert all(shown(label) in text_of(told) for label in mine)
    assert shown(other) not in text_of(told)
    assert subjects(mail, ABEL) == ["Sus carcasas: 1 terminada"]
    assert len(mail.mails) == 2


def test_what_the_plant_told_before_the_phone_had_signal_is_told_when_it_meets_in_one_mail(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    labels = [world.a_label() for _ in range(3)]
    gateway.tell(labels[0], "rejected", reason="RUN_FLAT")
    for label in labels[1:]:
        gateway.tell(label, "finished")
    drain_all()
    assert mail.mails == []
    for label in labels:
        phone.pick_up(label, world.yard.uid, UUID(int=9))
    assert phone.push().status == 200
    assert Entry.objects.filter(kind="casing.adopted").count() == 1
    drain_all()
    (told,) = mail.mails
    assert told["Subject"] == "Your casings: 1 rejected, 2 finished"
    text = text_of(told)
    assert text.index("REJECTED: 1") < text.index("FINISHED: 2")
    assert text.index(shown(labels[0])) < text.index("FINISHED: 2")


# --- Mail servers and workers -------------------------------------------------------------------


def test_a_mail_that_waited_says_what_stands_when_it_goes(
    world: World, phone: Phone, gateway: Gateway, settings: Settings
) -> None:
    server = MailServer()
    use(settings, server)
    ops = [taken(phone, world) for _ in range(2)]
    events = [gateway.event(label_of(op), "rejected") for op in ops]
    assert gateway.post({"events": events}).status == 200
    assert drain() > 0
    assert [n.tries for n in queries.not_out()] == [1]
    gateway.tell(label_of(ops[0]), "released", releases=events[0]["id"])
    with running(server):
        a_day_passes()
        drain_all()
        a_day_passes()
        drain_all()
    (told,) = server.mails
    assert told["Subject"] == "Your casings: 1 rejected"
    assert shown(label_of(ops[0])) not in text_of(told)
    assert shown(label_of(ops[1])) in text_of(told)
    assert journal_read.owed() == 0


def test_a_mail_that_waited_until_nothing_of_it_holds_is_not_sent_and_worries_nobody(
    world: World, phone: Phone, gateway: Gateway, settings: Settings
) -> None:
    server = MailServer()
    use(settings, server)
    op = taken(phone, world)
    event = gateway.tell(label_of(op), "rejected")
    assert drain() > 0
    gateway.tell(label_of(op), "released", releases=event["id"])
    with running(server):
        a_day_passes()
        drain_all()
    assert server.mails == []
    assert queries.not_out() == []
    assert (Notice.objects.count(), Line.objects.count()) == (0, 0)
    assert journal_read.owed() == 0


def test_an_address_that_is_refused_keeps_nobody_else_waiting_and_hears_it_later(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    customers.add_contact(customer=world.customer, name="a", email="a@tarn.example")
    mail.refuse = {INES: "450 later"}
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    assert [m["To"] for m in mail.mails] == ["a@tarn.example"]
    mail.refuse = {}
    gateway.tell(label_of(op), "finished")  # another entry finds the lines that did not go out
    drain_all()
    assert subjects(mail) == ["Your casings: 1 finished"]
    a_day_passes()
    drain_all()
    assert len(mail.mails) == 2
    assert journal_read.owed() == 0


def test_the_same_lines_carry_the_same_message_id_and_others_another(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    drain_all()
    Notice.objects.update(sent_at=None)  # a crash between the server's 250 and our mark
    Delivery.objects.update(done_at=None)
    drain_all()
    Notice.objects.update(sent_at=None)  # the same crash, and another entry comes first
    gateway.tell(label_of(op), "finished")
    drain_all()
    gateway.tell(label_of(op), "rejected")
    drain_all()
    first, again, by_another, other = (m["Message-ID"] for m in mail.mails)
    assert first == again == by_another != other


@pytest.mark.django_db(transaction=True)
def test_while_one_mail_about_a_casing_is_on_its_way_another_waits_and_then_follows_it(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op = taken(phone, world)
    gateway.tell(label_of(op), "finished")
    mail.gate.clear()

    def second() -> None:
        assert mail.arrived.wait(10)
        gateway.tell(label_of(op), "rejected")
        gateway.tell(label_of(op), "finished")
        try:
            assert drain_all() >= 2
        finally:
            mail.gate.set()

    at_once(drain_all, second)
    assert subjects(mail) == ["Your casings: 1 finished"]
    a_day_passes()
    drain_all()
    assert subjects(mail) == ["Your casings: 1 finished", "Your casings: 1 rejected"]
    assert "which said that it was finished" in text_of(mail.mails[1])
    assert journal_read.owed() == 0


@pytest.mark.django_db(transaction=True)
def test_a_mail_waits_for_what_is_being_written_about_its_casings(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    """Half of what is written, seen between two reads, would tell what never stood."""
    op, written = taken(phone, world), threading.Event()
    gateway.tell(label_of(op), "finished")
    now = clock.now()
    facts = {"at": clock.rfc3339(now), "pickup": str(uuid4()), "yard": str(world.other_yard.uid)}
    rival = Fact(uuid4(), Kind.PICKED_UP, label_of(op), clock.to_ms(now), told=facts)

    def write() -> None:
        with transaction.atomic():
            locks.take([locks.label_key(label_of(op))])
            told = Told(rival, now, by=None, device=None, skew_ms=None)
            custody.record([told], site=world.store.uid, at=now)
            written.set()
            for _ in range(400):
                if waiting_for_a_lock():
                    return
                threading.Event().wait(0.005)

    def send() -> int:
        assert written.wait(10)
        return drain_all()

    at_once(write, send)
    assert mail.mails == [], "the label is contested by now"


@pytest.mark.django_db(transaction=True)
def test_news_of_a_casing_that_gets_another_label_just_then_is_not_lost(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    op, written = taken(phone, world), threading.Event()
    gateway.tell(label_of(op), "finished")
    old, other, now = label_of(op), world.a_label(), clock.now()
    said = {"at": clock.rfc3339(now), "now": other, "why": "lost"}
    swap = Fact(uuid4(), Kind.RELABELLED, old, clock.to_ms(now), told=said)

    def write() -> None:
        with transaction.atomic():
            locks.take([locks.label_key(old), locks.label_key(other)])
            told = Told(swap, now, by=None, device=None, skew_ms=None)
            custody.record([told], site=world.store.uid, at=now)
            written.set()
            for _ in range(400):
                if waiting_for_a_lock():
                    return
                threading.Event().wait(0.005)

    def send() -> int:
        assert written.wait(10)
        return drain_all()

    at_once(write, send)
    assert subjects(mail) == ["Your casings: 1 finished"]
    assert shown(other) in text_of(mail.mails[0])
    a_day_passes()
    drain_all()
    assert journal_read.owed() == 0  # who else met the new label just then has come again
    assert subjects(mail) == ["Your casings: 1 finished"]


def waiting_for_a_lock() -> int:
    with connection.cursor() as c:
        c.execute(
            "SELECT count(*) FROM pg_locks l JOIN pg_database d ON d.oid = l.database"
            " WHERE d.datname = current_database() AND locktype = 'advisory' AND NOT granted"
        )
        return int(c.fetchone()[0])


@pytest.mark.django_db(transaction=True)
def test_many_workers_at_once_tell_each_casing_once(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer
) -> None:
    labels = [label_of(taken(phone, world)) for _ in range(4)]
    for label in labels * 2:
        gateway.tell(label, "finished")
    for _ in range(12):
        at_once(*[drain_all for _ in range(4)])
        a_day_passes()
    assert journal_read.owed() == 0
    told = [label for label in labels for m in mail.mails if shown(label) in text_of(m)]
    assert told == labels


@pytest.mark.parametrize(
    "name",
    [
        "$counts ${name} $",
        "North\r\nBcc: abel@reed.example\r\n\r\nyard",
        "{{ x }} %s \\",
        "北 & Søn",
    ],
)
def test_names_cannot_break_headers_or_words(
    world: World, phone: Phone, gateway: Gateway, mail: MailServer, name: str
) -> None:
    customers.rename_yard(uid=world.yard.uid, name=name, address="")
    Customer.objects.update(name=name)
    Contact.objects.filter(email=INES).update(name=name)
    op = taken(phone, world, size="$on ${tin}", tin="$x\nBcc: a@b")
    gateway.tell(label_of(op), "rejected")
    drain_all()
    (told,) = mail.mails
    assert told.keys() == [
        "Content-Type",
        "MIME-Version",
        "Content-Transfer-Encoding",
        "Subject",
        "From",
        "To",
        "Date",
        "Message-ID",
        "Auto-Submitted",
    ]
    assert (told["To"], told["Subject"]) == (INES, "Your casings: 1 rejected")
    text = text_of(told)
    plain = name.replace("\r\n", "\n")
    assert text.startswith(f"Dear {plain},\n\nNews of casings of {plain}.")
    assert f"Picked up at {plain}, " in text
    assert "$on ${tin}   $x\nBcc: a@b\n" in text
