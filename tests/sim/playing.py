"""Plays one schedule on a server and says what came of it."""

import base64
import io
import time
from collections import Counter
from dataclasses import dataclass, field
from typing import Any
from uuid import uuid4

from PIL import Image

from tests.sim import check, plan
from tests.sim.draft import Step
from tests.sim.phones import Broke, Phones
from tests.sim.server import Server

SEATS = 100
"""Schedules on one server; then a new one, so that tables do not grow and slow the last ones."""


@dataclass
class Outcome:
    """What came of one playing; `found` is empty where all held."""

    operations: int
    photos: int
    compared: int
    seconds: float
    faults: dict[str, int] = field(default_factory=dict)
    kinds: dict[str, int] = field(default_factory=dict)
    asked_to_wait: int = 0
    found: list[str] = field(default_factory=list)
    answers: dict[str, int] = field(default_factory=dict)
    spans: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Played:
    """A schedule that was played to its end; its server still stands as it left it."""

    server: Server
    over: dict[str, Any]
    steps: list[Step]
    seat: dict[str, Any]
    happened: Counter[str]

    def findings(self) -> list[str]:
        """What is not as it must be."""
        return check.findings(self.server, self.over, self.steps, self.seat)


class Stage:
    """A server and phones for as many schedules as come; renewed now and then, and when broken."""

    def __init__(self) -> None:
        self._server: Server | None = None
        self._phones: Phones | None = None

    def play(self, steps: list[Step]) -> Outcome:
        """Play these steps; whatever breaks is a finding."""
        begun = time.monotonic()
        try:
            played = self.perform(steps)
        except Broke as broke:
            self.end()
            return Outcome(0, 0, 0, time.monotonic() - begun, found=[f"broke: {broke}"])
        over, found = played.over, played.findings()
        waits = sum(1 for b in over["broken"] if b["status"] in check.AWAY)
        return Outcome(
            operations=sum(len(p["entered"]) for p in over["phones"]),
            photos=sum(len(p["photos"]) for p in over["phones"]),
            compared=sum(p["compared"] for p in over["phones"]),
            seconds=time.monotonic() - begun,
            faults=dict(Counter(over["happened"]) + played.happened),
            kinds=plan.kinds(steps),
            asked_to_wait=waits,
            found=found,
            answers=over["answers"],
            spans=over["ms"] | {"exchanges": over["exchanges"]},
        )

    def perform(self, steps: list[Step]) -> Played:
        """Play these steps to their end; raises Broke where the phones could not go on."""
        server, phones = self._ready()
        before = Counter(server.happened)
        count = plan.phones(steps)
        signs = plan.labels(steps)
        codes = [3 + 4 * plan.enrolments(steps, i) for i in range(count)]
        seat = server.office("seat", phones=count, codes=codes, printed=len(signs))
        names = seat["names"] | dict(zip(signs, seat["labels"], strict=False))
        play = {
            "nonce": str(uuid4()),
            "upstreams": server.ports,
            "names": names,
            "seats": seat["seats"],
            "jpeg": _jpeg(),
            "plantKey": seat["plant_key"],
            "steps": steps,
        }
        over = phones.play(play, server.happen)
        return Played(server, over, steps, seat, server.happened - before)

    def _ready(self) -> tuple[Server, Phones]:
        if self._server is None or self._phones is None or self._server.made >= SEATS:
            self.end()
            self._server = Server()
            self._server.__enter__()
            self._phones = Phones()
        self._server.made += 1
        return self._server, self._phones

    def end(self) -> None:
        """Throw server and phones away."""
        if self._phones is not None:
            self._phones.end()
        if self._server is not None:
            self._server.__exit__()
        self._server = self._phones = None


def sentence(o: Outcome) -> str:
    """One schedule in a line."""
    happened = ", ".join(f"{name} {n}" for name, n in sorted(o.faults.items()))
    return (f"{o.operations} operations, {o.photos} photos, {o.compared} rows compared,"
            f" {o.seconds:.1f} s; {happened or 'no fault'}; {len(o.found)} findings")  # fmt: skip


def _jpeg() -> str:
    out = io.BytesIO()
    Image.radial_gradient("L").resize((48, 36)).convert("RGB").save(out, "JPEG")
    return base64.b64encode(out.getvalue()).decode()
