"""Push of 500 whole operations over HTTP, against COPY into the same ledger and a naive endpoint.

Ours does everything that it does in the field: authentication, validation, ledger, fold, work
orders, journal, feed, receipts. Medians of the rounds, one client, one web process, one run.
"""

import http.client
import json
import statistics
import time
from collections.abc import Iterator
from typing import Any
from uuid import UUID, uuid4

import psycopg
import pytest
from psycopg.types.json import Jsonb

from pickups.kernel.clock import now, rfc3339, to_ms
from pickups.kernel.ids import uuid7
from tests.bench.figures import note
from tests.world.phone import Phone
from tests.world.stack import Stack

ROUNDS, BATCH, NAIVE = 12, 500, 400
EARLIER = 8
COLUMNS = ("uid", "kind", "label", "stamp", "corrects", "work_order", "holder", "told",
           "happened_at", "recorded_at", "skew_ms", "by", "device")  # fmt: skip


@pytest.fixture(scope="module")
def stack() -> Iterator[Stack]:
    labels = BATCH * (ROUNDS * 2 + 1)
    with Stack(durable=True, labels=labels, wsgi="tests.bench.naive:application") as made:
        made.start_web()
        yield made


def test_push_of_500_against_copy_and_a_naive_endpoint(stack: Stack) -> None:
    phone = Phone(stack.door, UUID(stack.cast["driver"]))
    assert phone.enrol(stack.fresh_code()).status == 200
    labels: list[str] = stack.cast["labels"]
    fresh = rounds(stack, phone, labels)
    with stack.connect() as c:
        c.execute("VACUUM ANALYZE")
    folded = rounds(stack, phone, labels, earlier=EARLIER)
    copied = copy_rounds(stack)
    naive = naive_rate(stack)
    note(
        "push of 500 operations",
        ours_per_s=fresh,
        ours_per_s_with_8_earlier_events_each=folded,
        copy_per_s=copied,
        naive_per_s=naive,
        times_naive=fresh / naive,
        times_copy=fresh / copied,
        aim="12 x naive, 0.12 x COPY",
    )


def rounds(stack: Stack, phone: Phone, labels: list[str], *, earlier: int = 0) -> float:
    """Operations a second, the median of the rounds; the first round warms up."""
    took = []
    for _ in range(ROUNDS):
        mine = [labels.pop() for _ in range(BATCH)]
        if earlier:
            plant_events(stack, mine, earlier)
        pickup = uuid4()
        for label in mine:
            phone.pick_up(label, UUID(stack.cast["yard"]), pickup, tread_32nds=[6, 7, 6, 5],
                          tin="DOT 4B08 4DHR 2910", size="295/75R22.5")  # fmt: skip
        body = {"protocol": 1, "sent_at": rfc3339(now()), "operations": phone.outbox}
        data = json.dumps(body).encode()
        headers = {"Content-Type": "application/json",
                   "Cookie": f"__Host-yardloop_push={phone.push_secret}"}  # fmt: skip
        began = time.perf_counter()
        reply = stack.door("POST", "/api/sync/push", data, headers)
        took.append(time.perf_counter() - began)
        assert reply.status == 200, reply.body
        assert {a["outcome"] for a in reply.json["answers"]} == {"accepted"}
        phone.outbox.clear()
    return BATCH / statistics.median(took[1:])


def plant_events(stack: Stack, labels: list[str], each: int) -> None:
    """Orphans that the push has to find, fold and adopt."""
    kinds = ["received", *["passed"] * (each - 1)]
    at = now()
    with (
        stack.connect() as c,
        c.cursor().copy(f"COPY custody_fact ({', '.join(COLUMNS)}) FROM STDIN") as out,
    ):
        for label in labels:
            for i, kind in enumerate(kinds):
                out.write_row((uuid7(), kind, label, to_ms(at) + i, None, None, "plant:x",
                               Jsonb({"station": "buffing"}), at, at, 0, None, None))  # fmt: skip


def a_row() -> tuple[Any, ...]:
    told = {
        "at": rfc3339(now()),
        "pickup": str(uuid4()),
        "yard": str(uuid4()),
        "tin": "DOT 4B08 4DHR 2910",
        "size": "295/75R22.5",
        "tread_32nds": [6, 7, 6, 5],
    }
    uid = uuid7()
    return (uid, "picked_up", "K7000000", 1_700_000_000_000, None, uid, f"person:{uuid4()}",
            Jsonb(told), now(), now(), 0, uuid4(), uuid4())  # fmt: skip


def copy_rounds(stack: Stack) -> float:
    """Rows a second by COPY, 500 a transaction, into the same indexed table."""
    took = []
    with psycopg.connect(stack.postgres.url) as c:
        for _ in range(ROUNDS):
            rows = [a_row() for _ in range(BATCH)]
            began = time.perf_counter()
            with c.cursor().copy(f"COPY custody_fact ({', '.join(COLUMNS)}) FROM STDIN") as out:
                for row in rows:
                    out.write_row(row)
            c.commit()
            took.append(time.perf_counter() - began)
    return BATCH / statistics.median(took[1:])


def naive_rate(stack: Stack) -> float:
    """Rows a second, a request a row, over one kept connection."""
    link = http.client.HTTPConnection("localhost", stack.port)
    took = []
    for _ in range(NAIVE):
        row = dict(zip(COLUMNS, a_row(), strict=True))
        row["told"] = row["told"].obj
        data = json.dumps(row, default=str)
        began = time.perf_counter()
        link.request("POST", "/naive", data, {"Content-Type": "application/json"})
        answer = link.getresponse()
        answer.read()
        took.append(time.perf_counter() - began)
        assert answer.status == 201
    return 1 / statistics.median(took[20:])
