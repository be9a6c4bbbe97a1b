"""Tables, wire and doors as a whole: indexed, named, current, and with an answer to every error."""

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.apps import apps
from django.contrib.postgres.operations import AddIndexConcurrently
from django.db import connection
from django.db.migrations import AddIndex
from django.db.migrations.loader import MigrationLoader
from django.test import Client
from drf_spectacular.generators import SchemaGenerator

from pickups.config.wiring import BODIES
from pickups.customers import services as customers
from pickups.customers import specifying
from pickups.customers.rules import Terms
from pickups.kernel import clock
from pickups.kernel.problems import STATUS
from pickups.labels import services as labels
from pickups.promises.models import Table
from pickups.runs.models import Run, Stop
from pickups.sync import services as sync
from pickups.sync.rules import Change
from plant.dock import consigning
from tests.conftest import Enrol
from tests.sync.batches import push
from tests.world import Phone, World
from tests.world.plant import Gateway

PROJECT = Path(__file__).resolve().parents[2]
OURS = [a for a in apps.get_app_configs() if a.name.startswith(("pickups.", "plant."))]

# Given with Django's user model, which names them itself.
NAMED_BY_DJANGO = {"people_user_username_key", "people_user_uid_key"}


def rows(statement: str) -> list[tuple[Any, ...]]:
    with connection.cursor() as c:
        c.execute(statement)
        return list(c.fetchall())


def our_tables() -> set[str]:
    return {m._meta.db_table for a in OURS for m in a.get_models()}


UNINDEXED = """
SELECT c.conrelid::regclass::text, c.conname FROM pg_constraint c
WHERE c.contype = 'f' AND NOT EXISTS (
  SELECT 1 FROM pg_index i WHERE i.indrelid = c.conrelid AND i.indpred IS NULL
  AND (i.indkey::int2[])[0:cardinality(c.conkey) - 1] = c.conkey)
"""


@pytest.mark.django_db
def test_every_foreign_key_is_indexed() -> None:
    assert rows(UNINDEXED) == []


@pytest.mark.django_db
def test_a_foreign_key_without_an_index_would_be_seen() -> None:
    with connection.cursor() as c:
        c.execute(
            "CREATE TABLE bare (a int, site uuid CONSTRAINT bare_fk REFERENCES people_site (uid))"
        )
        c.execute("CREATE INDEX on_bare ON bare (a, site)")
    assert rows(UNINDEXED) == [("bare", "bare_fk")]
    with connection.cursor() as c:
        c.execute("CREATE INDEX on_site ON bare (site)")
    assert rows(UNINDEXED) == []


@pytest.mark.django_db
def test_every_rule_of_a_table_has_a_name_that_we_gave() -> None:
    """The name is what a refusal is told by; one made by the machine changes with the columns."""
    given = {c.name for a in OURS for m in a.get_models() for c in m._meta.constraints}
    found = {
        name
        for table, name in rows(
            "SELECT conrelid::regclass::text, conname FROM pg_constraint WHERE contype IN ('u','c')"
            " UNION SELECT indrelid::regclass::text, indexrelid::regclass::text FROM pg_index"
            " WHERE indisunique AND NOT indisprimary"
        )
        if table in our_tables()
    }
    # Django's own check that a PositiveIntegerField is positive carries its column's name.
    by_column = {name for name in found if name.endswith("_check")}
    assert found - by_column - NAMED_BY_DJANGO == given
    assert found > NAMED_BY_DJANGO


LEDGER_IN_USE = "0010"
"""From this migration of custody on the ledger is full where it is run."""


def test_an_index_on_the_ledger_is_made_beside_its_writers() -> None:
    later = {
        name: made
        for (app, name), made in MigrationLoader(None).disk_migrations.items()
        if app == "custody" and name >= LEDGER_IN_USE
    }
    on_facts = [(name, op) for name, made in later.items() for op in made.operations
                if isinstance(op, AddIndex) and op.model_name_lower == "fact"]  # fmt: skip
    assert on_facts
    assert [n for n, op in on_facts if not isinstance(op, AddIndexConcurrently)] == []


HERE = {"station": "receiving", "outcome": "received"}
DRAWN = ("/api/labels/print", "/api/tickets/{visit}")
"""Doors that answer with a drawing."""


@pytest.mark.django_db
def test_what_is_for_ever_is_guarded_by_the_database() -> None:
    guarded = {t for (t,) in rows("SELECT tgrelid::regclass::text FROM pg_trigger"
                                  " WHERE tgname LIKE '%append_only'")}  # fmt: skip
    assert guarded == {
        *("custody_fact", "custody_owner_change", "customers_specification_version"),
        *("journal_entry", "runs_happening", "custody_dispute_step"),
        *("curing_specification", "curing_load_word", "curing_record"),
        *("curing_hold", "curing_decision"),
        *("adjustments_owed", "adjustments_settled"),
        *("notices_stop_use", "notices_stop_use_casing", "notices_stop_use_step"),
        *("adjustments_claim", "adjustments_claim_decision"),
        *("inspection_rush", "inspection_rush_word"),
    }


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_bodies_in_the_golden_page_have_the_fields_that_phones_are_given(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    pickup, tablet = uuid4(), enrol(world.operator)
    op = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    phone.finish(pickup, world.yard.uid, [op["id"]], customer_count=1)
    phone.count_scrap(uuid4(), world.yard.uid, 6)
    delivery = {"delivery": str(uuid4()), "yard": str(world.yard.uid)}
    home = phone.enter("custody.deliver", {**delivery, "label": op["payload"]["label"]})
    phone.enter("custody.finish_delivery", {**delivery, "casings": [home["id"]]})
    assert push(phone) == ["accepted"] * 5
    tablet.enter("curing.load", {"load": str(uuid4()), "number": "14-2"})
    tablet.enter("inspection.tell", {"label": world.a_label(), **HERE})
    assert push(tablet) == ["accepted"] * 2
    from pickups.journal import services as journal

    while journal.drain():
        pass
    customers.rename_yard(uid=world.yard.uid, name="North yard", address="5 Quarry Lane")
    specifying.specify(customer=world.yard.customer_id, terms=Terms(), by=None, at=clock.now())
    today, scope = date(2026, 4, 28), f"site:{world.store.uid}"
    run = Run.objects.create(site=world.store, start=world.store, on=today, state="handed")
    Stop.objects.create(run=run, place=1, yard=world.yard)
    Stop.objects.create(run=run, place=2, site=world.plant)
    consigning.of_run(run=run.uid, at=clock.now())
    Table.objects.create(site=world.store.uid, computed_on=today, valid_until=today, places={})
    roll = world.store.rolls.get()
    labels.allocate(roll=roll, holder=world.driver, by=world.dispatcher, at=clock.now(), seen=None)
    sync.put([Change(scope, "run", run.uid, 1), Change(scope, "promise_table", world.store.uid, 1)])
    phone.pull_all()
    tablet.pull_all()
    told = {**phone.rows, **tablet.rows}
    given = {key[1]: set(row["body"]) for key, row in told.items() if row.get("body")}
    assert set(given) == set(BODIES)
    page = json.loads((PROJECT / "fixtures/wire/pull.page.json").read_text())["message"]
    golden = {r["entity"]: set(r["body"]) for r in page["rows"] if "body" in r}
    assert golden == given


def doors() -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Every operation of the published schema: path, method, what it says."""
    generator = SchemaGenerator()  # type: ignore[no-untyped-call]
    schema = generator.get_schema(request=None, public=True)  # type: ignore[no-untyped-call]
    for path, operations in schema["paths"].items():
        for method, said in operations.items():
            yield path, method, said


@pytest.mark.django_db
def test_every_door_is_published_with_a_name_words_and_its_problem_answers() -> None:
    found = list(doors())
    assert {path for path, _, _ in found} >= {
        "/api/devices/enrol",
        "/api/photos/{sha256}",
        "/api/plant/events",
        "/api/sync/pull",
        "/api/sync/push",
    }
    codes = {str(status) for status, _ in STATUS.values()}
    for path, method, said in found:
        assert said["operationId"], path
        assert said["description"], path
        assert codes <= set(said["responses"]), path
        for status, answer in said["responses"].items():
            kinds = set(answer["content"])
            good = "application/pdf" if path in DRAWN else "application/json"
            wanted = good if status == "200" else "application/problem+json"
            assert kinds == {wanted}, (path, method, status)


@pytest.mark.django_db
def test_an_id_used_twice_is_answered_as_it_is_published(world: World, gateway: Gateway) -> None:
    event = gateway.tell(world.a_label(), "received")
    answer = gateway.post(event | {"outcome": "finished"})
    published = {path: said for path, _, said in doors()}["/api/plant/events"]["responses"]
    assert answer.status == 409
    assert published["409"]["content"].keys() == {answer.headers["Content-Type"]}


@pytest.mark.django_db
@pytest.mark.parametrize("wrong", ["no credentials", "a wrong method"])
def test_every_door_answers_an_error_as_it_is_published(wrong: str) -> None:
    for path, method, said in doors():
        used = method if wrong == "no credentials" else "delete"
        address = path.replace("{sha256}", "0" * 64).replace("{visit}", str(uuid4()))
        answer = Client().generic(used, address, b"{}", content_type="application/json")
        assert answer["Content-Type"] == "application/problem+json", path
        assert str(answer.status_code) in said["responses"], path
        assert set(answer.json()) == {"type", "title", "status", "detail", "code", "faults"}
        expected = {400, 401} if wrong == "no credentials" else {401, 405}
        assert answer.status_code in expected, (path, answer.content)


@pytest.mark.parametrize("path", ["/api/", "/api/nothing", "/api/sync/push/", "/api/photos/a/b"])
def test_an_address_that_is_no_door_says_so(path: str) -> None:
    answer = Client().get(path)
    assert (answer.status_code, answer["Content-Type"]) == (404, "application/problem+json")
    assert answer.json()["code"] == "not_found"
