"""Hand-overs in sentences: what changed hands, everybody who told it and when, and who signed.

A person or station that told the same more than once stands once, with its first time.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings import reasons
from pickups.custody import queries as custody
from pickups.custody.queries import Fact, HandOver
from pickups.desk.queries.names import Names


@dataclass(frozen=True)
class Signing:
    """The other side's word at a visit: who signed, or why nobody did.

    drawn: whether there is a drawing to be shown. corrected: what stands is not what was signed.
    """

    visit: UUID
    said: str
    drawn: bool
    corrected: bool


def visit_of(fact: Fact) -> UUID | None:
    """The pickup or delivery in which a casing was taken from its owner, or given back."""
    key = {"picked_up": "pickup", "returned": "delivery"}.get(fact.kind, "")
    told = fact.told.get(key)
    return UUID(str(told)) if told else None


def signings(facts: Iterable[Fact], names: Names) -> dict[UUID, Signing]:
    """Of the visits of these facts, those of which it is known whether somebody signed."""
    visits = {v for f in facts if (v := visit_of(f))}
    kept, once = custody.signed(visits), custody.were_signed(visits)
    changed = _corrected(once)
    made = {}
    for visit in visits:
        s = kept.get(visit, custody.Signed())
        if s.name:
            said = names.say("signed_by", name=s.name)
        elif s.drawn:
            said = names.say("signed_drawn")
        elif visit in once:
            said = names.say("signed_erased")
        elif why := names.told.unsigned(
            nobody_there=s.nobody_there, refused=s.refused, unsigned=s.unsigned
        ):
            said = names.say("signed_not", why=why)
        else:
            continue  # not over yet, or told by an app that knew of no signatures
        made[visit] = Signing(visit, said, s.drawn, visit in changed)
    return made


def _corrected(visits: Iterable[UUID]) -> set[UUID]:
    """Those of which the list that was signed is not what stands now."""
    found = set()
    counted = custody.visit_lines(visits)
    for pickup in custody.pickups(visits).values():
        stand = [w for w in casings.of_pickup(pickup.uid) if not w.withdrawn]
        lines = [
            (w.picked_up_under, w.label, str((w.told.get("promised") or {}).get("on", "")))
            for w in stand
        ]
        if not custody.as_signed(pickup, lines, counted.get(pickup.uid, [])):
            found.add(pickup.uid)
    return found


def sentence(h: HandOver, witnesses: Sequence[Fact], names: Names, signing: Signing | None) -> str:
    """What changed hands, and who told it: "Handed to the plant: Dale 15:20, receiving 15:41."."""
    tellers = _tellers(witnesses, names)
    told = [_teller(who, times, witnesses[0].happened_at, names) for who, times in tellers.items()]
    told += [signing.said] if signing else []
    what = _what(h, witnesses, names)
    return names.say("life_told", what=what, who=", ".join(told))


def _tellers(witnesses: Sequence[Fact], names: Names) -> Mapping[str, list[datetime]]:
    found: dict[str, list[datetime]] = {}
    for f in witnesses:
        found.setdefault(_who(f, names), []).append(f.happened_at)
    return found


def _who(f: Fact, names: Names) -> str:
    if f.by is not None:
        return names.person(f.by)
    station = reasons.station(str(f.told.get("station", "")), names.language)
    return station or names.at_station(f.holder, f.told)


def _teller(who: str, times: Sequence[datetime], beside: datetime, names: Names) -> str:
    key = "life_teller" if len(times) == 1 else "life_teller_often"
    return names.say(key, who=who, when=names.time(times[0], beside), n=len(times))


def _what(h: HandOver, witnesses: Sequence[Fact], names: Names) -> str:
    tellers = {f.by for f in witnesses}
    for f in witnesses:
        if visit_of(f):
            return _of_owner(f, names)
    giver, taker = (names.holder(side) if side else "" for side in (h.giver, h.taker))
    if h.taker.startswith("road:"):
        return names.say("life_left", giver=giver)
    if not giver:
        return names.say("life_to", taker=taker)
    people = [side.startswith("person:") for side in (h.giver, h.taker)]
    if people == [True, False]:
        key = "life_to" if _among(h.giver, tellers) else "life_to_by"
    elif people == [False, True]:
        key = "life_from" if _among(h.taker, tellers) else "life_from_by"
    else:
        key = "life_between"
    return names.say(key, giver=giver, taker=taker)


def _among(person: str, tellers: set[UUID | None]) -> bool:
    return UUID(person.partition(":")[2]) in tellers


def _of_owner(f: Fact, names: Names) -> str:
    """Out of its owner's hands, or back into them: in the yard or over a counter."""
    counter, place = f.told.get("store"), names.place(UUID(str(f.told["yard"])))
    key = "picked_up" if f.kind == "picked_up" else "delivered"
    if counter:
        key = "dropped_off" if f.kind == "picked_up" else "fetched"
    site = names.holder(f"site:{counter}") if counter else ""
    return names.say(f"life_{key}", place=place, site=site)
