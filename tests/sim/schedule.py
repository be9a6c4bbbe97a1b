"""One schedule of the simulation: a seed decides who enters what, and what breaks when.

Kills and restarts are counted when they have happened, fates of the network when they are set for
a phone's next exchanges. At the end every fault is mended, every phone syncs until nothing waits,
and `check` compares phones, ledger and projection.
"""

import random
from collections import Counter
from typing import Any
from uuid import UUID

from pickups.kernel.ids import uuid7
from tests.sim.phones import NodePhone
from tests.world.stack import Stack

FATES = ["pass", "drop", "lost", "double", "cut", "late", 500, 503]
DAY_MS = 86_400_000


class Schedule:
    """Phones of two stores, one server, one seed."""

    def __init__(self, stack: Stack, seed: int, *, phones: int, operations: int) -> None:
        self.stack, self.seed = stack, seed
        self.rng = random.Random(seed)
        self.operations = operations
        self.faults: Counter[str] = Counter()
        self.phones = [NodePhone(stack.url) for _ in range(phones)]
        self.open: dict[int, tuple[str, list[tuple[str, str]]]] = {}
        self.scrap: dict[int, list[str]] = {}
        self.entered: dict[str, tuple[int, str]] = {}
        for i, phone in enumerate(self.phones):
            code = stack.fresh_code("store" if i % 2 == 0 else "other_store")
            phone.must("enrol", code=code, name=f"phone {i}")
            driver = stack.cast["driver" if i % 2 == 0 else "other_driver"]
            phone.must("person", id=driver)

    def run(self) -> None:
        """Enter everything, break things on the way, then mend all and let the phones finish."""
        for _ in range(self.operations * len(self.phones)):
            i = self.rng.randrange(len(self.phones))
            self._enter(i)
            self._break(i)
            if self.rng.random() < 0.4:
                self._sync(i)
        for i, phone in enumerate(self.phones):
            phone.must("fates", fates=[])
            phone.must("clock", shift_ms=0)
            self._finish(i)
        self._mend()
        for phone in self.phones:
            for _ in range(10):
                phone.must("sync")
                if not phone.must("state")["waiting"]:
                    break
        for phone in self.phones:  # what the others sent last
            phone.must("sync")

    def _enter(self, i: int) -> None:
        phone = self.phones[i]
        pickup, lines = self.open.setdefault(i, (str(uuid7()), []))
        yard = self.stack.cast["yard"]
        roll = self.rng.random()
        if roll < 0.08:
            self._scrap(i, pickup)
        elif roll < 0.75 or not lines:
            label = self._label()
            payload: dict[str, Any] = {"pickup": pickup, "yard": yard, "label": label,
                                       "treads_32nds": [[self.rng.randrange(30)]]}  # fmt: skip
            uid = phone.must("pick_up", payload=payload)["id"]
            lines.append((uid, label))
            self._entered(i, uid, "picked_up")
        elif roll < 0.85:
            uid, label = self.rng.choice(lines)
            payload = {"pickup": pickup, "yard": yard, "label": self._label(),
                       "corrects": {"fact": uid, "label": label}}  # fmt: skip
            self._entered(i, phone.must("pick_up", payload=payload)["id"], "picked_up")
        elif roll < 0.93:
            uid, label = lines.pop(self.rng.randrange(len(lines)))
            payload = {"pickup": pickup, "withdraws": {"fact": uid, "label": label},
                       "reason": "wrong pile"}  # fmt: skip
            self._entered(i, phone.must("withdraw", payload=payload)["id"], "withdrawn")
        else:
            self._finish(i)

    def _scrap(self, i: int, pickup: str) -> None:
        """A line of scrap, or one of this pickup told again."""
        listed = self.scrap.setdefault(i, [])
        payload: dict[str, Any] = {"pickup": pickup, "yard": self.stack.cast["yard"],
                                   "count": self.rng.randrange(9)}  # fmt: skip
        if listed and self.rng.random() < 0.5:
            payload["corrects"] = self.rng.choice(listed)
        told = {"kind": "custody.count_scrap", "payload": payload}
        uid = self.phones[i].must("tell", **told)["id"]
        self._entered(i, uid, "scrap")
        if "corrects" not in payload:
            listed.append(uid)

    def _finish(self, i: int) -> None:
        pickup, lines = self.open.pop(i, ("", []))
        scrap = self.scrap.pop(i, [])
        if lines or scrap:
            payload = {"pickup": pickup, "yard": self.stack.cast["yard"],
                       "casings": [uid for uid, _ in lines], "scrap": scrap}  # fmt: skip
            self._entered(i, self.phones[i].must("finish", payload=payload)["id"], "")

    def _label(self) -> str:
        """Mostly a label of its own; now and then one that somebody has used."""
        labels: list[str] = self.stack.cast["labels"]
        return labels[0] if self.rng.random() < 0.03 else labels.pop()

    def _entered(self, i: int, uid: str, fact: str) -> None:
        self.entered[uid] = (i, fact)

    def _break(self, i: int) -> None:
        roll = self.rng.random()
        phone = self.phones[i]
        if roll < 0.25:
            fates = [self.rng.choice(FATES) for _ in range(3)]
            phone.must("fates", fates=fates)
            self.faults.update(f"net:{fate}" for fate in fates if fate != "pass")
        elif roll < 0.35:
            phone.must("kill")
            self.faults["phone killed"] += 1
        elif roll < 0.42:
            phone.must("clock", shift_ms=self.rng.randrange(-3, 4) * DAY_MS)
            self.faults["clock set"] += 1
        elif roll < 0.44:
            self.stack.kill_web()
            self.faults["web killed"] += 1
        elif roll < 0.455:
            assert self.stack.postgres.process is not None
            self.stack.postgres.process.kill()
            self.stack.postgres.process.wait()
            self.stack.postgres.start()
            self.faults["database killed"] += 1
        elif roll < 0.47:
            assert self.stack.valkey.process is not None
            self.stack.valkey.process.kill()
            self.stack.valkey.process.wait()
            self.stack.valkey.start()
            self.faults["broker killed"] += 1

    def _sync(self, i: int) -> None:
        if self.rng.random() < 0.5:
            self._mend()
        self.phones[i].must("sync")

    def _mend(self) -> None:
        if self.stack.web is None or self.stack.web.poll() is not None:
            self.stack.start_web()

    def check(self) -> None:
        """Every entered operation recorded once; replica, ledger and projection agree."""
        said = f"seed {self.seed}"
        mine = [UUID(uid) for uid in self.entered]
        recorded = self.stack.rows(
            "SELECT id, outcome, device_id FROM sync_operation WHERE id = ANY(%s)", mine
        )
        assert len(recorded) == len(mine), f"{said}: {len(mine) - len(recorded)} lost"
        held = [uid for uid, outcome, _ in recorded if outcome == "held"]
        assert held == [], f"{said}: still held: {held}"
        facts = {UUID(uid) for uid, (_, fact) in self.entered.items() if fact}
        found = self.stack.rows("SELECT uid FROM custody_fact WHERE uid = ANY(%s)", list(facts))
        assert {uid for (uid,) in found} == facts, said
        server = {
            str(uid): (version, progress, contested, withdrawn)
            for uid, version, progress, contested, withdrawn in self.stack.rows(
                "SELECT uid, version, progress, contested, withdrawn FROM casings_work_order"
                " WHERE site = %s",
                UUID(self.stack.cast["store"]),
            )
        }
        counted = {
            str(uid): (version, told["count"], withdrawn)
            for uid, version, told, withdrawn in self.stack.rows(
                "SELECT uid, version, told, withdrawn FROM custody_visit_line WHERE site = %s",
                UUID(self.stack.cast["store"]),
            )
        }
        for i, phone in enumerate(self.phones):
            state = phone.must("state")
            assert state["waiting"] == [], said
            assert state["refusals"] == [], said
            if i % 2 == 0:
                orders = _rows(state, "work_order", "progress", "contested", "withdrawn")
                assert orders == server, f"{said}: phone {i} differs"
                lines = _rows(state, "visit_line", "count", "withdrawn")
                assert lines == counted, f"{said}: phone {i} differs"

    def end(self) -> None:
        """Throw the phones away."""
        for phone in self.phones:
            phone.end()


def _rows(state: dict[str, Any], entity: str, *names: str) -> dict[str, tuple[Any, ...]]:
    """What a phone holds of the rows of an entity: version and these fields, by id."""
    rows = [r for r in state["rows"] if r["entity"] == entity and not r.get("gone")]
    return {r["id"]: (r["version"], *(r["body"][name] for name in names)) for r in rows}
