"""The order of locks, the same for everybody: that is what keeps deadlocks away.

Device row, then lock keys (labels, pickups) as one sorted set of transaction-level advisory
locks, then casings, work orders, runs by id `FOR NO KEY UPDATE`; all before any insert.
Nobody takes an earlier kind after a later one. Locks end with the transaction.
"""

import hashlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from django.db import connection


def label_key(code: str) -> int:
    """The lock key of a label: every fact under the label waits for it."""
    return _key(f"label:{code}")


def pickup_key(uid: object) -> int:
    """The lock key of a pickup or drop-off: its lines and its end wait for it."""
    return _key(f"pickup:{uid}")


def run_key(uid: object) -> int:
    """The lock key of a run: what drivers tell of it waits for it, so that two phones that tell of
    several runs never wait for each other."""
    return _key(f"run:{uid}")


def timetable_key(site: object) -> int:
    """The lock key of a store's regular runs: they are read and published as a whole."""
    return _key(f"timetable:{site}")


def load_key(plant: object, number: str) -> int:
    """The lock key of a cure load: its words, its record and what is decided about it wait."""
    return _key(f"load:{plant}:{number}")


def plant_key(plant: object) -> int:
    """The lock key of what a plant enters as a whole: numbers are counted on one by one."""
    return _key(f"plant:{plant}")


def forecast_key(plant: object) -> int:
    """The lock key of a plant's forecast: one computes it at a time. See `alone`."""
    return _key(f"forecast:{plant}")


def asker_key(person: object) -> int:
    """The lock key of what a person has computed: one thing at a time."""
    return _key(f"asker:{person}")


def records_key() -> int:
    """The lock key of customers and what is theirs, as a list of them: one is written at a time."""
    return _key("records")


def _key(name: str) -> int:
    return int.from_bytes(hashlib.blake2b(name.encode(), digest_size=8).digest(), signed=True)


def take(keys: Iterable[int]) -> None:
    """Take all keys, in their order, in one statement. Call once a transaction."""
    ordered = sorted(set(keys))
    if not ordered:
        return
    with connection.cursor() as c:
        # ORDER BY in the subquery with OFFSET 0 keeps the planner from locking in another order.
        c.execute(
            "SELECT count(pg_advisory_xact_lock(k)) FROM"
            " (SELECT k FROM unnest(%s::bigint[]) k ORDER BY k OFFSET 0) s",
            [ordered],
        )


def try_take(keys: Iterable[int]) -> bool:
    """Take further keys without waiting, so that no order is broken; False where one is busy."""
    with connection.cursor() as c:
        c.execute(
            "SELECT coalesce(bool_and(pg_try_advisory_xact_lock(k)), true)"
            " FROM unnest(%s::bigint[]) k",
            [sorted(set(keys))],
        )
        return bool(c.fetchone()[0])


@contextmanager
def alone(key: int) -> Iterator[bool]:
    """For long work outside of transactions: whether nobody else is at it, until the end of the
    block. Waits for nobody; who dies lets go with his connection."""
    with connection.cursor() as c:
        c.execute("SELECT pg_try_advisory_lock(%s)", [key])
        mine = bool(c.fetchone()[0])
    try:
        yield mine
    finally:
        if mine:
            with connection.cursor() as c:
                c.execute("SELECT pg_advisory_unlock(%s)", [key])
