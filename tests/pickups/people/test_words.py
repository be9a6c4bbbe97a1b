"""What people type beside facts is kept apart: it can be erased, and the facts stay as told."""

import importlib
import io
import json
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.contrib.admin.models import LogEntry
from django.core.files.storage import storages
from django.core.management import call_command
from django.db import connection
from django.test import Client

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody.models import Acceptance, Dispute, DisputeStep, Fact, Pickup, Signature
from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import User, Words
from pickups.runs import services as runs
from pickups.runs.models import Happening
from pickups.sync.models import Feed, Operation, Photo
from pickups.sync.push import retry_held
from tests.pickups.custody.test_reminding import remind, waits
from tests.pickups.desk.conftest import SignedIn, office, signed_in  # noqa: F401
from tests.pickups.desk.sheets import draw_up
from tests.pickups.desk.test_life import drawn
from tests.pickups.notices.conftest import mail  # noqa: F401
from tests.pickups.notices.visits import drain_all
from tests.pickups.portal.conftest import Opened, opened, text  # noqa: F401
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db

NAME = "Wilhelmina Tarrow"
GONE = "[what was written here was erased]"


def tables_with(said: str) -> set[str]:
    """Every table of the database in which some row holds these words, in whatever column."""
    found = set()
    with connection.cursor() as c:
        for table in connection.introspection.table_names(c):
            c.execute(f'SELECT count(*) FROM "{table}" t WHERE t::text LIKE %s', [f"%{said}%"])
            if c.fetchone()[0]:
                found.add(table)
    return found


@pytest.fixture
def records(signed_in: SignedIn) -> Client:  # noqa: F811
    """The administrator's browser."""
    User.objects.create_superuser("records", role="admin")
    return signed_in("admin")


def erase(records: Client) -> None:
    """The administrator finds the words by the name in them, and deletes what was found."""
    found = records.get("/admin/people/words/", {"q": "Tarrow"}).content.decode()
    assert NAME in found
    uids = [
        str(uid) for uid in Words.objects.filter(text__contains=NAME).values_list("uid", flat=True)
    ]
    chosen = {"action": "delete_selected", "_selected_action": uids, "post": "yes"}
    assert records.post("/admin/people/words/", chosen).status_code == 302
    drain_all()
    assert tables_with("Tarrow") == set(), "the log of the records names nobody either"
    assert LogEntry.objects.exists()


def ended(phone: Phone, world: World, **more: Any) -> UUID:
    """A pickup of one casing that is over; returns the visit."""
    pickup = uuid4()
    op = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "casings": [op["id"]], **more}
    phone.enter("custody.finish_pickup", payload, version=5)
    assert phone.push().status == 200
    return pickup


def test_what_a_customer_and_the_office_write_about_a_pickup_can_be_erased(
    world: World,
    phone: Phone,
    opened: Opened,  # noqa: F811
    office: Client,  # noqa: F811
    records: Client,
    mail: MailServer,  # noqa: F811
) -> None:
    pickup = ended(phone, world)
    drain_all()
    theirs = {"said": f"ask {NAME} at the gate", "theirs": "3"}
    assert opened().post(f"/casings/receipts/{pickup}/otherwise", theirs).status_code == 302
    case = Dispute.objects.get()
    office.post(f"/office/disputes/{case.uid}/note", {"said": f"{NAME} counted it herself"})
    end = {"outcome": "stands", "said": f"{NAME} saw one only."}
    office.post(f"/office/disputes/{case.uid}/settle", end)
    page = text(office.get(f"/office/disputes/{case.uid}/"))
    assert page.count(NAME) == 3
    drain_all()
    assert f"We add: {NAME} saw one only." in text_of(mail.mails[-1])
    assert tables_with("Tarrow") == {"people_words"}
    erase(records)
    page = text(office.get(f"/office/disputes/{case.uid}/"))
    assert page.count(GONE) == 3
    assert "They count 3" in page, "what was told beside the words stays"
    assert [s.kind for s in DisputeStep.objects.order_by("id")] == ["opened", "said", "settled"]


def test_a_case_whose_end_was_erased_before_it_was_mailed_is_mailed_without_it(
    world: World,
    phone: Phone,
    office: Client,  # noqa: F811
    records: Client,
    mail: MailServer,  # noqa: F811
) -> None:
    pickup = ended(phone, world)
    said = {"said": "they say two", "theirs": "2"}
    address = office.post(f"/office/visits/{pickup}/dispute", said).headers["Location"]
    drain_all()
    office.post(f"{address}settle", {"outcome": "goodwill", "said": f"by word of {NAME}"})
    people.erase_words(Words.objects.values_list("uid", flat=True))
    mail.mails.clear()
    drain_all()
    (told,) = mail.mails
    assert "We add" not in text_of(told)


def test_what_was_said_about_a_casing_that_waits_can_be_erased_and_phones_lose_it(
    world: World,
    phone: Phone,
    gateway: Gateway,
    office: Client,  # noqa: F811
    records: Client,
) -> None:
    label = waits(world, phone, gateway)
    op = remind(phone, label, "called", said=f"{NAME}: on Friday")
    grounds = {
        "label": label,
        "decision": "keep",
        "grounds": f"{NAME} asked",
        "until": "2031-01-31",
    }
    assert office.post("/office/unclaimed/decide", grounds).status_code == 302
    assert tables_with("Tarrow") == {"people_words"}
    for address in ("/office/unclaimed/", f"/office/labels/{label}"):
        assert text(office.get(address)).count(NAME) == 2
    order = WorkOrder.objects.get(label=label).uid
    assert NAME in str(casings.bodies([order]))
    seen = Feed.objects.get(entity="work_order", uid=order).version
    erase(records)
    for address in ("/office/unclaimed/", f"/office/labels/{label}"):
        page = text(office.get(address))
        assert page.count(GONE) == 2
        assert "called" in page
    assert Feed.objects.get(entity="work_order", uid=order).version > seen
    assert "said" not in str(casings.bodies([order]))
    # The operation is known by its hash alone: told again it is known, told otherwise refused.
    phone.outbox.append(op)
    assert phone.push().json["answers"][-1]["repeat"] is True
    phone.outbox.append({**op, "payload": {**op["payload"], "said": "nobody"}})
    assert phone.push().json["answers"][-1]["outcome"] == "refused"
    assert not Words.objects.exists(), "a repeat brings nothing back"


def test_what_a_driver_types_on_the_way_can_be_erased(
    world: World,
    phone: Phone,
    office: Client,  # noqa: F811
    records: Client,
) -> None:
    run = draw_up(world)
    stop = runs.add_stop(run=run.uid, yard=world.yard.uid)
    runs.hand(run=run.uid)
    skipped = {"run": str(run.uid), "stop": str(stop), "why": "closed", "note": f"{NAME} is ill"}
    phone.enter("runs.skip", skipped)
    added = {"run": str(run.uid), "yard": str(world.yard.uid), "why": f"{NAME} waved"}
    phone.enter("runs.add_stop", added)
    assert phone.push().status == 200
    assert tables_with("Tarrow") == {"people_words"}
    address = f"/office/sheets/{run.uid}/"
    assert f"(“{NAME} is ill”)" in text(office.get(address))
    assert f"added by the driver: “{NAME} waved”" in text(office.get(address))
    seen = Feed.objects.get(entity="run", uid=run.uid).version
    erase(records)
    assert text(office.get(address)).count(GONE) == 2
    assert Feed.objects.get(entity="run", uid=run.uid).version > seen
    assert Happening.objects.count() == 2


def test_only_an_administrator_reads_or_erases_words_in_the_records(
    signed_in: SignedIn,  # noqa: F811
) -> None:
    for role in ("dispatcher", "sales", "counter", "driver"):
        assert signed_in(role).get("/admin/people/words/").status_code == 302


def purged() -> dict[str, str]:
    said = io.StringIO()
    call_command("purge", stdout=said)
    return dict(line.split(": ") for line in said.getvalue().splitlines())


def test_what_was_kept_long_enough_is_purged_and_nothing_younger(
    world: World, phone: Phone, gateway: Gateway, settings: Any
) -> None:
    label = waits(world, phone, gateway)
    for said in ("old", "young"):
        remind(phone, label, "called", said=said)
    month = clock.now() - timedelta(days=30)
    Words.objects.filter(text="old").update(said_at=month)
    image = drawn(phone)
    old, young = (ended(phone, world, signer=NAME, signature=image) for _ in range(2))
    Signature.objects.filter(visit=young).update(image="")
    Pickup.objects.filter(uid=old).update(recorded_at=month)
    Acceptance.objects.create(change=uuid4(), name="of a sale that is not old", contact=uuid4())
    assert all(told.startswith("0 erased") for told in purged().values())
    settings.KEPT_DAYS = {**settings.KEPT_DAYS, "reminder": 29, "signature": 29}
    file = Photo.objects.get(sha256=image).file
    told = purged()
    assert told["reminder"] == "1 erased, kept for 29 days"
    assert told["signature"] == "1 erased, kept for 29 days"
    assert told["dispute"].startswith("0 erased")
    assert [w.text for w in Words.objects.all()] == ["young"]
    assert list(Signature.objects.values_list("visit", flat=True)) == [young]
    assert not storages["photos"].exists(file), "the drawing goes with the name"
    assert Fact.objects.filter(kind="reminded").count() == 2
    assert Pickup.objects.filter(uid=old).exists()


def test_words_of_an_operation_that_is_held_are_purged_with_it(phone: Phone, settings: Any) -> None:
    told = {"stop": str(uuid4()), "why": "closed", "note": NAME}
    old, young = (phone.enter("runs.skip", {"run": str(uuid4()), **told}) for _ in range(2))
    assert [a["outcome"] for a in phone.push().json["answers"]] == ["held", "held"]
    month = clock.now() - timedelta(days=30)
    Operation.objects.filter(id=old["id"]).update(recorded_at=month)
    assert purged()["road"].startswith("0 erased")
    settings.KEPT_DAYS = {**settings.KEPT_DAYS, "road": 29}
    for n in (1, 0):
        assert purged()["road"] == f"{n} erased, kept for 29 days"
    raw = {str(o.id): bytes(o.raw or b"") for o in Operation.objects.filter(outcome="held")}
    assert NAME.encode() not in raw[old["id"]]
    assert NAME.encode() in raw[young["id"]]
    assert json.loads(raw[old["id"]]) == old | {"payload": old["payload"] | {"note": ""}}
    assert retry_held(everything=True) == 0, "it is read as before, and waits on"


def test_words_in_old_rows_are_moved_apart_and_the_rows_are_for_ever_again(
    world: World,
    phone: Phone,
    gateway: Gateway,
    office: Client,  # noqa: F811
) -> None:
    label = waits(world, phone, gateway)
    op = remind(phone, label, "called", until="2031-06-19")
    silent = remind(phone, label, "called")
    pickup = ended(phone, world)
    told = {"said": "they say two", "theirs": "2"}
    case = office.post(f"/office/visits/{pickup}/dispute", told).headers["Location"]
    run = draw_up(world)
    stop = runs.add_stop(run=run.uid, yard=world.yard.uid)
    runs.hand(run=run.uid)
    phone.enter("runs.skip", {"run": str(run.uid), "stop": str(stop), "why": "closed"})
    assert phone.push().status == 200
    Words.objects.all().delete()
    _as_they_were(op["id"], silent["id"])
    _moved("pickups.custody.migrations.0019_words_apart")
    _moved("pickups.runs.migrations.0004_words_apart")
    assert tables_with("Tarrow") == {"people_words"}
    assert NAME in text(office.get(case))
    for address in ("/office/unclaimed/", f"/office/labels/{label}", f"/office/sheets/{run.uid}/"):
        assert NAME in text(office.get(address)), address
    assert Fact.objects.get(uid=op["id"]).told["until"] == "2031-06-19"
    assert "worded" not in Fact.objects.get(uid=silent["id"]).told, "nothing was said, or erased"
    assert not Words.objects.filter(uid=silent["id"]).exists()
    with connection.cursor() as c:
        c.execute("SELECT tgenabled FROM pg_trigger WHERE tgname LIKE '%append_only'")
        assert {row[0] for row in c.fetchall()} == {"O"}


def _as_they_were(reminded: str, silent: str) -> None:
    """The rows as they stood before words were kept apart."""
    with connection.cursor() as c:
        c.execute("SET CONSTRAINTS ALL IMMEDIATE")
        for table in ("custody_fact", "custody_dispute_step", "runs_happening"):
            c.execute(f"ALTER TABLE {table} DISABLE TRIGGER USER")
        said = f'{{"said": "{NAME}"}}'
        for told, uid in ((said, reminded), ('{"said": ""}', silent)):
            c.execute("UPDATE custody_fact SET told = told || %s WHERE uid = %s", [told, uid])
        c.execute(
            "UPDATE casings_work_order SET told = jsonb_set(told, '{reminders,0,said}', %s)"
            " WHERE told ? 'reminders'",
            [f'"{NAME}"'],
        )
        c.execute("ALTER TABLE custody_dispute_step ADD said varchar(500) NOT NULL DEFAULT ''")
        c.execute("UPDATE custody_dispute_step SET words = NULL, said = %s", [NAME])
        note = f'{{"note": "{NAME}"}}'
        c.execute("UPDATE runs_happening SET told = told || %s", [note])
        for table in ("custody_fact", "custody_dispute_step", "runs_happening"):
            c.execute(f"ALTER TABLE {table} ENABLE TRIGGER USER")


def _moved(name: str) -> None:
    importlib.import_module(name).move(None, None)
