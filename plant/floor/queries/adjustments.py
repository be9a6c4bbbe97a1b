"""What is owed, and claims, in words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from uuid import UUID

from django.conf import settings

from pickups.casings import reasons
from pickups.kernel.languages import amount
from pickups.people import queries as people
from plant.adjustments import prorata, queries
from plant.adjustments.models import Claim
from plant.curing import tracing
from plant.floor import words
from plant.floor.queries import loads


@dataclass(frozen=True, slots=True)
class Line:
    """One casing that the plant ruined; said: how it was settled, empty while it is owed."""

    uid: UUID
    label: str
    owner: str
    reason: str
    since: str
    said: str


@dataclass(frozen=True, slots=True)
class One:
    """One claim; said: the decision, empty while it is open."""

    uid: UUID
    label: str
    grouped: str
    owner: str
    found_by: str
    complaint: str
    readings: str
    mean: str
    opened: str
    said: str


def owed(plant: UUID, language: str) -> list[Line]:
    """The open first."""
    rows = queries.owed(plant)
    standing = tracing.standing(plant, [row.label for row in rows])
    known = {label: one for one in standing for label in one.every}
    found = []
    for row in rows:
        settled = queries.settled(row)
        said = "" if settled is None else words.say(
            language, f"adjust_settled_{settled.how}", said=settled.said,
            when=loads.when(language, settled.settled_at), amount=money(settled.cents or 0),
        ).strip()  # fmt: skip
        why = reasons.words(row.reason, language) if reasons.known(row.reason) else row.reason
        found.append(Line(row.uid, words.grouped(row.label),
                          loads.owner(known.get(row.label), language), why,
                          loads.when(language, row.since), said))  # fmt: skip
    return found


def claims(plant: UUID, language: str) -> list[One]:
    """The open first."""
    rows = queries.claims(plant)
    standing = tracing.standing(plant, [row.label for row in rows])
    known = {label: one for one in standing for label in one.every}
    who = _deciders(rows)
    return [_one(row, loads.owner(known.get(row.label), language), who, language) for row in rows]


def claim(row: Claim, language: str) -> One:
    """One of them."""
    standing = tracing.standing(row.plant_id, [row.label])
    owner = loads.owner(standing[0] if standing else None, language)
    return _one(row, owner, _deciders([row]), language)


def _deciders(rows: Sequence[Claim]) -> dict[UUID, str]:
    """The names of those who decided these claims."""
    return people.names({made.by for made in map(queries.decision, rows) if made})


def _one(row: Claim, owner: str, who: Mapping[UUID, str], language: str) -> One:
    mean = prorata.remaining(row.readings)
    return One(
        uid=row.uid,
        label=row.label,
        grouped=words.grouped(row.label),
        owner=owner,
        found_by=row.found_by,
        complaint=row.complaint,
        readings=", ".join(map(str, row.readings)),
        mean=words.say(language, "claim_32nds", n=_plain(mean)),
        opened=loads.when(language, row.opened_at),
        said=_decided(row, mean, who, language),
    )


def _decided(row: Claim, mean: Fraction, who: Mapping[UUID, str], language: str) -> str:
    made = queries.decision(row)
    if made is None:
        return ""
    return words.say(
        language, f"claim_said_{made.what}", when=loads.when(language, made.decided_at),
        who=who.get(made.by, ""), credit=money(made.credit_cents),
        price=money(made.price_cents or 0), left=_plain(mean), pull=made.pull_32nds,
        original=made.original_32nds, grounds=made.grounds,
    )  # fmt: skip


def money(cents: int) -> str:
    """An amount in the dealer's currency."""
    return amount(cents, str(settings.DEALER_CURRENCY))


def _plain(value: Fraction) -> str:
    return f"{float(value):.2f}".rstrip("0").rstrip(".")
