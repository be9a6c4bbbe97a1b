"""A signed pickup that its customer says was otherwise: a case with both sides' counts, who settles
it and by when; the customer hears that it came and how it ended."""

from datetime import date, datetime, timedelta
from uuid import UUID, uuid4

import pytest
from django.db import IntegrityError, transaction
from django.test import Client

from pickups.custody import disputes
from pickups.custody.models import Dispute, DisputeStep, Pickup
from pickups.custody.shown import shown
from pickups.kernel import clock
from pickups.notices.models import Notice
from pickups.people import services as people
from pickups.people.models import User
from pickups.people.rules import Words
from pickups.questions.models import Question
from tests.conftest import Enrol
from tests.pickups.desk.conftest import SignedIn
from tests.pickups.notices.conftest import mail  # noqa: F401
from tests.pickups.notices.visits import drain_all, handed, pushed
from tests.pickups.portal.conftest import Opened, opened, text  # noqa: F401
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def signed(world: World, phone: Phone) -> tuple[UUID, list[str]]:
    """Two casings signed for, where the customer counted three; one of them came to the rack."""
    pickup, labels = uuid4(), [world.a_label(), world.a_label()]
    made = [phone.pick_up(label, world.yard.uid, pickup) for label in labels]
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "customer_count": 3}
    payload |= {"casings": [op["id"] for op in made], "signer": "R. Amsel"}
    payload |= {"shown": shown([(label, "") for label in labels])}
    phone.enter("custody.finish_pickup", payload, version=5)
    pushed(phone)
    rack = f"site:{world.store.uid}"
    handed(phone, made[0], f"person:{world.driver.uid}", rack, way="in")
    return pickup, labels


def opened_case(pickup: UUID) -> Dispute:
    case = disputes.tell(visit=pickup, said="you took three", theirs=3, by=None)
    assert case is not None
    return case


def settled_as_it_stands(case: Dispute) -> None:
    stands = disputes.Outcome.STANDS
    assert disputes.settle(dispute=case.uid, outcome=stands, said="Two.", facts=[], by=uuid4())


def test_the_pickup_shows_every_count_and_that_what_was_signed_is_unchanged(
    office: Client, signed: tuple[UUID, list[str]]
) -> None:
    pickup, labels = signed
    page = text(office.get(f"/office/visits/{pickup}/"))
    assert "The customer, at the visit 3" in page
    assert "Scanned in the yard 2" in page
    assert "Came in at a rack or plant 1" in page
    assert "signed: R. Amsel" in page
    assert "What was signed is unchanged." in page
    assert page.count("Not seen at a rack or plant.") == 1
    assert all(label in page for label in labels)
    assert office.get(f"/office/visits/{pickup}/receipt.pdf").content.startswith(b"%PDF")


def test_papers_are_typeset_ten_times_a_minute_for_one_person_whoever_shares_the_address(
    signed_in: SignedIn, signed: tuple[UUID, list[str]]
) -> None:
    office, sales = signed_in(), signed_in("sales")
    address = f"/office/visits/{signed[0]}/receipt.pdf"
    assert [office.get(address).status_code for _ in range(10)] == [200] * 10
    often = office.get(address)
    assert often.status_code == 429
    assert int(often.headers["Retry-After"]) > 0
    assert "Ten papers a minute can be made." in text(often)
    assert "Scanned in the yard 2" in text(often), "the page that it was asked for on"
    assert sales.get(address).status_code == 200


def test_a_customer_opens_a_case_and_hears_that_it_came(
    world: World,
    signed: tuple[UUID, list[str]],
    opened: Opened,  # noqa: F811
    office: Client,
    mail: MailServer,  # noqa: F811
) -> None:
    pickup, _ = signed
    drain_all()
    mail.mails.clear()
    browser, address = opened(), f"/casings/receipts/{pickup}"
    said = {"said": "you took <b>fifteen</b>", "theirs": "15"}
    assert browser.post(f"{address}/otherwise", said).headers["Location"] == address
    case = Dispute.objects.get()
    assert (case.visit, case.theirs, case.opened_by) == (pickup, 15, None)
    assert case.due_on == disputes.due_day(case.opened_at)
    asked = Question.objects.get(kind="disputed")
    assert (asked.owner, asked.subject, asked.facts["theirs"]) == (
        "dispatcher",
        f"pickup:{pickup}",
        15,
    )
    assert "You told us that this was otherwise." in text(browser.get(address))
    drain_all()
    (received,) = mail.mails
    assert "Our list has 2; your count is 15." in text_of(received)
    listed = text(office.get("/office/disputes/"))
    assert "15" in listed
    assert "nobody yet" in listed
    # What is added goes to the same case, and no second mail says so.
    browser.post(f"{address}/otherwise", {"said": "and one was new"})
    drain_all()
    assert len(mail.mails) == 1
    assert [s.kind for s in disputes.steps(case.uid)] == ["opened", "said"]
    page = office.get(f"/office/disputes/{case.uid}/")
    assert "you took &lt;b&gt;fifteen&lt;/b&gt;" in page.content.decode()


@pytest.mark.parametrize("theirs", ["-1", "10000", "many", "1e3"])
def test_a_count_that_cannot_be_is_said_and_what_was_typed_stays(
    signed: tuple[UUID, list[str]],
    opened: Opened,  # noqa: F811
    theirs: str,
) -> None:
    browser = opened()
    typed = {"said": "wrong", "theirs": theirs}
    answer = browser.post(f"/casings/receipts/{signed[0]}/otherwise", typed)
    assert answer.status_code == 400
    assert f"“{theirs}” is no number from 0 to 9999" in text(answer)
    assert ">wrong</textarea>" in answer.content.decode()
    assert Dispute.objects.count() == 0


@pytest.mark.parametrize("said", ["", "  ", "x" * 501, "a\x00b"])
def test_words_are_bounded(
    signed: tuple[UUID, list[str]],
    opened: Opened,  # noqa: F811
    said: str,
) -> None:
    answer = opened().post(f"/casings/receipts/{signed[0]}/otherwise", {"said": said})
    assert answer.status_code == 400
    assert Dispute.objects.count() == 0


def test_another_customer_opens_none(
    world: World,
    signed: tuple[UUID, list[str]],
    opened: Opened,  # noqa: F811
) -> None:
    browser = opened(world.other_customer)
    answer = browser.post(f"/casings/receipts/{signed[0]}/otherwise", {"said": "mine"})
    assert answer.status_code == 404
    assert Dispute.objects.count() == 0


def test_a_customer_may_say_so_much_and_no_more(signed: tuple[UUID, list[str]]) -> None:
    case = opened_case(signed[0])
    tell = [disputes.tell(visit=case.visit, said="more", theirs=None, by=None) for _ in range(25)]
    assert sum(one is not None for one in tell) == disputes.MOST_STEPS_OF_CUSTOMER - 1
    assert DisputeStep.objects.count() == disputes.MOST_STEPS_OF_CUSTOMER
    assert disputes.tell(visit=case.visit, said="ours", theirs=None, by=uuid4()) is not None


def test_the_office_assigns_and_settles_and_the_customer_hears_how(
    world: World,
    office: Client,
    signed: tuple[UUID, list[str]],
    mail: MailServer,  # noqa: F811
) -> None:
    pickup, _ = signed
    said = {"said": "called: they say three", "theirs": "3"}
    address = office.post(f"/office/visits/{pickup}/dispute", said).headers["Location"]
    case = Dispute.objects.get()
    assert address == f"/office/disputes/{case.uid}/"
    drain_all()
    mail.mails.clear()
    who = User.objects.filter(role="dispatcher").first()
    assert who is not None
    due = (clock.now() + timedelta(days=9)).date()
    office.post(f"{address}assign", {"to": str(who.uid), "due_on": due.isoformat()})
    office.post(f"{address}note", {"said": "gate camera shows two"})
    case.refresh_from_db()
    assert (case.assigned, case.due_on) == (who.uid, due)
    # A correction is claimed only where there is one.
    answer = office.post(f"{address}settle", {"outcome": "corrected", "said": "put right"})
    assert answer.status_code == 400
    assert "Nothing in the list was corrected since" in text(answer)
    office.post(f"{address}settle", {"outcome": "stands", "said": "The camera shows two."})
    case.refresh_from_db()
    assert case.outcome == "stands"
    assert Question.objects.get(kind="disputed").settled_by == who.uid
    drain_all()
    (told,) = mail.mails
    assert "What the receipt lists stands." in text_of(told)
    assert "We add: The camera shows two." in text_of(told)
    kinds = [s.kind for s in disputes.steps(case.uid)]
    assert kinds == ["opened", "assigned", "said", "settled"]
    # What is over is over: nothing is added, and a later word opens another case.
    office.post(f"{address}settle", {"outcome": "goodwill", "said": "again"})
    case.refresh_from_db()
    assert case.outcome == "stands"
    opened_case(pickup)
    assert Dispute.objects.count() == 2


def test_a_note_that_was_written_behind_the_end_is_never_what_the_customer_reads(
    world: World,
    signed: tuple[UUID, list[str]],
    mail: MailServer,  # noqa: F811
) -> None:
    case = opened_case(signed[0])
    later, words = clock.now() + timedelta(hours=1), uuid4()
    people.keep_words({words: "ours only"}, kind=Words.DISPUTE, at=later)
    DisputeStep.objects.create(dispute=case, kind="said", at=later, by=uuid4(), words=words)
    drain_all()
    mail.mails.clear()
    settled_as_it_stands(case)
    drain_all()
    (told,) = mail.mails
    assert "We add: Two." in text_of(told)
    assert "ours only" not in text_of(told)


def test_while_its_list_is_in_doubt_our_number_is_told_to_nobody(
    world: World,
    phone: Phone,
    signed: tuple[UUID, list[str]],
    mail: MailServer,  # noqa: F811
) -> None:
    drain_all()
    mail.mails.clear()
    phone.pick_up(world.a_label(), world.yard.uid, signed[0])
    pushed(phone)
    opened_case(signed[0])
    drain_all()
    (told,) = mail.mails
    assert "Our list has" not in text_of(told)
    assert "Your count is 3." in text_of(told)


def test_a_pickup_that_turns_out_to_be_anothers_is_told_to_nobody_and_asked_about(
    world: World,
    signed: tuple[UUID, list[str]],
    mail: MailServer,  # noqa: F811
) -> None:
    pickup, _ = signed
    case = opened_case(pickup)
    drain_all()
    mail.mails.clear()
    other = {"yard": world.other_yard.uid, "customer": world.other_customer.uid}
    Pickup.objects.filter(uid=pickup).update(**other)
    settled_as_it_stands(case)
    drain_all()
    assert mail.mails == []
    asked = Question.objects.get(kind="dispute_moved")
    assert (asked.owner, asked.subject) == ("dispatcher", f"pickup:{pickup}")
    assert asked.facts == {"dispute": str(case.uid)}


def test_what_was_settled_before_its_first_mail_went_out_is_told_as_settled_alone(
    world: World,
    signed: tuple[UUID, list[str]],
    mail: MailServer,  # noqa: F811
) -> None:
    drain_all()
    case = opened_case(signed[0])
    # As a mail server that was away leaves it: begun, not sent, its reaction still owed.
    contact = world.customer.contacts.get(wants_receipts=True)
    cause = f"dispute:{case.uid}:open"
    Notice.objects.create(kind="dispute", cause=cause, contact=contact.uid, made_at=clock.now())
    mail.mails.clear()
    settled_as_it_stands(case)
    drain_all()
    assert [m["Subject"].split(":")[0] for m in mail.mails] == ["Settled"]
    assert not Notice.objects.filter(sent_at=None).exists()


@pytest.mark.parametrize("due_on", ["2020-01-01", "9999-12-31", "tomorrow"])
def test_a_case_is_due_within_a_year_and_not_before_today(
    office: Client, signed: tuple[UUID, list[str]], due_on: str
) -> None:
    case = opened_case(signed[0])
    typed = {"to": "", "due_on": due_on}
    answer = office.post(f"/office/disputes/{case.uid}/assign", typed)
    assert answer.status_code == 400
    assert f"“{due_on}” is no day from today to a year from now." in text(answer)
    # One that is overdue is given to somebody as it is.
    Dispute.objects.filter(uid=case.uid).update(due_on=date(2026, 1, 5))
    typed["due_on"] = "2026-01-05"
    assert office.post(f"/office/disputes/{case.uid}/assign", typed).status_code == 302


def test_a_count_of_scrap_put_right_is_a_correction(
    world: World, phone: Phone, office: Client
) -> None:
    pickup = uuid4()
    told = {"pickup": str(pickup), "yard": str(world.yard.uid), "count": 15}
    first = phone.enter("custody.count_scrap", told)
    end = {"pickup": str(pickup), "yard": str(world.yard.uid), "scrap": [first["id"]]}
    phone.enter("custody.finish_pickup", end, version=5)
    pushed(phone)
    case = opened_case(pickup)
    again = phone.enter("custody.count_scrap", {**told, "count": 14, "corrects": first["id"]})
    pushed(phone)
    office.post(f"/office/disputes/{case.uid}/settle", {"outcome": "corrected", "said": "found"})
    assert disputes.steps(case.uid)[-1].told["facts"] == [again["id"]]


def test_corrected_names_the_facts_that_corrected_the_list(
    world: World, phone: Phone, office: Client, signed: tuple[UUID, list[str]]
) -> None:
    pickup, _ = signed
    case = opened_case(pickup)
    late = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    pushed(phone)
    office.post(f"/office/disputes/{case.uid}/settle", {"outcome": "corrected", "said": "found"})
    case.refresh_from_db()
    assert case.outcome == "corrected"
    assert disputes.steps(case.uid)[-1].told["facts"] == [late["id"]]
    assert "What stands is not what was signed." in text(office.get(f"/office/visits/{pickup}/"))


def test_overdue_ones_stand_first_and_are_said(
    world: World, enrol: Enrol, office: Client, signed: tuple[UUID, list[str]]
) -> None:
    young = opened_case(signed[0])
    phone, pickup = enrol(), uuid4()
    made = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    phone.finish(pickup, world.yard.uid, [made["id"]])
    pushed(phone)
    old = opened_case(pickup)
    Dispute.objects.filter(uid=old.uid).update(due_on=date(2026, 1, 5))
    page = office.get("/office/disputes/").content.decode()
    assert page.index(str(old.uid)) < page.index(str(young.uid))
    assert page.count("overdue since Mon 5 Jan 2026") == 1


def test_who_only_looks_settles_nothing(
    signed_in: SignedIn, signed: tuple[UUID, list[str]]
) -> None:
    case, sales = opened_case(signed[0]), signed_in("sales")
    assert sales.get(f"/office/disputes/{case.uid}/").status_code == 200
    assert b"<textarea" not in sales.get(f"/office/disputes/{case.uid}/").content
    answer = sales.post(f"/office/disputes/{case.uid}/settle", {"outcome": "stands", "said": "x"})
    assert answer.status_code == 403


def test_a_step_is_never_changed(signed: tuple[UUID, list[str]]) -> None:
    opened_case(signed[0])
    for change in (DisputeStep.objects.all().update, DisputeStep.objects.all().delete):
        with pytest.raises(IntegrityError), transaction.atomic():
            change(**({"words": uuid4()} if change.__name__ == "update" else {}))


@pytest.mark.parametrize(
    ("opened_on", "due_on"),
    [("2026-04-27", "2026-04-30"), ("2026-04-30", "2026-05-05"), ("2026-05-02", "2026-05-06")],
)
def test_three_working_days(opened_on: str, due_on: str) -> None:
    assert disputes.due_day(
        datetime.fromisoformat(f"{opened_on}T17:00:00+00:00")
    ) == date.fromisoformat(due_on)
