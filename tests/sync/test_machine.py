"""Phones that push in any order, split, twice, at once and with answers lost: one outcome.

Hypothesis enters operations on two phones and sends them as badly as it can. After everything
has drained the ledger holds each once, and the state is that of pushing them once, in order.
HYPOTHESIS_PROFILE=sim tries far more.
"""

import os
from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import connection
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    rule,
    run_state_machine_as_test,
)

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact, Pickup, VisitLine
from pickups.custody.visit_lines import bodies as visit_lines
from pickups.promises.queries import work_orders
from pickups.questions.models import Question
from pickups.sync import queries
from pickups.sync.models import Operation
from pickups.sync.push import retry_held
from tests.conftest import Enrol
from tests.world import Phone, World
from tests.world.threads import at_once

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("apart"),
    pytest.mark.xdist_group("feed"),
]

SIM = os.environ.get("HYPOTHESIS_PROFILE") == "sim"
LABELS = 4
TOLD = (
    "custody_fact, custody_pickup, custody_visit_line, casings_work_order, casings_casing,"
    " sync_operation, sync_incarnation, questions_question, journal_delivery, journal_entry"
)

WHICH = st.integers(0, 1)
ORDER = st.lists(st.integers(0, 20), min_size=1, max_size=8)


def empty() -> None:
    """Away with all that was told; cast, devices and their feed stay."""
    with connection.cursor() as c:
        c.execute(f"TRUNCATE {TOLD}")
        c.execute("DELETE FROM sync_feed WHERE entity IN ('work_order', 'pickup', 'visit_line')")


def ledger() -> dict[str, Any]:
    """What the server holds, but for when and in which transaction it came."""
    contested = Question.objects.filter(settled_at=None, kind="label_contested")
    return {
        "facts": set(Fact.objects.values_list("uid", "label", "stamp", "corrects", "work_order")),
        "orders": {
            w["uid"]: {k: v for k, v in w.items() if k != "version"}
            for w in WorkOrder.objects.values()
        },
        "pickups": {
            p["uid"]: {k: v for k, v in p.items() if k not in {"recorded_at", "version"}}
            for p in Pickup.objects.values()
        },
        "lines": {
            v["uid"]: {k: x for k, x in v.items() if k != "version"}
            for v in VisitLine.objects.values()
        },
        "differing": set(
            Question.objects.filter(settled_at=None, kind="pickup_differs").values_list(
                "subject", flat=True
            )
        ),
        "operations": set(Operation.objects.values_list("id", "device_id", "sequence")),
        "contested": set(contested.values_list("subject", flat=True)),
    }


def shown() -> dict[str, dict[str, dict[str, Any]]]:
    """The work orders and lines that a phone of the store should see."""
    orders = work_orders(list(WorkOrder.objects.values_list("uid", flat=True)))
    lines = visit_lines(list(VisitLine.objects.values_list("uid", flat=True)))
    return {
        "work_order": {str(uid): body for uid, body in orders.items()},
        "visit_line": {str(uid): body for uid, body in lines.items()},
    }


class Phones(RuleBasedStateMachine):
    """Two drivers of one store, four labels."""

    world: World
    phones: list[Phone]
    entered: list[list[dict[str, Any]]]
    told = Bundle("told")
    counted = Bundle("counted")

    @initialize()
    def begin(self) -> None:
        empty()
        self.entered = [[], []]
        for phone in self.phones:
            phone.incarnation, phone.sequence = uuid4(), 0
            phone.outbox, phone.sent, phone.answers = [], [], {}
            phone.rows, phone.cursor = {}, None
        self.pickup = [uuid4(), uuid4()]
        self.lines: list[list[str]] = [[], []]
        self.scrap: list[list[str]] = [[], []]

    def enter(self, which: int, operation: dict[str, Any]) -> dict[str, Any]:
        self.entered[which].append(operation)
        return operation

    @rule(target=told, which=WHICH, label=st.integers(0, LABELS - 1), tread=st.integers(0, 40))
    def pick_up(self, which: int, label: int, tread: int) -> dict[str, Any]:
        code, pickup = self.world.labels[label], self.pickup[which]
        op = self.phones[which].pick_up(code, self.world.yard.uid, pickup, tread_32nds=[tread])
        self.lines[which].append(op["id"])
        return self.enter(which, op)

    @rule(which=WHICH, op=told, label=st.integers(0, LABELS - 1), tread=st.integers(0, 40))
    def correct(self, which: int, op: dict[str, Any], label: int, tread: int) -> None:
        """Also what the other phone told, and perhaps before that has arrived."""
        first = op["payload"]
        original = {"fact": op["id"], "label": first["label"]}
        self.enter(
            which,
            self.phones[which].pick_up(
                self.world.labels[label],
                self.world.yard.uid,
                UUID(first["pickup"]),
                tread_32nds=[tread],
                corrects=original,
            ),
        )

    @rule(which=WHICH, op=told)
    def withdraw(self, which: int, op: dict[str, Any]) -> None:
        first = op["payload"]
        payload = {
            "pickup": first["pickup"],
            "withdraws": {"fact": op["id"], "label": first["label"]},
            "reason": "put back",
        }
        self.enter(which, self.phones[which].enter("custody.withdraw", payload))

    @rule(target=counted, which=WHICH, count=st.integers(0, 3), listed=st.booleans())
    def count_scrap(self, which: int, count: int, listed: bool) -> dict[str, Any]:
        """Scrap that the end of the pickup lists, or does not."""
        pickup, yard = self.pickup[which], self.world.yard.uid
        op = self.phones[which].count_scrap(pickup, yard, count)
        if listed:
            self.scrap[which].append(op["id"])
        return self.enter(which, op)

    @rule(target=counted, which=WHICH, op=counted, count=st.integers(0, 3))
    def count_again(self, which: int, op: dict[str, Any], count: int) -> dict[str, Any]:
        """A line, or what told it again, of either phone: it may not have arrived yet."""
        pickup, yard = UUID(op["payload"]["pickup"]), self.world.yard.uid
        again = self.phones[which].count_scrap(pickup, yard, count, corrects=op["id"])
        return self.enter(which, again)

    @rule(which=WHICH)
    def finish(self, which: int) -> None:
        pickup, lines, scrap = self.pickup[which], self.lines[which], self.scrap[which]
        if lines or scrap:
            yard = str(self.world.yard.uid)
            payload = {"pickup": str(pickup), "yard": yard, "casings": lines, "scrap": scrap}
            phone = self.phones[which]
            self.enter(which, phone.enter("custody.finish_pickup", payload, version=3))
            self.pickup[which], self.lines[which], self.scrap[which] = uuid4(), [], []

    def some(self, which: int, order: list[int]) -> list[dict[str, Any]]:
        """Some of what was ever entered, in any order, some twice, sent before or not."""
        entered = self.entered[which]
        return [entered[n % len(entered)] for n in order] if entered else []

    def sending(self, which: int, order: list[int], *, lost: bool) -> Callable[[], int]:
        batch = self.some(which, order)
        phone = self.phones[which]

        def send() -> int:
            kept = list(phone.outbox)
            status = phone.push(batch).status
            if lost:
                phone.outbox = kept
            return status

        return send

    @rule(which=WHICH, order=ORDER, lost=st.booleans())
    def push(self, which: int, order: list[int], lost: bool) -> None:
        assert self.sending(which, order, lost=lost)() == 200

    @rule(orders=st.tuples(ORDER, ORDER), lost=st.booleans())
    def push_at_once(self, orders: tuple[list[int], list[int]], lost: bool) -> None:
        """503: a correction reached a label that the other held, and nothing was recorded."""
        jobs = [self.sending(n, orders[n], lost=lost) for n in (0, 1)]
        assert set(at_once(*jobs)) <= {200, 503}

    @rule(which=WHICH, order=ORDER)
    def push_twice_at_once(self, which: int, order: list[int]) -> None:
        """The first answer was slow, so the phone tried again."""
        twice = [self.sending(which, turn, lost=True) for turn in (order, order[::-1])]
        assert at_once(*twice) == [200, 200]

    @rule(which=WHICH, limit=st.integers(1, 6))
    def pull(self, which: int, limit: int) -> None:
        assert self.phones[which].pull(limit).status == 200

    def teardown(self) -> None:
        for phone in self.phones:
            while phone.outbox:
                assert phone.push().status == 200
        while retry_held():
            pass
        badly = ledger()
        facts = {o["id"] for each in self.entered for o in each}
        assert {str(f[0]) for f in badly["facts"]} == facts
        assert Operation.objects.exclude(outcome__in=["accepted", "contested"]).count() == 0
        assert len(badly["operations"]) == sum(map(len, self.entered))
        for phone in self.phones:
            phone.pull_all(limit=7)
            for entity, bodies in shown().items():
                assert phone.seen(entity) == bodies
            assert queries.gaps(phone.uid) == []

        empty()
        for which, phone in enumerate(self.phones):
            if self.entered[which]:
                assert phone.push(self.entered[which]).status == 200
        while retry_held():
            pass
        assert ledger() == badly


def test_any_way_of_sending_ends_in_what_sending_once_in_order_gives(
    world: World, enrol: Enrol
) -> None:
    pair = [enrol(), enrol()]

    class Told(Phones):
        pass

    Told.world, Told.phones = world, pair
    run_state_machine_as_test(
        Told,
        settings=settings(
            max_examples=400 if SIM else 25,
            stateful_step_count=40 if SIM else 20,
            deadline=None,
            derandomize=not SIM,
            print_blob=True,
            # Each try is a second of a real database: the shortest example is sought by sim only.
            phases=list(Phase) if SIM else [Phase.generate],
            suppress_health_check=list(HealthCheck),
        ),
    )
