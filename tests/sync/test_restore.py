"""A phone and a server that was restored into a fresh cluster: nothing lost, nothing doubled."""

import io
from pathlib import Path
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.db import connection

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact, Pickup
from pickups.sync import queries, services
from pickups.sync.models import Operation
from tests.conftest import Enrol
from tests.sync.batches import push
from tests.world import Phone, World
from tests.world.clusters import cluster, make_database, moved_to

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]


def visit(phone: Phone, world: World, casings: int) -> list[str]:
    """A pickup of so many casings, pushed; the ids of all that was told."""
    pickup = uuid4()
    ids = [phone.pick_up(world.a_label(), world.yard.uid, pickup)["id"] for _ in range(casings)]
    phone.finish(pickup, world.yard.uid, ids)
    assert set(push(phone)) == {"accepted"}
    return ids


def next_transaction() -> int:
    with connection.cursor() as c:
        c.execute("SELECT pg_snapshot_xmax(pg_current_snapshot())::text::bigint")
        return int(c.fetchone()[0])


def facts() -> list[str]:
    """The casings picked up; the ends of pickups are facts too."""
    return sorted(map(str, Fact.objects.exclude(label="").values_list("uid", flat=True)))


def spend_transactions(count: int) -> None:
    """So that the old counter is far ahead of a fresh cluster's, as it is in life."""
    with connection.cursor() as c:
        c.execute("CREATE PROCEDURE spend(n int) LANGUAGE plpgsql AS $$ BEGIN FOR i IN 1..n LOOP"
                  " PERFORM pg_current_xact_id(); COMMIT; END LOOP; END $$")  # fmt: skip
        c.execute("CALL spend(%s)", [count])
        c.execute("DROP PROCEDURE spend")


def test_a_phone_meets_a_restored_server_and_nothing_is_lost_or_doubled(
    world: World, phone: Phone, enrol: Enrol, tmp_path: Path
) -> None:
    spend_transactions(3000)
    saved = visit(phone, world, 2)
    waits = phone.enter("custody.sing", {})
    assert push(phone) == ["held kind_unknown"]
    phone.pull_all()
    said = io.StringIO()
    call_command("backup", to=tmp_path, stdout=said)
    dump = said.getvalue().splitlines()[0]
    lost = visit(phone, world, 3)
    phone.pull_all()
    assert set(phone.seen("work_order")) == {*saved, *lost}
    unsent = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    old_counter = next_transaction()

    with cluster() as fresh:
        make_database(fresh, connection.settings_dict["NAME"])
        with moved_to(fresh):
            call_command("restore", dump, yes=True, stdout=io.StringIO())
            assert next_transaction() < old_counter
            assert facts() == sorted(saved)

            reply = phone.pull()
            assert (reply.status, reply.json["code"]) == (410, "epoch_changed")
            assert phone.rows == {}
            phone.pull_all()
            assert set(phone.seen("work_order")) == set(saved), "a fresh cluster's rows are seen"
            assert set(phone.seen("yard")) == {str(world.yard.uid)}

            outcomes = dict(zip([o["id"] for o in phone.outbox], push(phone), strict=True))
            assert outcomes.pop(waits["id"]) == "held kind_unknown"
            assert set(outcomes.values()) == {"accepted"}
            assert {*saved, *lost, unsent["id"]} < set(outcomes)
            assert phone.outbox == []
            assert facts() == sorted([*saved, *lost, unsent["id"]])
            assert (WorkOrder.objects.count(), Pickup.objects.count()) == (6, 2)
            assert Operation.objects.count() == phone.sequence
            assert queries.gaps(phone.uid) == []

            phone.pull_all()
            assert set(phone.seen("work_order")) == {*saved, *lost, unsent["id"]}
            latecomer = enrol()
            latecomer.pull_all()
            assert latecomer.rows == phone.rows


def test_without_the_new_stamps_a_fresh_cluster_would_show_phones_nothing(
    world: World, phone: Phone, tmp_path: Path
) -> None:
    """What renew_epoch is for: the same dump, only put back."""
    from pickups.sync.management.commands.backup import dump_database, run_tool

    spend_transactions(3000)
    visit(phone, world, 2)
    dump = dump_database(tmp_path / "all.dump")
    with cluster() as fresh:
        name = connection.settings_dict["NAME"]
        make_database(fresh, name)
        with moved_to(fresh):
            run_tool("pg_restore", name, "--no-owner", "--exit-on-error", str(dump))
            phone.cursor = None
            assert phone.pull().json["rows"] == []
            services.renew_epoch()
            phone.pull_all()
            assert len(phone.seen("work_order")) == 2


def test_a_position_from_before_the_restore_is_seen_after_it(world: World, phone: Phone) -> None:
    """A repeated answer must not point at a position that the new counter reaches in years."""
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    phone.push([op])
    with connection.cursor() as c:
        c.execute("UPDATE sync_operation SET position = '999999999'::xid8")
    services.renew_epoch()
    (answer,) = phone.push([op]).json["answers"]
    assert answer["repeat"] is True
    phone.pull_all()
    assert int(answer["position"]) < int(phone.pull().json["horizon"])
