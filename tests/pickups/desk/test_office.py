"""What needs a person, and what is decided about it."""

import re
from datetime import timedelta
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

import psycopg
import pytest
from django.conf import settings as django_settings
from django.db import connection
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact
from pickups.desk import words
from pickups.desk.queries.beside import DOUBTS
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.kernel.clock import rfc3339
from pickups.kernel.locks import label_key
from pickups.questions import services as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from plant.inspection import keeping
from tests.conftest import Enrol
from tests.pickups.desk.conftest import Contested, SignedIn
from tests.world import World
from tests.world.plant import Gateway


def withdraw(browser: Client, c: Contested, which: UUID, said: str = "wrong pile") -> int:
    body = {"work_order": str(which), "said": said}
    return browser.post(f"/office/questions/{c.question}/withdraw", body).status_code


def test_both_casings_of_a_contested_label_stand_side_by_side(
    office: Client, contested: Contested, world: World
) -> None:
    page = office.get("/office/").content.decode()
    for told in ("North yard", "Tarn Valley Haulage", "Dale Orrin", "6\u20027 /32 in", "4B08 2910"):
        assert told in page
    for told in ("Pit gate", "Reedbank Gravel", "Mira Fenn", "3\u20023 /32 in"):
        assert told in page
    assert page.count("Withdraw it") == 2
    assert page.count('class="ring"') == 2


def test_the_office_withdraws_one_and_the_other_wears_the_label(
    office: Client, contested: Contested, world: World
) -> None:
    assert withdraw(office, contested, contested.theirs) == 302
    fact = Fact.objects.get(kind="withdrawn")
    assert (fact.corrects, fact.by, fact.device) == (
        contested.theirs,
        world.dispatcher.uid,
        None,
    )
    assert fact.told["reason"] == "wrong pile"
    theirs = WorkOrder.objects.get(uid=contested.theirs)
    ours = WorkOrder.objects.get(uid=contested.ours)
    assert (theirs.withdrawn, theirs.contested) == (True, False)
    assert (ours.withdrawn, ours.contested) == (False, False)
    assert Question.objects.get(id=contested.question).settled_at is not None
    assert Entry.objects.filter(kind="pickup.cleared").exists()
    page = office.get("/office/").content.decode()
    assert "The label now belongs to the other casing." in page
    assert "One label on two casings" not in page.split("<details")[0]


def test_withdrawing_twice_is_said_and_writes_nothing(office: Client, contested: Contested) -> None:
    withdraw(office, contested, contested.theirs)
    assert withdraw(office, contested, contested.ours) == 302
    assert Fact.objects.filter(kind="withdrawn").count() == 1
    assert "settled already" in office.get("/office/").content.decode()


@pytest.mark.parametrize("said", ["", "   ", "x" * 501, "nul \x00"])
def test_a_withdrawal_needs_a_reason_that_can_be_kept(
    office: Client, contested: Contested, said: str
) -> None:
    body = {"work_order": str(contested.ours), "said": said}
    answer = office.post(f"/office/questions/{contested.question}/withdraw", body)
    assert answer.status_code == 400
    assert "1 to 500 characters" in answer.content.decode()
    assert not Fact.objects.filter(kind="withdrawn").exists()


def test_a_casing_that_is_not_in_question_is_not_withdrawn(
    office: Client, contested: Contested, enrol: Enrol, world: World
) -> None:
    phone = enrol()
    other = UUID(phone.pick_up(world.a_label(), world.yard.uid, uuid4())["id"])
    phone.push()
    withdraw(office, contested, other)
    assert withdraw(office, contested, uuid4()) == 302
    assert not Fact.objects.filter(kind="withdrawn").exists()


def test_the_offices_withdrawal_outlasts_a_correction_from_a_clock_that_runs_ahead(
    office: Client, world: World, enrol: Enrol
) -> None:
    label, phone = world.a_label(), enrol()
    phone.ahead = timedelta(days=3)
    first = phone.pick_up(label, world.yard.uid, uuid4())
    original = {"fact": first["id"], "label": label}
    phone.pick_up(label, world.yard.uid, UUID(first["payload"]["pickup"]), corrects=original)
    other = enrol(world.other_driver)
    other.pick_up(label, world.other_yard.uid, uuid4())
    phone.push()
    other.push()
    question = Question.objects.get(kind="label_contested").id
    c = Contested(label, UUID(first["id"]), uuid4(), question)
    assert withdraw(office, c, c.ours) == 302
    assert WorkOrder.objects.get(uid=c.ours).withdrawn


@pytest.mark.django_db(transaction=True)  # the fixture's own locks have to be gone
def test_a_busy_label_is_said_and_nothing_is_lost(office: Client, contested: Contested) -> None:
    with connection.cursor() as c:
        c.execute("SET lock_timeout = '200ms'")
    database = django_settings.DATABASES["default"]
    host, user, name = (str(database[key]) for key in ("HOST", "USER", "NAME"))
    try:
        with psycopg.connect(host=host, user=user, dbname=name) as other:
            other.execute("SELECT pg_advisory_xact_lock(%s)", [label_key(contested.label)])
            assert withdraw(office, contested, contested.ours, "typed with care") == 503
    finally:
        with connection.cursor() as c:
            c.execute("SET lock_timeout = '3s'")
    assert not Fact.objects.filter(kind="withdrawn").exists()
    assert withdraw(office, contested, contested.ours) == 302


def ask(kind: Kind, subject: str, /, **facts: object) -> int:
    questions.ask([questions.Ask(kind, subject, facts)], at=clock.now())
    return Question.objects.get(kind=kind, subject=subject, settled_at=None).id


def test_a_question_is_settled_with_a_note(office: Client, world: World) -> None:
    asked = ask(Kind.YARD_UNKNOWN, f"yard:{uuid4()}")
    assert office.post(f"/office/questions/{asked}/settle", {"said": ""}).status_code == 400
    assert Question.objects.get(id=asked).settled_at is None
    answer = office.post(f"/office/questions/{asked}/settle", {"said": "A new yard; entered."})
    assert answer.status_code == 302
    row = Question.objects.get(id=asked)
    assert (row.settlement, row.settled_by) == ("A new yard; entered.", world.dispatcher.uid)


def test_what_was_settled_is_shown_with_who_said_what_and_when(
    office: Client, signed_in: SignedIn, world: World
) -> None:
    asked = ask(Kind.YARD_UNKNOWN, f"yard:{uuid4()}")
    assert "Settled lately" not in office.get("/office/").content.decode()
    office.post(f"/office/questions/{asked}/settle", {"said": "A new yard; <entered>."})
    settled = lately(office)
    assert "Settled lately (1)" in settled
    assert "Picked up at a yard that is not known here" in settled
    assert f"Settled by Odile Hart, {said_on(asked)}: “A new yard; &lt;entered&gt;.”" in settled
    assert settled.startswith("<details class"), "folded until it is opened"
    assert "«A new yard;" in lately(signed_in(language="es"))


def lately(browser: Client) -> str:
    page = browser.get("/office/").content.decode()
    return page[page.index('<details class="settled"') :].split("</details>")[0]


def said_on(question: int) -> str:
    at = Question.objects.get(id=question).settled_at
    assert at is not None
    zone = ZoneInfo(django_settings.DEALER_TIME_ZONE)
    return words.day_and_time("en", at.astimezone(zone))


def test_the_reason_of_a_withdrawal_is_what_settled_its_question(
    office: Client, contested: Contested
) -> None:
    withdraw(office, contested, contested.theirs, "Read the wrong label in the rain.")
    settled = lately(office)
    assert "Settled by Odile Hart, " in settled
    assert "“Read the wrong label in the rain.”" in settled
    assert f"{contested.label[:4]}\u2009{contested.label[4:]}" in settled


def test_what_settled_itself_says_so_and_the_oldest_give_way(office: Client, world: World) -> None:
    for _ in range(21):
        subject = f"yard:{uuid4()}"
        ask(Kind.YARD_UNKNOWN, subject)
        how = "inside words"
        questions.settle(kinds=[Kind.YARD_UNKNOWN], subjects=[subject], how=how, at=clock.now())
    settled = lately(office)
    assert settled.count("Settled by itself when more was told, ") == 20
    assert "inside words" not in settled


def test_an_administrators_question_is_settled_by_an_administrator_only(
    office: Client, signed_in: SignedIn, world: World
) -> None:
    asked = ask(Kind.PERSON_UNKNOWN, f"person:{uuid4()}")
    page = office.get("/office/").content.decode()
    assert "An administrator settles this one." in page
    assert f"/office/questions/{asked}/settle" not in page
    answer = office.post(f"/office/questions/{asked}/settle", {"said": "It was me."})
    assert answer.status_code == 403
    assert "settled by an administrator" in answer.content.decode()
    assert Question.objects.get(id=asked).settled_at is None
    admin = signed_in("admin")
    assert f"/office/questions/{asked}/settle" in admin.get("/office/").content.decode()
    assert admin.post(f"/office/questions/{asked}/settle", {"said": "New."}).status_code == 302
    assert Question.objects.get(id=asked).settled_at is not None


def test_a_contested_label_is_never_settled_by_a_note(office: Client, contested: Contested) -> None:
    office.post(f"/office/questions/{contested.question}/settle", {"said": "never mind"})
    assert Question.objects.get(id=contested.question).settled_at is None


def test_an_old_page_does_not_settle_what_was_asked_since(office: Client, world: World) -> None:
    subject = f"yard:{uuid4()}"
    old = ask(Kind.YARD_UNKNOWN, subject)
    office.post(f"/office/questions/{old}/settle", {"said": "entered"})
    new = ask(Kind.YARD_UNKNOWN, subject)
    office.post(f"/office/questions/{old}/settle", {"said": "again"})
    assert Question.objects.get(id=new).settled_at is None
    assert office.post("/office/questions/999999999999999999999/settle", {"said": "x"}).status_code


SEALS = {"seal_told": "0047112", "seal_found": "0047113", "seal_state": "whole"}
CURED = {"number": "2026-07-14-2", "labels": ["K72K54X2"]}
SHORT = {"short": ["K72K54X2"], "over": [], "way": "on"}


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_kind_of_question_is_told_in_words(
    signed_in: SignedIn, world: World, contested: Contested, language: str
) -> None:
    fact, pickup, device = str(contested.ours), str(uuid4()), str(uuid4())
    operation = f"operation:{uuid4()}"
    by = str(world.driver.uid)
    unread = {"kind": "custody.pick_up", "version": 1, "by": by}
    asked: dict[Kind, tuple[str, dict[str, object]]] = {
        Kind.LABEL_NOT_PRINTED: ("label:K72K54X2", {"work_order": fact}),
        Kind.LABEL_VOID: ("label:K72K54X2", {"work_order": fact}),
        Kind.LABEL_REPLACED: ("label:K72K54X2", {"fact": fact, "doubt": "replaced_twice"}),
        Kind.IMPOSSIBLE_ORDER: (
            "label:K72K54X2",
            {"conflict": "finished_and_rejected", "label": "K72K54X2"},
        ),
        Kind.FROM_THE_FUTURE: (
            f"fact:{fact}",
            {"happened_at": "2031-01-01T00:00:00+00:00", "device": device},
        ),
        Kind.PERSON_UNKNOWN: (f"person:{uuid4()}", {"fact": fact}),
        Kind.YARD_UNKNOWN: (f"yard:{uuid4()}", {"fact": fact}),
        Kind.COUNT_DIFFERS: (f"pickup:{pickup}", {"ours": 3, "theirs": 4}),
        Kind.PICKUP_DIFFERS: (f"pickup:{pickup}", {"listed": [fact], "picked_up": []}),
        Kind.DISPUTED: (f"pickup:{pickup}", {"dispute": str(uuid4()), "theirs": 15}),
        Kind.DISPUTE_MOVED: (f"pickup:{pickup}", {"dispute": str(uuid4())}),
        Kind.DISPUTE_MOVED: (f"pickup:{pickup}", {"dispute": str(uuid4())}),
        Kind.SEAL_DIFFERS: (f"pickup:{pickup}", {"fact": fact, **SEALS}),
        Kind.LOAD_DIFFERS: (
            f"count:{uuid4()}",
            {"counted": 4, "scanned": 3, "site": str(world.store.uid), "by": by, **SHORT},
        ),
        Kind.LOAD_SHORT: (f"load:{uuid4()}", {"plant": str(world.plant.uid), **CURED}),
        Kind.LOAD_MISSING: (
            f"load:{uuid4()}",
            {"plant": str(world.plant.uid), "missing": True, **CURED},
        ),
        Kind.LOAD_OVER: (
            f"load:{uuid4()}",
            {"plant": str(world.plant.uid), "over": True, **CURED},
        ),
        Kind.CONSIGNMENT_DIFFERS: (
            f"consignment:{uuid4()}",
            {"counted": None, "scanned": 3, "site": str(world.plant.uid), "by": None, **SHORT},
        ),
        Kind.REWORK_LIMIT: ("label:K72K54X2", {}),
        **{
            kind: ("label:K72K54X2", {"plant": str(world.plant.uid), doubt: [fact]})
            for kind, doubt in (
                (Kind.PLANT_IMPOSSIBLE, "sent_back_after_finish"),
                (Kind.RELEASE_NOT_ALLOWED, "release_not_allowed"),
                (Kind.BUILT_DIFFERS, "built_differs"),
            )
        },
        Kind.OWNER_UNKNOWN: (
            f"unlabelled:{uuid4()}",
            {"plant": str(world.plant.uid), "rack": "B-7", "size": "11R22.5", "brand": "Marrow"},
        ),
        **{
            kind: (
                f"stop_use:{uuid4().hex}:{uuid4().hex}",
                {
                    "stop": str(uuid4()),
                    "customer": str(world.customer.uid),
                    "since": "2026-07-14T11:00:00Z",
                },
            )
            for kind in (Kind.STOP_USE_UNCONFIRMED, Kind.STOP_USE_WITHDRAWN)
        },
        Kind.PICKUP_OPEN: (f"pickup:{pickup}", {"fact": fact, "ours": 2}),
        Kind.DELIVERY_DIFFERS: (f"delivery:{pickup}", {"listed": [fact], "delivered": []}),
        Kind.DELIVERY_OPEN: (f"delivery:{pickup}", {"fact": fact, "ours": 2}),
        Kind.CORRECTION_PARKED: (f"fact:{fact}", {"fact": fact, "corrects": str(uuid4())}),
        Kind.OTHER_STORE: (f"fact:{fact}", {"fact": fact, "site": str(world.store.uid)}),
        Kind.WRONG_OWNER: (
            "label:K72K54X2",
            {"fact": fact, "holder": f"customer:{uuid4()}", "owner": str(world.customer.uid)},
        ),
        Kind.ONE_SIDE_ONLY: (f"fact:{fact}", {"taker": f"plant:{world.plant.uid}"}),
        Kind.HOLDER_UNKNOWN: (taker := f"site:{uuid4()}", {"fact": fact, "taker": taker}),
        Kind.PROMISE_TOO_EARLY: (
            f"fact:{fact}",
            {"promised": "2026-04-24", "expected": "2026-04-28"},
        ),
        Kind.NOT_ACCEPTED: (f"fact:{fact}", {"against": ["too_old"], "by_number": 2}),
        Kind.PAYLOAD_NOT_UNDERSTOOD: (operation, unread),
        Kind.KIND_UNKNOWN: (operation, {**unread, "kind": "weather.told"}),
        Kind.VERSION_UNKNOWN: (operation, {**unread, "version": 7}),
        Kind.REFERENCE_UNSEEN: (operation, unread),
        Kind.COULD_NOT_APPLY: (operation, {"kind": "custody.pick_up", "error": "KeyError"}),
        Kind.NEW_INCARNATION: (f"device:{device}", {"incarnation": str(uuid4())}),
        Kind.DEVICE_MOVED: (
            f"device:{device}",
            {"left": str(world.store.uid), "site": str(world.other_store.uid)},
        ),
        Kind.SEQUENCE_TAKEN: (f"device:{device}", {"operation": str(uuid4()), "sequence": 4}),
    }
    assert {*asked, Kind.LABEL_CONTESTED} == set(Kind)
    for kind, (subject, facts) in asked.items():
        ask(kind, subject, **facts)
    page = signed_in(language=language).get("/office/").content.decode()
    shown = page.split("<main", 1)[1]
    for kind in Kind:
        assert kind.value not in shown
    assert "None" not in shown
    assert shown.count("<article") == len(Kind)
    assert set(DOUBTS) == set(keeping.KINDS), "a doubt of the plant that no page says"
    told = words.of(language)
    for said in (told["sent_back_after_finish"], told["built_differs"], "B-7", "Marrow"):
        assert said in shown
    assert shown.count(world.plant.name) >= 4


def test_a_time_that_has_not_come_is_told_with_whose_clock_and_both_times(
    office: Client, world: World, enrol: Enrol, gateway: Gateway
) -> None:
    ahead = clock.now() + timedelta(days=2)
    label = world.a_label()
    phone = enrol()
    taken = phone.pick_up(label, world.yard.uid, uuid4())
    taken["happened_at"] = rfc3339(ahead)
    phone.push()
    gateway.tell(label, "received", station="receiving", happened_at=ahead)
    page = office.get("/office/").content.decode()
    asked = [a for a in page.split("<article")[1:] if "is that clock right?" in a]
    assert len(asked) == 2
    zone = ZoneInfo(django_settings.DEALER_TIME_ZONE)
    its = words.day_and_time("en", ahead.astimezone(zone))
    clocks = {
        "phone",
        "receiving, Fernhollow plant, key gateway",
    }
    told = {clock for clock in clocks for a in asked if f"<dt>Whose clock</dt><dd>{clock}<" in a}
    assert told == clocks
    for one in asked:
        assert one.count(its) == 1
        assert f"<dt>Time it gives</dt><dd>{its}</dd>" in one
        ours = re.findall("<dt>Ours when it came</dt><dd>([^<]+)<", one)
        assert len(ours) == 1
        assert ours[0] != its


def test_both_sides_of_a_contested_label_show_what_the_plant_read_and_how_far_off(
    office: Client, contested: Contested, gateway: Gateway, enrol: Enrol, world: World
) -> None:
    assert office.get("/office/").content.decode().count("Nothing yet.") == 2
    withdraw(office, contested, contested.theirs)
    began = WorkOrder.objects.get(uid=contested.ours).picked_up_at
    other = enrol(world.other_driver)
    again = other.pick_up(contested.label, world.other_yard.uid, uuid4())
    again["happened_at"] = rfc3339(began + timedelta(hours=9))
    assert other.push().status == 200
    scanned = began + timedelta(hours=5)
    gateway.tell(contested.label, "received", station="receiving", happened_at=scanned)
    page = office.get("/office/").content.decode()
    zone = ZoneInfo(django_settings.DEALER_TIME_ZONE)
    when = words.day_and_time("en", scanned.astimezone(zone))
    assert page.count("Received: receiving, Fernhollow plant.") == 2
    assert page.count(f"{when}, 5 h after this pickup") == 1
    assert page.count(f"{when}, 4 h before this pickup") == 1
    assert "Nothing yet." not in page


def test_a_customers_other_count_stands_beside_ours(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone, pickup = enrol(), uuid4()
    one = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    phone.finish(pickup, world.yard.uid, [one["id"]], customer_count=14)
    phone.push()
    page = office.get("/office/").content.decode()
    assert "<dt>We counted</dt><dd>1</dd>" in page
    assert "<dt>The customer counted</dt><dd>14</dd>" in page
    assert "North yard of Tarn Valley Haulage" in page


@pytest.mark.parametrize(
    ("language", "nobody"),
    [("en", "somebody who is not known here"), ("es", "alguien que no se conoce aqu\u00ed")],
)
def test_a_delivery_to_an_owner_whom_nobody_knew_then_opens_the_page(
    signed_in: SignedIn, world: World, language: str, nobody: str
) -> None:
    holder = f"customer:{world.other_customer.uid}"
    ask(Kind.WRONG_OWNER, "label:K72K54X2", holder=holder, owner="None")
    answer = signed_in(language=language).get("/office/")
    assert answer.status_code == 200
    assert f"<dd>{nobody}</dd>" in answer.content.decode()


def test_what_came_from_a_yard_nobody_knows_and_went_back_there_opens_the_page(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone, label, yard = enrol(), world.a_label(), str(uuid4())
    phone.pick_up(label, UUID(yard), uuid4())
    back = {"delivery": str(uuid4()), "yard": yard, "label": label}
    phone.enter("custody.deliver", back, version=2)
    phone.push()
    assert Fact.objects.filter(kind="returned", holder="").count() == 1
    assert not Question.objects.filter(kind="wrong_owner").exists()
    assert Question.objects.filter(kind="yard_unknown", settled_at=None).count() == 1
    answer = office.get("/office/")
    assert answer.status_code == 200
    assert "Picked up at a yard that is not known here" in answer.content.decode()


def test_what_was_handed_back_stands_beside_the_list_that_ended_a_delivery(
    signed_in: SignedIn, world: World, enrol: Enrol
) -> None:
    phone, delivery = enrol(), str(uuid4())
    yard, labels = str(world.yard.uid), [world.a_label(), world.a_label()]
    for label in labels:
        phone.pick_up(label, world.yard.uid, uuid4())
    handed = [
        phone.enter("custody.deliver", {"delivery": delivery, "yard": yard, "label": label})
        for label in labels
    ]
    end = {"delivery": delivery, "yard": yard, "casings": [handed[0]["id"]]}
    phone.enter("custody.finish_delivery", end, version=2)
    phone.push()
    one, two = (words.grouped(label) for label in labels)
    for language, listed, back in (
        ("en", "On the list", "Handed back in it"),
        ("es", "En la lista", "Devueltas en ella"),
    ):
        page = signed_in(language=language).get("/office/").content.decode()
        (asked,) = [a for a in page.split("<article")[1:] if back in a]
        assert f"<dt>{listed}</dt><dd>{one}</dd>" in asked
        assert f"<dt>{back}</dt><dd>{one}, {two}</dd>" in asked
        assert "North yard of Tarn" in asked or "North yard de Tarn" in asked
        assert "Dale Orrin" in asked


def test_an_entry_of_a_newer_app_is_shown_as_waiting(
    office: Client, world: World, enrol: Enrol
) -> None:
    phone = enrol()
    phone.enter("custody.pick_up", {"wheel": "steel"}, version=9)
    phone.push()
    page = office.get("/office/").content.decode()
    assert "A casing picked up from phone, recorded" in page
    assert "from a newer app" in page


def test_an_empty_office_says_what_will_appear_here(office: Client) -> None:
    page = office.get("/office/").content.decode()
    assert "No question is open." in page
    assert "No entry waits." in page
    assert "Everything that was owed has been told." in page or "still to be done" in page


def test_what_a_driver_typed_is_shown_as_text(office: Client, world: World, enrol: Enrol) -> None:
    label = world.a_label()
    phone, other = enrol(), enrol(world.other_driver)
    phone.pick_up(label, world.yard.uid, uuid4(), note="<script>alert(1)</script>", tin="<b>x")
    other.pick_up(label, world.other_yard.uid, uuid4())
    phone.push()
    other.push()
    for address in ("/office/", f"/office/labels/{label}"):
        page = office.get(address).content.decode()
        assert "<script>" not in page
        assert "&lt;script&gt;" in page
        assert "<b>x" not in page
