"""The checker is seen red: a schedule is played to a good end, then one thing on the server or in
what a phone was told is made otherwise, and the finding that names it must come."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from tests.sim import plan
from tests.sim.playing import Played, Stage
from tests.world.stack import Stack

SIZE = plan.Size(phones=2, operations=40, net=0.0, kill=0.0, clock=0.0, enrol=0.0, web=0.0,
                 database=0.0, broker=0.0, restore=0.0, plant=0.1)  # fmt: skip
KINDS = {"custody.pick_up", "custody.empty_trailer", "custody.hand_over", "custody.deliver",
         "runs.arrive", "runs.skip"}  # fmt: skip
pytestmark = pytest.mark.xdist_group("sim")


@pytest.fixture(scope="module")
def played(stage: Stage) -> Played:
    """A schedule that held, of every kind that is looked for here."""
    drawn = (plan.schedule(seed, SIZE) for seed in range(1000))
    done = stage.perform(next(steps for steps in drawn if set(plan.kinds(steps)) >= KINDS))
    assert done.findings() == []
    return done


@contextmanager
def otherwise(stack: Stack, table: str, where: str, change: str) -> Iterator[None]:
    """The rows of a table, changed as no door of ours would; put back as they were."""
    with stack.connect() as c:
        c.execute("SET session_replication_role = replica")  # no trigger, no foreign key
        c.execute(f"CREATE TABLE before AS SELECT * FROM {table} WHERE {where}")
        try:
            assert c.execute(f"{change.format(table=table, where=where)}").rowcount == 1
            yield
        finally:
            c.execute(f"DELETE FROM {table} WHERE {where}")
            c.execute(f"INSERT INTO {table} SELECT * FROM before")
            c.execute("DROP TABLE before")


GONE = "DELETE FROM {table} WHERE {where}"


def told(played: Played, kind: str) -> str:
    """An operation of this kind that was entered."""
    for phone in played.over["phones"]:
        for uid, body in phone["bodies"].items():
            if f'"kind":"{kind}"' in body:
                return str(uid)
    raise AssertionError(kind)


def held_order(played: Played) -> str:
    """A casing on its own that somebody holds."""
    labels = sorted(played.seat["labels"])
    found = played.server.stack.rows(
        "SELECT uid FROM casings_work_order WHERE label = ANY(%s) AND NOT contested AND"
        " NOT withdrawn AND holder <> '' ORDER BY uid LIMIT 1",
        labels,
    )
    return str(found[0][0])


@pytest.mark.parametrize("kind", ["custody.pick_up", "custody.empty_trailer", "runs.arrive"])
def test_an_operation_that_was_not_recorded_is_named(played: Played, kind: str) -> None:
    uid = told(played, kind)
    with otherwise(played.server.stack, "sync_operation", f"id = '{uid}'", GONE):
        assert f"lost: {uid}" in played.findings()


@pytest.mark.parametrize(
    ("kind", "table"), [("custody.hand_over", "custody_fact"), ("runs.skip", "runs_happening")]
)
def test_an_operation_that_was_recorded_and_not_applied_is_named(
    played: Played, kind: str, table: str
) -> None:
    uid = told(played, kind)
    with otherwise(played.server.stack, table, f"uid = '{uid}'", GONE):
        assert f"no fact of {uid}" in played.findings()


def test_an_operation_that_was_applied_twice_is_named(played: Played) -> None:
    """Its second fact has an id of its own, as from a repeat that was taken for another one."""
    stack, uid = played.server.stack, told(played, "runs.arrive")
    other = "01960000-0000-7000-8000-0000000000ff"
    columns = [c for (c,) in stack.rows(
        "SELECT column_name FROM information_schema.columns WHERE table_name = 'runs_happening'"
    )]  # fmt: skip
    copied = ", ".join(f"'{other}'" if c == "uid" else f'"{c}"' for c in columns)
    names = ", ".join(f'"{c}"' for c in columns)
    twice = f"INSERT INTO {{table}} ({names}) SELECT {copied} FROM {{table}} WHERE uid = '{uid}'"
    with otherwise(stack, "runs_happening", f"uid = '{other}'", twice):
        found = played.findings()
    assert f"a fact that nobody entered: {other}" in found


CHANGED: dict[str, tuple[str, str, str]] = {
    "a holder lost": ("casings_work_order", "UPDATE {table} SET holder = '' WHERE {where}",
                      "{uid}: nobody holds it"),
    "a holder that the ledger does not know": (
        "casings_work_order", "UPDATE {table} SET holder = 'site:x' WHERE {where}",
        "the fold is otherwise: {uid}: folded"),
    "a casing that no page shows": ("casings_work_order", GONE,
                                    "the fold is otherwise: {uid}: no work order"),
    "a casing contested with nobody": (
        "casings_work_order", "UPDATE {table} SET contested = true WHERE {where}",
        "{uid}: contested True, 1 casings"),
    "a row that is newer than what phones were told": (
        "casings_work_order", "UPDATE {table} SET version = version + 1 WHERE {where}",
        "work_order in view and in table differ"),
}  # fmt: skip


@pytest.mark.parametrize("what", CHANGED)
def test_a_casing_that_stands_otherwise_is_named(played: Played, what: str) -> None:
    table, change, said = CHANGED[what]
    uid = held_order(played)
    with otherwise(played.server.stack, table, f"uid = '{uid}'", change):
        found = played.findings()
    assert any(said.format(uid=uid) in finding for finding in found), found


def test_another_body_under_the_same_operation_is_named(played: Played) -> None:
    uid = told(played, "custody.deliver")
    change = "UPDATE {table} SET hash = decode(repeat('00', 32), 'hex') WHERE {where}"
    with otherwise(played.server.stack, "sync_operation", f"id = '{uid}'", change):
        assert f"recorded otherwise than it was entered: {uid}" in played.findings()


def test_a_number_that_is_missing_from_a_row_is_named(played: Played) -> None:
    uid = told(played, "custody.deliver")
    change = "UPDATE {table} SET sequence = sequence + 100000 WHERE {where}"
    with otherwise(played.server.stack, "sync_operation", f"id = '{uid}'", change):
        assert any("have a gap" in finding for finding in played.findings())


def test_an_event_of_the_plant_that_is_lost_is_named(played: Played) -> None:
    event = played.over["posted"][0]["id"]
    where = f"event = '{event}'"
    with otherwise(played.server.stack, "inspection_station_event", where, GONE):
        assert f"the plant's event {event} is lost" in played.findings()


def test_a_photo_that_is_lost_is_named(played: Played) -> None:
    photo = next(sha256 for p in played.over["phones"] for sha256 in p["photos"])
    with otherwise(played.server.stack, "sync_photo", f"sha256 = '{photo}'", GONE):
        assert f"photo {photo} is not here" in played.findings()


Phone = dict[str, Any]


def never_sent(phone: Phone) -> str:
    """A row of the feed that the server has and tells no phone."""
    for entity in ("work_order", "run"):
        row = next(r for r in phone["fresh"] if r["entity"] == entity)
        phone["fresh"].remove(row)
    return "run in view and in table differ"


def forgotten(phone: Phone) -> str:
    """The phone has lost what it had said was entered."""
    phone["missing"].append(phone["entered"][0])
    return f"{phone['entered'][0]} was entered and is on the phone no more"


def unsent(phone: Phone) -> str:
    """It still waits though the network is well."""
    phone["waiting"].append("01960000-0000-7000-8000-0000000000fe")
    return "01960000-0000-7000-8000-0000000000fe is unsent"


def not_entered(phone: Phone) -> str:
    """It was told and the phone never took it."""
    phone["entered"].pop()
    return f"{len(phone['entered']) + 1} told, {len(phone['entered'])} entered"


def unlike(phone: Phone) -> str:
    """Its replica is not what a fresh phone has (see compare.test.ts)."""
    phone["differs"].append("run 1: missing here")
    return "differs from a fresh phone: run 1: missing here"


@pytest.mark.parametrize("change", [never_sent, forgotten, unsent, not_entered, unlike])
def test_a_phone_that_is_not_as_it_must_be_is_named(
    played: Played, change: Callable[[Phone], str]
) -> None:
    phone = played.over["phones"][0]
    before = {name: list(value) for name, value in phone.items() if isinstance(value, list)}
    said = change(phone)
    try:
        assert any(said in finding for finding in played.findings())
    finally:
        phone.update(before)
