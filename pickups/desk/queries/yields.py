"""Fleet yield: of the casings of a customer that a plant decided about in a stretch of time, the
share that it finished; with the list behind each number.

What the plant or the road or a dock ruined is no word about the fleet's casings and stays out of
both sides. The rule is rules.ended.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings import reasons
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import Decided
from pickups.customers import queries as customers
from pickups.desk import rules, words
from pickups.desk.rules import Ended
from pickups.kernel import clock
from pickups.kernel.languages import day_and_time, grouped

APART = (Ended.PLANT, Ended.ROAD)


@dataclass(frozen=True)
class Row:
    """One customer: the share in words, what it is of, and what stays out."""

    customer: UUID
    name: str
    share: str
    of: str
    apart: str


@dataclass(frozen=True)
class Line:
    """One casing behind the numbers. decided: when."""

    label: str
    shown: str
    size: str
    decided: str
    said: str
    why: str


@dataclass(frozen=True)
class Group:
    """Casings that count alike: finished, rejected, or out of it and why."""

    key: str
    heading: str
    lines: Sequence[Line]


@dataclass(frozen=True)
class OfCustomer:
    """One customer's page."""

    name: str
    row: Row | None
    groups: Sequence[Group]


def listed(language: str, *, since: datetime, until: datetime) -> list[Row]:
    """Every customer about whose casings something was decided, by name."""
    ended = _ended(since, until)
    names = customers.names({w.customer for w, _, _ in ended if w.customer})
    by_customer: dict[UUID, Counter[Ended]] = {}
    for w, end, _ in ended:
        if w.customer:
            by_customer.setdefault(w.customer, Counter())[end] += 1
    rows = [_row(c, names.get(c, ""), counts, language) for c, counts in by_customer.items()]
    return sorted(rows, key=lambda row: (row.name, row.customer))


def of_customer(
    language: str, customer: UUID, *, since: datetime, until: datetime
) -> OfCustomer | None:
    """The list behind one customer's number; None where nobody knows the customer."""
    name = customers.names([customer]).get(customer)
    if name is None:
        return None
    ended = _ended(since, until, customer)
    counts = Counter(end for _, end, _ in ended)
    groups = [
        Group(end, words.say(language, f"yield_{end}"),
              [_line(w, d, language) for w, e, d in ended if e is end])
        for end in Ended
        if counts[end]
    ]  # fmt: skip
    return OfCustomer(name, _row(customer, name, counts, language) if ended else None, groups)


def _ended(
    since: datetime, until: datetime, customer: UUID | None = None
) -> list[tuple[WorkOrder, Ended, Decided]]:
    """What was decided about in this time, the latest first."""
    decided = custody.decided(since=since, until=until)
    orders: Iterable[WorkOrder] = casings.to_be_retreaded(decided)
    found = [
        (w, rules.ended(decided[w.uid].rejection), decided[w.uid])
        for w in orders
        if customer in (None, w.customer)
    ]
    return sorted(found, key=lambda one: (one[2].at, one[0].uid), reverse=True)


def _row(customer: UUID, name: str, counts: Counter[Ended], language: str) -> Row:
    finished, of = rules.fleet_yield(counts)
    apart = [words.say(language, f"yield_n_{end}", n=counts[end]) for end in APART if counts[end]]
    return Row(
        customer,
        name,
        words.say(language, "yield_share", percent=round(100 * finished / of)) if of
        else words.say(language, "yield_none"),
        words.say(language, "yield_of", finished=finished, of=of),
        ", ".join(apart),
    )  # fmt: skip


def _line(w: WorkOrder, d: Decided, language: str) -> Line:
    at = clock.local(d.at, ZoneInfo(settings.DEALER_TIME_ZONE))
    why = ""
    if d.rejection is not None:
        cause = words.say(language, f"cause_{d.rejection['cause']}")
        why = f"{reasons.words(str(d.rejection['reason']), language)}: {cause}"
    return Line(
        label=w.label,
        shown=grouped(w.label),
        size=str(w.told.get("size", "")),
        decided=day_and_time(language, at),
        said=words.say(language, f"progress_{w.progress}"),
        why=why,
    )
