"""A pickup that is over, with all that speaks for its count: what the customer counted, what was
scanned, what came in at a rack or a plant; photos, hand-overs, and who signed for which list."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings import words as told_words
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody import receipt_links
from pickups.custody.fold import Kind
from pickups.custody.queries import Fact, Pickup
from pickups.desk import words
from pickups.desk.queries import handed, trailers
from pickups.desk.queries.beside import Line
from pickups.desk.queries.names import Names
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words, of_how_many
from pickups.notices.queries import receipts, together

_DOCKS = ("site:", "plant:")


@dataclass(frozen=True)
class Casing:
    """A casing of the visit: what it is, where it came in, and its photos by (fact, number)."""

    label: str
    grouped: str
    what: str
    withdrawn: bool
    came_in: Sequence[str]
    photos: Sequence[tuple[UUID, int]]


@dataclass(frozen=True)
class Visit:
    """A pickup as its case is judged; photos are those of its end and of its trailer's emptying,
    (fact, number). unsigned: why nobody signed, or empty; unchanged: what was signed is what
    stands."""

    uid: UUID
    title: str
    lines: Sequence[Line]
    counts: Sequence[Line]
    casings: Sequence[Casing]
    beside: Sequence[str]
    photos: Sequence[tuple[UUID, int]]
    signed: str
    drawn: bool
    unchanged: bool | None
    links: int


def visit(uid: UUID, language: str) -> Visit | None:
    """One pickup that is over."""
    pickup = custody.pickup(uid)
    if pickup is None:
        return None
    orders = casings.of_pickup(uid)
    first = custody.facts({w.uid for w in orders})
    holding = custody.holdings([w.uid for w in orders])
    tellers = {f.by for facts in holding.values() for f in facts if f.by} | {pickup.by}
    tellers |= trailers.teller(pickup)
    names = Names(language, persons=tellers, yards=[pickup.yard])
    signing = handed.signings(first.values(), names).get(uid)
    end = custody.end_of(uid)
    hashes = end.told.get("photos", []) if end else []
    return Visit(
        uid=uid,
        title=names.say("visit_title", place=names.place(pickup.yard)),
        lines=[
            Line(names.say("when"), names.when(pickup.finished_at)),
            Line(names.say("driver"), names.person(pickup.by)),
            *trailers.said(pickup, names),
            *([Line(names.say("deposit"), left)] if (left := receipts.deposit(pickup)) else []),
            *_together(orders, names),
        ],
        counts=_counts(pickup, orders, holding, names),
        casings=[_casing(w, first.get(w.uid), holding.get(w.uid, ()), names) for w in orders],
        beside=[
            names.told.scrap(v.told) if v.kind == Kind.SCRAP else names.told.left(v.told)
            for v in custody.visit_lines([uid]).get(uid, [])
        ],
        photos=[
            *([(end.uid, n) for n in range(1, len(hashes) + 1)] if end else []),
            *trailers.photos(pickup),
        ],
        signed=signing.said if signing else _unsigned(uid, names),
        drawn=signing.drawn if signing else False,
        unchanged=not signing.corrected if signing and uid in custody.were_signed([uid]) else None,
        links=receipt_links.in_force(uid, at=clock.now()),
    )


def _together(orders: Sequence[WorkOrder], names: Names) -> list[Line]:
    """When all of those that are waited for are back, and the pairs among them."""
    group = together.together(orders, at=clock.now())
    if group is None:
        return []
    counts = {"n": group.of, "back": group.back, "unknown": group.unknown}
    if group.on is None:
        said = [names.say("together_open", **counts)]
    else:
        day = day_in_words(names.language, group.on)
        odds = names.say("together_odds", **of_how_many(group.percent))
        said = [names.say("together_on", day=day, odds=odds, **counts)]
        if group.unknown:
            some = {"n": group.of - group.unknown, "of": group.of}
            said = [names.say("together_some", day=day, odds=odds, **some)]
            said.append(names.say("together_unknown", **counts))
    said += [names.say("together_back", **counts)] if group.back else []
    said += [
        names.say("together_pair", one=words.grouped(one), other=words.grouped(other))
        for one, other in group.pairs
    ]
    return [Line(names.say("together"), " ".join(said))]


def _unsigned(uid: UUID, names: Names) -> str:
    """Why nobody signed, where no casing tells of it."""
    s = custody.signed([uid]).get(uid, custody.Signed())
    if s.name:
        return names.say("signed_by", name=s.name)
    why = names.told.unsigned(nobody_there=s.nobody_there, refused=s.refused, unsigned=s.unsigned)
    return names.say("signed_not", why=why) if why else ""


def _counts(
    pickup: Pickup,
    orders: Sequence[WorkOrder],
    holding: Mapping[UUID, Sequence[Fact]],
    names: Names,
) -> list[Line]:
    """The customer's count at the visit, what was scanned, what came in; loose wheels apart."""
    stand = [w for w in orders if not w.withdrawn and w.told.get("line") != "wheel"]
    docked = sum(any(_at_dock(f) for f in holding.get(w.uid, ())) for w in stand)
    theirs = pickup.customer_count
    return [
        Line(names.say("count_theirs"), names.say("not_told") if theirs is None else str(theirs)),
        *trailers.own_count(pickup, names),
        Line(names.say("count_scanned"), str(len(stand))),
        Line(names.say("count_docked"), str(docked)),
    ]


def _at_dock(f: Fact) -> bool:
    return f.holder.startswith(_DOCKS)


def _casing(w: WorkOrder, first: Fact | None, holding: Sequence[Fact], names: Names) -> Casing:
    photos = first.told.get("photos", []) if first else []
    came_in = [
        names.say("came_in", where=names.holder(f.holder), when=names.when(f.happened_at))
        for f in holding
        if _at_dock(f)
    ]
    what = told_words.marks(w.told) or names.say("not_told")
    numbered = [(first.uid, n) for n in range(1, len(photos) + 1)] if first else []
    return Casing(w.label, words.grouped(w.label), what, w.withdrawn, came_in, numbered)
