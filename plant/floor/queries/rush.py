"""Rush work of a plant, in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.customers import queries as customers
from pickups.kernel import clock
from plant.floor import words
from plant.forecast import queries
from plant.inspection.doors import rushing
from plant.inspection.models import Rush

LATEST = 50
"""So many of what was asked for are listed."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One rush: which casing, who asked and why, how it stands and what was said of it."""

    uid: UUID
    which: str
    by: str
    state: str
    said: str
    words: list[str] = field(default_factory=list)


def latest(plant: UUID, language: str) -> list[Asked]:
    """What was asked for last, the newest first."""
    return _asked(rushing.latest(plant, most=LATEST), language)


def one(plant: UUID, uid: UUID, language: str) -> tuple[Rush, Asked] | None:
    """One rush; None where this plant has none such."""
    row = rushing.one(plant, uid)
    return None if row is None else (row, _asked([row], language)[0])


def _asked(rows: Sequence[Rush], language: str) -> list[Asked]:
    orders = casings.work_orders([row.work_order for row in rows])
    called = customers.names({w.customer for w in orders.values() if w.customer})
    return [_one(row, orders, called, language) for row in rows]


def _one(
    row: Rush, orders: Mapping[UUID, WorkOrder], called: Mapping[UUID, str], language: str
) -> Asked:
    order, state = orders.get(row.work_order), rushing.state(row)
    label = words.grouped(order.label if order else row.label)
    customer = called.get(order.customer, "") if order and order.customer else ""
    which = words.say(language, "rush_of", label=label, customer=customer) if customer else label
    return Asked(
        uid=row.uid,
        which=which,
        by=words.say(language, "rush_by", name=row.by, when=_when(row.at, language),
                     grounds=row.grounds),
        state=state,
        said=words.of(language)[f"rush_state_{state}"],
        words=[
            words.say(language, f"rush_word_{word.kind}", name=word.by,
                      when=_when(word.at, language), grounds=word.grounds).strip()
            for word in sorted(row.words.all(), key=lambda word: word.at)
        ],
    )  # fmt: skip


def _when(at: datetime, language: str) -> str:
    return words.day_and_time(language, clock.local(at, queries.zone()))
