"""Station events over HTTP in batches of 1, 20 and 500 from 8 clients, against a row a request into
the same table and against COPY; and the slowest of single posts against a view that does nothing.

Ours does everything that it does in the field: key, validation, both ledgers, both folds, journal,
feed. Each casing goes through the stations, so what is folded grows with every round. One web
process, connections kept open.
"""

import http.client
import json
import statistics
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Any
from uuid import uuid4

import psycopg
import pytest
from psycopg.types.json import Jsonb

from pickups.kernel.clock import now, rfc3339, to_ms
from pickups.kernel.ids import uuid7
from plant.dock.rules import DEFAULT_ROUTE
from tests.bench.figures import note
from tests.world.stack import Stack

CLIENTS = 8
ROUNDS = {1: 60, 20: 20, 500: 4}
SINGLES, NAIVE, COPIES = 400, 60, 10
STATIONS = tuple(DEFAULT_ROUTE)
COLUMNS = ("fact", "plant_id", "event", "hash", "key", "by", "device", "label", "station",
           "outcome", "operator", "machine", "load", "envelope", "tag", "about", "stamp",
           "happened_at", "recorded_at", "body")  # fmt: skip
LABELS = CLIENTS * (1 + 20 + 500) + 1


@pytest.fixture(scope="module")
def stack() -> Iterator[Stack]:
    with Stack(durable=True, labels=LABELS, wsgi="tests.bench.naive:application") as made:
        made.start_web()
        yield made


class Client:
    """One system of a plant over one kept connection."""

    def __init__(self, stack: Stack, key: str) -> None:
        self.link = http.client.HTTPConnection("localhost", stack.port)
        self.headers = {"Content-Type": "application/json", "Authorization": f"Key {key}"}

    def post(self, path: str, data: bytes) -> float:
        """Seconds until it was answered."""
        began = time.perf_counter()
        self.link.request("POST", path, data, self.headers)
        answer = self.link.getresponse()
        said = answer.read()
        assert answer.status in (200, 201), said[:500]
        return time.perf_counter() - began


def batches(labels: Sequence[str], rounds: int) -> list[bytes]:
    """A round takes each casing to the next station."""
    return [
        json.dumps({"events": [an_event(label, n) for label in labels]}).encode()
        for n in range(rounds)
    ]


def an_event(label: str, n: int) -> dict[str, Any]:
    told = {
        "id": str(uuid7()),
        "label": label,
        "station": STATIONS[n % len(STATIONS)],
        "outcome": "passed",
        "happened_at": rfc3339(now()),
        "operator": "17",
    }
    if n % 6 == 5:
        told["measured"] = {"circumference_mm": 3182.5, "crown_width_mm": 228.0}  # type: ignore[assignment]
    return told


def together(jobs: Sequence[Callable[[], list[float]]]) -> tuple[float, list[float]]:
    """All at once: seconds from the first to the last, and what each post took."""
    with ThreadPoolExecutor(len(jobs)) as pool:
        began = time.perf_counter()
        each = [future.result() for future in [pool.submit(job) for job in jobs]]
        return time.perf_counter() - began, [one for took in each for one in took]


def p99(took: Sequence[float]) -> float:
    return 1000 * statistics.quantiles(took, n=100)[98]


def run(client: Client, path: str, bodies: Sequence[bytes]) -> list[float]:
    return [client.post(path, body) for body in bodies]


def test_station_events_against_a_row_a_request_and_copy(stack: Stack) -> None:
    keys = json.loads(stack.call(f"plant_keys({stack.cast['plant']!r}, {CLIENTS + 1})"))
    clients = [Client(stack, key) for key in keys[:CLIENTS]]
    labels: list[str] = stack.cast["labels"]
    alone, last = Client(stack, keys[-1]), labels.pop()
    run(alone, "/api/plant/events", batches([last], 3))  # warms up
    figures: dict[str, float] = {}
    for size, rounds in ROUNDS.items():
        jobs = []
        for client in clients:
            mine = [labels.pop() for _ in range(size)]
            jobs.append(partial(run, client, "/api/plant/events", batches(mine, rounds)))
        span, took = together(jobs)
        figures[f"ours_per_s_by_{size}"] = CLIENTS * rounds * size / span
        figures[f"p99_ms_by_{size}"] = p99(took)
    naive = [partial(run, client, "/naive-event", naive_rows(stack)) for client in clients]
    span, _ = together(naive)
    figures["naive_per_s"] = CLIENTS * NAIVE / span
    figures["copy_per_s"] = copied(stack)
    figures["times_naive_by_20"] = figures["ours_per_s_by_20"] / figures["naive_per_s"]
    figures["times_copy_by_500"] = figures["ours_per_s_by_500"] / figures["copy_per_s"]
    note("station events, 8 clients", **figures, aim="10 x naive by 20, p99 under 60 ms")
    single = [json.dumps(an_event(last, n)).encode() for n in range(SINGLES)]
    # Connections of their own: one that was idle so long may be closed.
    ours = p99(run(Client(stack, keys[-1]), "/api/plant/events", single))
    nothing = p99(run(Client(stack, keys[-1]), "/nothing", single))
    note("a single station event", p99_ms=ours, nothing_p99_ms=nothing,
         times_nothing=ours / nothing, aim="under 4 x a view that does nothing")  # fmt: skip


def a_row(stack: Stack, n: int) -> dict[str, Any]:
    at = now()
    body = an_event("K7000Y02", n)
    return dict(zip(COLUMNS, (
        uuid4(), stack.cast["plant"], body["id"], bytes(32), "PBENCH", None, None, body["label"],
        body["station"], "passed", "17", "", "", "", "", None, to_ms(at), at, at, body,
    ), strict=True))  # fmt: skip


def naive_rows(stack: Stack) -> list[bytes]:
    rows = []
    for n in range(NAIVE):
        row = a_row(stack, n)
        row["plant"] = row.pop("plant_id")
        rows.append(json.dumps({k: v for k, v in row.items() if k != "hash"}, default=str).encode())
    return rows


def copied(stack: Stack) -> float:
    """Rows a second by COPY, 500 a transaction."""
    took = []
    with psycopg.connect(stack.postgres.url) as c:
        for _ in range(COPIES):
            rows = [a_row(stack, n) for n in range(500)]
            began = time.perf_counter()
            into = f"COPY inspection_station_event ({', '.join(COLUMNS)}) FROM STDIN"
            with c.cursor().copy(into) as out:
                for row in rows:
                    out.write_row([Jsonb(v) if isinstance(v, dict) else v for v in row.values()])
            c.commit()
            took.append(time.perf_counter() - began)
    return 500 / statistics.median(took[1:])
