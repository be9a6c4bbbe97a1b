"""Stop-use notices in words: what is chosen from a trace, what would be sent, who has confirmed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from pickups.customers import queries as customers
from pickups.kernel.ids import uuid7
from pickups.notices.doors import Step, stopping
from pickups.notices.queries import stop_use as notices
from pickups.notices.words.stop_use import Stopped
from pickups.people import queries as people
from plant.curing.tracing import Found, Traced
from plant.floor import words
from plant.floor.queries import trace


@dataclass(frozen=True, slots=True)
class Choice:
    """One casing of a trace; work_order: None where nobody can be written to about it."""

    work_order: UUID | None
    label: str
    where: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Look:
    """What would be sent: how many, to whom, and the mail as one owner gets it."""

    count: int
    said: str
    owners: list[tuple[str, str]]
    mails: list[tuple[str, str, str]]


@dataclass(frozen=True, slots=True)
class Late:
    """An owner who has not confirmed."""

    owner: str
    age: str
    stop: UUID


@dataclass(frozen=True, slots=True)
class Row:
    """One notice in the list."""

    uid: UUID
    when: str
    said: str
    why: str


@dataclass(frozen=True, slots=True)
class OwnerTold:
    """An owner: their casings, what became of the mails, and how they confirmed ("" if not).
    to_call: that it was withdrawn they hear from a person alone. form: under which number a tap on
    sending again is kept, so that a second one does nothing."""

    customer: UUID
    name: str
    casings: list[str]
    mails: list[str]
    confirmed: str
    to_call: bool
    form: UUID


@dataclass(frozen=True, slots=True)
class One:
    """A notice as its page shows it. to_call: how many owners, in words, "" for none. form: as of
    an owner, for all of them."""

    uid: UUID
    when: str
    by: str
    why: list[tuple[str, str]]
    withdrawn: str
    waits: int
    said: str
    to_call: str
    form: UUID
    owners: list[OwnerTold]


def choices(
    plant: UUID, found: Found, chosen: set[UUID], language: str
) -> list[tuple[str, list[Choice]]]:
    """By owner; those about which nobody can be written to come last."""
    shown = trace.owners(plant, found, language, names=False)
    traced = {c.label: c for c in found.casings}
    return [
        (owner.name, [_choice(traced[line.label], line, chosen) for line in owner.lines])
        for owner in shown
    ]


def _choice(c: Traced, line: trace.Line, chosen: set[UUID]) -> Choice:
    uid = c.order.uid if c.order and c.owner else None
    where = f"{line.where}, {line.progress}"
    return Choice(uid, line.said, where, uid in chosen)


def look(
    casings: Sequence[stopping.Casing], why: Mapping[str, str], language: str, *, at: datetime
) -> Look:
    """What would be sent to whom."""
    owners: dict[UUID, list[stopping.Casing]] = {}
    for c in casings:
        owners.setdefault(c.customer, []).append(c)
    names = customers.names(owners)
    reached: dict[UUID, int] = dict.fromkeys(owners, 0)
    for contact in customers.written_to(owners):
        reached[contact.customer_id] += 1
    first = min(owners, key=lambda c: names.get(c, ""))
    named = [Stopped(words.grouped(c.label), c.size, c.tin, c.retread_tin)
             for c in owners[first]]  # fmt: skip
    mails = [
        (lang, *notices.sample(named, why, lang, customer=first, at=at)) for lang in words.LANGUAGES
    ]
    return Look(
        len(casings),
        words.say(language, "stop_look", casings=len(casings), owners=len(owners),
                  people=sum(reached.values())),
        [(names.get(c, ""),
          words.say(language, "stop_look_owner", casings=len(held), people=reached[c])
          if reached[c] else words.say(language, "stop_nobody"))
         for c, held in sorted(owners.items(), key=lambda o: names.get(o[0], ""))],
        mails,
    )  # fmt: skip


def late(plant: UUID, language: str, *, at: datetime) -> list[Late]:
    """Owners who have not confirmed, the longest first."""
    stops = {s.uid: s for s in notices.of_plant(plant)}
    waiting = [(stops[uid], c) for uid, owners in notices.unconfirmed(stops).items()
               for c in owners]  # fmt: skip
    waiting.sort(key=lambda pair: pair[0].told_at)
    names = customers.names(c for _, c in waiting)
    return [
        Late(names.get(c, ""), words.span(language, (at - s.told_at).total_seconds()), s.uid)
        for s, c in waiting
    ]


def every(plant: UUID, language: str) -> list[Row]:
    """Every notice, the newest first."""
    return [
        Row(found.stop.uid, notices.when(language, found.stop.told_at), _state(found, language),
            notices.in_language(found.stop.why, language))
        for stop in notices.of_plant(plant)
        if (found := notices.whole(stop.uid)) is not None
    ]  # fmt: skip


def _state(found: notices.Whole, language: str) -> str:
    casings = sum(len(o.casings) for o in found.owners)
    if found.withdrawn:
        return words.say(language, "stop_state_back", casings=casings)
    done = sum(o.answered is not None for o in found.owners)
    return words.say(language, "stop_state", casings=casings, done=done, owners=len(found.owners))


def one(plant: UUID, uid: UUID, language: str, *, names: bool) -> One | None:
    """One notice of this plant. names: the reader may see who is written to."""
    found = notices.whole(uid, plant=plant)
    if found is None:
        return None
    persons = people.names({found.stop.by, *(s.by for s in found.steps if s.by)})
    back, calls = found.withdrawn, sum(o.to_call for o in found.owners)
    return One(
        uid=uid,
        when=notices.when(language, found.stop.told_at),
        by=persons.get(found.stop.by, ""),
        why=list(found.stop.why.items()),
        withdrawn=words.say(language, "stop_back_said", when=notices.when(language, back.at),
                            why=notices.in_language(back.said, language)) if back else "",
        waits=sum(o.answered is None for o in found.owners),
        said=_state(found, language),
        to_call=words.say(language, "stop_to_call", n=calls) if calls else "",
        form=uuid7(),
        owners=[_owner(o, persons, language, names=names) for o in found.owners],
    )  # fmt: skip


def _owner(
    o: notices.Owner, persons: Mapping[UUID, str], language: str, *, names: bool
) -> OwnerTold:
    confirmed, step = "", o.answered
    if step is not None and step.kind == Step.HEARD:
        confirmed = words.say(language, "stop_heard_said", when=notices.when(language, step.at),
                              by=persons.get(step.by, "") if step.by else "",
                              said=notices.in_language(step.said, language))  # fmt: skip
    elif step is not None:
        who = next((r.contact.name for r in o.reached if r.contact.uid == step.contact), "")
        confirmed = words.say(language, "stop_confirmed", when=notices.when(language, step.at),
                              name=who if names and who else o.name)  # fmt: skip
    return OwnerTold(
        o.customer,
        o.name,
        [notices.said(row, language) for row in o.casings],
        [_mail(r, language, names=names) for r in o.reached]
        or [words.say(language, "stop_nobody")],
        confirmed,
        o.to_call,
        uuid7(),
    )


def _mail(r: notices.Reached, language: str, *, names: bool) -> str:
    who = r.contact.name if names else words.say(language, "stop_somebody")
    who += f", {r.contact.phone}" if names and r.contact.phone else ""
    if r.confirmed_at:
        return words.say(language, "stop_mail_confirmed", who=who,
                         when=notices.when(language, r.confirmed_at))  # fmt: skip
    if r.sent_at:
        return words.say(language, "stop_mail_sent", who=who,
                         when=notices.when(language, r.sent_at))  # fmt: skip
    return words.say(language, "stop_mail_failed" if r.gave_up else "stop_mail_waits", who=who)
