"""Trace in both directions: from a casing to all that touched it, and from a lot, load, operator,
machine or time to every casing, its owner, where it is now, and whom to write to.

Reads only. A casing is looked for under every label that names it. What a load says of itself (its
lots, who ran it) counts for every casing in it.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.people import queries as people
from plant.curing import queries
from plant.curing.models import CureLoad
from plant.inspection import queries as inspection
from plant.inspection import tracing
from plant.inspection.models import Work
from plant.inspection.tracing import Asked, Seen

MOST = 5000
"""Casings that one trace shows; the page says where there are more. Our own figure."""


@dataclass(frozen=True, slots=True)
class Traced:
    """One casing as it stands now. label: the one that it wears; order: None where nobody has
    picked it up yet or two are contested. owner: uid of the customer, None where the casing is the
    dealer's or unknown. station: where it was seen last inside this plant; stage: as Work's.
    retread_tin: as final inspection told it. corrected: what is asked for was told of its load
    earlier and was corrected since."""

    label: str
    every: tuple[str, ...]
    order: WorkOrder | None
    owner: UUID | None
    owner_name: str
    holder: str
    progress: str
    stage: str
    station: str
    dealers: bool
    retread_tin: str = ""
    corrected: bool = False

    @property
    def with_owner(self) -> bool:
        """Whether it is back with its owner, as far as anybody told."""
        order = self.order
        back = order is not None and order.progress == "returned"
        return back and self.owner is not None and self.holder == f"customer:{self.owner}"


@dataclass(frozen=True, slots=True)
class Found:
    """casings: sorted by owner, then label. more: there are further ones. contacts: who is written
    to, by owner. earlier: loads of which the lot was told and then corrected."""

    casings: list[Traced]
    more: bool
    contacts: dict[UUID, list[Contact]] = field(default_factory=dict)
    earlier: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Life:
    """What touched one casing inside the plant. mates: labels, by the number of their load."""

    casing: Traced
    seen: list[Seen]
    loads: list[CureLoad]
    mates: dict[str, list[str]]


def trace(plant: UUID, asked: Asked, *, most: int = MOST) -> Found:
    """Every casing of which what is asked for was told; of a lot also where it was told of its load
    and then corrected: the correction may be the mistake."""
    if not asked.asks:
        return Found([], more=False)
    also: set[str] = set()
    earlier: set[str] = set()
    if asked.lot:
        also |= set(queries.with_lot(plant, asked.lot, asked.lot_kind))
        earlier |= set(queries.once_with_lot(plant, asked.lot, asked.lot_kind)) - also
    if asked.operator:
        asked = replace(asked, persons=_persons(asked.operator))
    labels = tracing.labels_of(plant, asked, also=also, most=most + 1)
    if asked.operator and not (asked.load or asked.lot or asked.machine or asked.station):
        labels = sorted({*labels, *_ran(plant, asked)})
    standing_word = set(labels)
    if earlier:
        labels = tracing.labels_of(plant, asked, also=also | earlier, most=most + 1)
    more = len(labels) > most
    found = [
        replace(c, corrected=bool(earlier) and not standing_word.intersection(c.every))
        for c in standing(plant, labels[:most])
    ]
    contacts: dict[UUID, list[Contact]] = {}
    for contact in customers.written_to({c.owner for c in found if c.owner}):
        contacts.setdefault(contact.customer_id, []).append(contact)
    return Found(found, more, contacts, tuple(sorted(earlier)))


def _persons(text: str) -> tuple[UUID, ...]:
    """Who tells on tablets under this name, or did while they worked here."""
    return tuple(p.uid for p in people.called(text))


def _ran(plant: UUID, asked: Asked) -> Iterable[str]:
    """Labels in the loads that an operator ran, within the time that is asked for."""
    since, until = asked.since, asked.until
    for load in queries.loads(plant, queries.loads_by(plant, asked.operator)).values():
        if (since is None or load.since >= since) and (until is None or load.since < until):
            yield from (row["label"] for row in load.set_in)


def standing(plant: UUID, labels: Collection[str]) -> list[Traced]:
    """How the casings under these labels stand, each once: by owner, then by label."""
    names = {n.worn: n for n in custody.names_of_each(sorted(set(labels))).values()}
    orders: dict[str, list[WorkOrder]] = {}
    for order in casings.wearing(names).values():
        if not order.withdrawn:
            orders.setdefault(order.label, []).append(order)
    here = inspection.orders_here(
        plant, {o.uid: names[label].every for label, own in orders.items() for o in own}
    )
    # Of a casing that was never bound for this plant it reads no more than it told.
    foreign = {label for label, own in orders.items() if not any(o.uid in here for o in own)}
    inside = {w.label: w for w in inspection.wearing(plant, names)}
    told = inspection.as_told(plant, {label: names[label].every for label in foreign})
    orders = {label: own for label, own in orders.items() if label not in foreign}
    called = customers.names({o.customer for own in orders.values() for o in own if o.customer})
    found = []
    for n in names.values():
        every = tuple(told.get(n.worn, n.every))
        label = every[0] if n.worn in told else n.worn
        found.append(_traced(label, every, orders.get(n.worn, []), inside.get(n.worn), called))
    return sorted(found, key=lambda c: (c.owner_name == "", c.owner_name, c.label))


def _traced(
    label: str,
    every: tuple[str, ...],
    orders: Sequence[WorkOrder],
    work: Work | None,
    called: Mapping[UUID, str],
) -> Traced:
    order = orders[0] if len(orders) == 1 and not orders[0].contested else None
    dealers = bool(order and order.casing.dealers)
    owner = order.customer if order and not dealers else None
    return Traced(
        label=label,
        every=every,
        order=order,
        owner=owner,
        owner_name=called.get(owner, "") if owner else "",
        holder=order.holder if order else "",
        progress=order.progress if order else "",
        stage=work.stage if work else "",
        station=work.station if work else "",
        dealers=dealers,
        retread_tin=str((work.told.get("built") or {}).get("retread_tin") or "") if work else "",
    )


def life(plant: UUID, label: str) -> Life | None:
    """All that this plant told of the casing under a label; None where it told nothing."""
    names = custody.names_of(label)
    seen = tracing.of_labels(plant, names.every)
    if not seen:
        return None
    numbers = list(dict.fromkeys(s.load for s in seen if s.load and s.outcome != "hold"))
    known = queries.loads(plant, numbers)
    mates = {
        number: [row["label"] for row in load.set_in if row["label"] not in names.every]
        for number, load in known.items()
    }
    return Life(standing(plant, names.every)[0], seen,
                [known[n] for n in numbers if n in known], mates)  # fmt: skip


def named(plant: UUID, text: str) -> list[str]:
    """The labels of the casings that a text names: a label or tag, else a TIN of either kind as it
    is written on the tire. Several tires may share a TIN."""
    bare = "".join(c for c in text.upper() if c.isalnum())
    if not bare:
        return []
    if tracing.of_labels(plant, custody.names_of(bare).every):
        return [bare]
    return inspection.with_tin(plant, bare)
