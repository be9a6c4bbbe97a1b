"""Many phones that come back online at the same moment, each with a day in its outbox.

Each waits after a failure as the shipped engine does (frontend/src/sync/backoff.ts): between half
and whole of a span that doubles from 2 s to 5 min, never less than the server's Retry-After.
"""

import http.client
import json
import time
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from random import Random
from threading import Barrier
from typing import Any
from uuid import UUID, uuid4

from tests.world.phone import Phone, Reply
from tests.world.stack import Stack

FIRST_S, LONGEST_S = 2.0, 300.0
TIMEOUT_S = 30
FULL = {"size": "295/75R22.5", "tread_32nds": [6, 7, 6, 5], "tin": "DOT 4B08 4DHR 2910"}


def wait_s(failures: int, chance: float, retry_after_s: float) -> float:
    """Seconds to the next try after so many failures in a row; `chance` from 0 up to 1."""
    span = min(LONGEST_S, FIRST_S * 2.0 ** min(failures - 1, 20))
    return max(span / 2 + span / 2 * chance, retry_after_s * (1 + 0.2 * chance))


@dataclass
class Herd:
    """The phones, and what the server said to each request: how often which status."""

    stack: Stack
    phones: list[Phone]
    said: Counter[int] = field(default_factory=Counter)
    hasty: int = 0
    """Answers of 503 without a Retry-After."""

    def come_back(self) -> float:
        """All push at once until nothing waits; seconds from the first to the last."""
        start = Barrier(len(self.phones) + 1)
        with ThreadPoolExecutor(len(self.phones)) as pool:
            jobs = [pool.submit(self._empty, phone, start) for phone in self.phones]
            start.wait()
            began = time.perf_counter()
            for job in jobs:
                job.result()
            return time.perf_counter() - began

    def _empty(self, phone: Phone, start: Barrier) -> None:
        chance, failures = Random(str(phone.uid)), 0
        start.wait()
        while phone.outbox:
            reply = phone.push()
            self.said[reply.status] += 1
            if reply.status == 200:
                failures = 0
                continue
            failures += 1
            after = reply.headers.get("retry-after", "")
            self.hasty += reply.status == 503 and not after
            time.sleep(wait_s(failures, chance.random(), float(after or 0)))


def kept_door(stack: Stack) -> Any:
    """A door over one kept connection, as a phone's browser has it; status 0 where none answers."""
    link = http.client.HTTPConnection("127.0.0.1", stack.port, timeout=TIMEOUT_S)

    def door(method: str, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        try:
            link.request(method, path, body, {"Host": f"localhost:{stack.port}", **headers})
            answer = link.getresponse()
            given = {name.lower(): value for name, value in answer.getheaders()}
            return Reply(answer.status, given, answer.read())
        except (OSError, http.client.HTTPException):
            link.close()
            return Reply(0, {}, b"")

    return door


def gather(stack: Stack, count: int, operations: int) -> Herd:
    """So many enrolled phones of the driver, each with one pickup of so many operations: casings,
    and the end of the visit."""
    made = json.loads(stack.call(f"enrol_many({stack.cast['store']!r}, {count})").splitlines()[-1])
    phones = []
    for uid, secret in made:
        phone = Phone(kept_door(stack), UUID(stack.cast["driver"]), uid=UUID(uid))
        phone.push_secret = secret
        fill(phone, stack, operations)
        phones.append(phone)
    return Herd(stack, phones)


def fill(phone: Phone, stack: Stack, operations: int) -> None:
    """One pickup into the outbox."""
    yard, pickup = UUID(stack.cast["yard"]), uuid4()
    casings: Sequence[str] = [
        phone.pick_up(stack.cast["labels"].pop(), yard, pickup, **FULL)["id"]
        for _ in range(operations - 1)
    ]
    phone.finish(pickup, yard, casings)


def recorded(stack: Stack) -> dict[str, int]:
    """What stands in the ledger: facts, and by how many ids; work orders; ends of visits."""
    query = """SELECT (SELECT count(*) FROM custody_fact),
               (SELECT count(DISTINCT uid) FROM custody_fact),
               (SELECT count(*) FROM casings_work_order), (SELECT count(*) FROM custody_pickup),
               (SELECT count(*) FROM sync_operation WHERE outcome = 'accepted')"""
    [row] = stack.rows(query)
    return dict(zip(("facts", "ids", "orders", "pickups", "accepted"), row, strict=True))
