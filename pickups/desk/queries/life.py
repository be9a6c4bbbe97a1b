"""The life of a label, told in sentences from its facts.

A hand-over stands once, with everybody who told it; every other fact stands for itself. Each shows
when it happened by the clock of whoever told it, and beside it, where they differ, when it was
recorded and how far off that clock was.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings import reasons, strokes
from pickups.casings import words as words_of
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody import reminding
from pickups.custody.queries import Fact, HandOver, VisitLine
from pickups.desk import rules, words
from pickups.desk.queries import grounds, handed, rolls
from pickups.desk.queries.handed import Signing
from pickups.desk.queries.names import Names
from pickups.kernel.languages import day_in_words
from pickups.labels import queries as labels
from pickups.people import queries as people
from pickups.promises import queries as promises
from pickups.promises.models import Promise
from pickups.questions import queries as questions
from pickups.sync import queries as sync


@dataclass(frozen=True)
class Event:
    """One hand-over, or one other fact, as a sentence.

    late: what does not fit: clocks, a list that was corrected after signing, one side that is
    silent. photos are (fact, number) of their record; signature: the visit that was signed.
    """

    when: str
    said: str
    more: Sequence[str]
    late: Sequence[str]
    photos: Sequence[tuple[UUID, int]]
    signature: UUID | None
    in_question: bool


@dataclass(frozen=True)
class Beside:
    """A line of the same pickup, in sentences; photos are (fact, number) of its first telling."""

    said: str
    more: Sequence[str]
    photos: Sequence[tuple[UUID, int]]


@dataclass(frozen=True)
class Trip:
    """A work order that wears the label, or wore it until it was withdrawn.

    told: what kind of thing it is and the cautions that go with it; handling: what a hand has to
    know. beside: what was counted as scrap and what stayed in the same pickup;
    visit: that pickup, once it is over.
    """

    work_order: UUID
    sign: strokes.Sign
    progress: str
    place: str
    holder: str
    on_hold: bool
    withdrawn: bool
    contested: bool
    wanted: Sequence[tuple[str, str]]
    told: Sequence[str]
    handling: str
    beside: Sequence[Beside]
    visit: UUID | None


@dataclass(frozen=True)
class Life:
    """The whole page of a label. now: the one in its place, where it is void; void: those that
    it came in place of; roll: whose roll it is from; spoiled: that it is void though no casing
    wore it. fresh: printed, sound, and nobody has told anything of it."""

    label: str
    grouped: str
    now: str
    now_grouped: str
    void: Sequence[str]
    printed: bool
    roll: str
    spoiled: str
    trips: Sequence[Trip]
    events: Sequence[Event]
    contested: bool
    waits: bool
    fresh: bool


@dataclass(frozen=True)
class _Read:
    """Everything that a page of a label tells, read beforehand; whole: the label is in question."""

    whole: bool
    names: Names
    facts: Mapping[UUID, Fact]
    signings: Mapping[UUID, Signing]
    asked: set[str]
    missing: frozenset[str]
    typed: Mapping[UUID, str]


def life(label: str, language: str) -> Life:
    """Everything known about a sound label."""
    named = custody.names_of(label)
    about = custody.told_about(named.every)
    orders = casings.under(named.every)
    told = [custody.of_work_order(w.uid) for w in orders if not w.withdrawn]
    nobodys = [f for f in about if f.work_order is None and f.corrects is None]
    owners = [w.customer for w in orders if not w.withdrawn]
    made = custody.hand_overs(nobodys)
    for rows, owner in zip(told, owners, strict=True):
        made += custody.hand_overs(rows, owner=owner)
    facts = {f.uid: f for f in [*about, *(f for rows in told for f in rows)]}
    silent = {uid for rows in [nobodys, *told] for uid in custody.one_sided(rows)}
    promised = promises.told(w.uid for w in orders if w.told.get("promised"))
    tellers = {p.by for told_of in promised.values() for p in told_of if p.by}
    names = _names(language, orders, facts.values(), made, tellers)
    subjects = [f"label:{name}" for name in named.every]
    asked = questions.subjects_in_question([*subjects, *(f"fact:{uid}" for uid in facts)])
    whole = any(subject in asked for subject in subjects)
    counted = custody.visit_lines({w.pickup for w in orders if not w.withdrawn})
    over = custody.pickups({w.pickup for w in orders})
    lines = [v for of_one in counted.values() for v in of_one]
    missing = _still_to_come([*facts.values(), *lines])
    typed = people.words(f.uid for f in facts.values() if f.told.get("worded"))
    signings = handed.signings(facts.values(), names)
    read = _Read(whole, names, facts, signings, asked, missing, typed)
    seen = {f.uid for h in made for f in h.witnesses}
    events = [(h.order, _hand_over(h, read, silent)) for h in made]
    events += [((f.stamp, f.uid), _event(f, read)) for f in facts.values() if f.uid not in seen]
    printed, spoiled = label in labels.printed([label]), _spoiled(label, names)
    return Life(
        label=label,
        grouped=words.grouped(label),
        now=named.worn if named.worn != label else "",
        now_grouped=words.grouped(named.worn),
        void=[words.grouped(name) for name in named.void] if named.worn == label else [],
        printed=printed,
        roll=rolls.holding(label, names),
        spoiled=spoiled,
        trips=[
            _trip(
                w,
                names,
                promised.get(w.uid, []),
                [_beside(v, read) for v in counted.get(w.pickup, [])],
                over=w.pickup in over,
                in_question=whole and not w.withdrawn,
            )
            for w in orders
        ],
        events=[event for _, event in sorted(events, key=lambda pair: pair[0])],
        contested=any(w.contested for w in orders),
        waits=bool(about) and not orders,
        fresh=printed and not spoiled and not about and not orders,
    )


def unused(label: str) -> bool:
    """Nobody has told anything of a label: no casing wears it, none ever did."""
    return not custody.told_about([label]) and not casings.worn([label])


def _spoiled(label: str, names: Names) -> str:
    void = labels.void(label)
    if void is None:
        return ""
    when = names.when(void.at)
    return names.say("label_spoiled", reason=void.reason, by=void.by, when=when)


def _names(
    language: str,
    orders: Iterable[WorkOrder],
    facts: Iterable[Fact],
    made: Iterable[HandOver],
    tellers: Iterable[UUID],
) -> Names:
    facts, orders = list(facts), list(orders)
    holders = [*(w.holder for w in orders), *(f.holder for f in facts)]
    holders += [side for h in made for side in (h.giver, h.taker)]
    pairs = [holder.partition(":") for holder in holders]
    persons = {UUID(key) for kind, _, key in pairs if kind == "person"}
    persons |= {f.by for f in facts if f.by} | set(tellers)
    yards = {w.yard for w in orders} | {UUID(f.told["yard"]) for f in facts if "yard" in f.told}
    return Names(language, persons=persons, yards=yards)


def _trip(
    w: WorkOrder,
    names: Names,
    promised: Sequence[Promise],
    beside: Sequence[Beside],
    *,
    over: bool,
    in_question: bool,
) -> Trip:
    return Trip(
        work_order=w.uid,
        sign=strokes.sign(w.progress, on_hold=w.on_hold, in_question=in_question),
        progress=names.say(f"progress_{w.progress}"),
        place=names.place(w.yard),
        holder=names.holder(w.holder) if w.holder and not w.withdrawn else "",
        on_hold=w.on_hold,
        withdrawn=w.withdrawn,
        contested=w.contested,
        wanted=_wanted(w, names, promised),
        told=[*names.told.kind(w.told), *names.told.cautions(w.told)],
        handling="" if w.withdrawn else names.told.handling(w.told),
        beside=[] if w.withdrawn else beside,
        visit=w.pickup if over else None,
    )


def _beside(v: VisitLine, read: _Read) -> Beside:
    names = read.names
    scrap = v.kind == "scrap"
    said = names.told.scrap(v.told) if scrap else names.told.left(v.told)
    more = [] if scrap else names.told.why_left(v.told)
    if v.told.get("note"):
        more = [*more, names.say("quoted", text=v.told["note"])]
    return Beside(said, [*more, *_coming([v], read)], _photos(v, read))


def _wanted(w: WorkOrder, names: Names, promised: Sequence[Promise]) -> list[tuple[str, str]]:
    """What is to be done with it, and for when it was promised: terms and what was told."""
    told, lines = w.told, []
    # What kind of thing it is says the rest, among what was told of it.
    unsaid = {"unit"} if told.get("line") else set()
    unsaid |= {"work", "tread_design"} if told.get("line") not in (None, "wheel_tire") else set()
    unsaid |= set() if words_of.comes_back(told) else {"basis", "back_to"}
    for key, prefix in (("work", "work_"), ("basis", "basis_"), ("tread_design", ""),
                        ("purchase_order", ""), ("unit", ""), ("back_to", "back_to_")):  # fmt: skip
        if key not in unsaid and (value := told.get(key)):
            said = names.say(f"{prefix}{value}") if prefix else str(value)
            lines.append((names.say(f"life_{key}"), said))
    if told.get("dual_with"):
        lines.append((names.say("life_dual_with"), told["dual_with"]))
    stands = promises.stands(promised) if promised else None
    lines += grounds.promised(told.get("promised") or {}, stands, names)
    return [*lines, *grounds.before(promised, stands, names)]


def _hand_over(h: HandOver, read: _Read, silent: set[UUID]) -> Event:
    """All that was told of one hand-over; its own time is that of its first telling."""
    witnesses = [read.facts[f.uid] for f in h.witnesses]
    visits = [v for f in witnesses if (v := handed.visit_of(f))]
    signing = next((read.signings[v] for v in visits if v in read.signings), None)
    late = [said for f in witnesses if (said := _clocks(f, read.names))]
    if signing is not None and signing.corrected:
        late.append(read.names.say("signed_corrected"))
    if witnesses[0].uid in silent:
        late.append(read.names.say("life_one_side"))
    return Event(
        when=read.names.when(witnesses[0].happened_at),
        said=handed.sentence(h, witnesses, read.names, signing),
        more=[
            *dict.fromkeys(said for f in witnesses for said in _more(f, read)),
            *_coming(witnesses, read),
        ],
        late=list(dict.fromkeys(late)),
        photos=[photo for f in witnesses for photo in _photos(f, read)],
        signature=signing.visit if signing is not None and signing.drawn else None,
        in_question=any(_in_question(f, read) for f in witnesses),
    )


def _event(f: Fact, read: _Read) -> Event:
    clocks = _clocks(f, read.names)
    return Event(
        when=read.names.when(f.happened_at),
        said=_said(f, read.facts, read.names),
        more=[*_more(f, read), *_coming([f], read)],
        late=[clocks] if clocks else [],
        photos=_photos(f, read),
        signature=None,
        in_question=_in_question(f, read),
    )


def _still_to_come(told: Iterable[Fact | VisitLine]) -> frozenset[str]:
    """Hashes of photos that were told and have not arrived."""
    hashes = [sha256 for one in told for sha256 in one.told.get("photos", [])]
    return frozenset(sync.missing_photos(hashes)) if hashes else frozenset()


def _photos(f: Fact | VisitLine, read: _Read) -> list[tuple[UUID, int]]:
    """Those that are here, each by its number among all that were told."""
    told = enumerate(f.told.get("photos", []), start=1)
    return [(f.uid, n) for n, sha256 in told if sha256 not in read.missing]


def _coming(told: Sequence[Fact | VisitLine], read: _Read) -> list[str]:
    """That photos are still on their way from a phone, in words."""
    n = len({h for f in told for h in f.told.get("photos", []) if h in read.missing})
    if n == 0:
        return []
    return [read.names.say("photos_coming_one" if n == 1 else "photos_coming", n=n)]


def _in_question(f: Fact, read: _Read) -> bool:
    whole = read.whole and f.kind == "picked_up"
    return whole or f"fact:{f.uid}" in read.asked


def _said(f: Fact, before: Mapping[UUID, Fact], names: Names) -> str:
    who = _who(f, names)
    if f.kind == "picked_up" and f.corrects is None:
        return names.say("fact_picked_up", place=names.place(UUID(f.told["yard"])), who=who)
    if f.kind == "picked_up":
        old = before.get(f.corrects) if f.corrects else None
        if old is None or old.label == f.label:
            return names.say("fact_told_again", who=who)
        new, was = words.grouped(f.label), words.grouped(old.label)
        return names.say("fact_moved", who=who, label=new, old=was)
    if f.kind == "relabelled":
        return names.say("fact_relabelled", who=who, **_swapped(f, names))
    if f.kind == "reminded":
        decision = f.told.get("decision", "")
        decided = names.say(f"decision_{decision}") if decision else ""
        step = names.say(f"reminded_{f.told['step']}", decision=decided)
        return names.say("fact_reminded", who=who, step=step)
    swap = before.get(f.corrects) if f.corrects else None
    if swap is not None and swap.kind == "relabelled":
        said = _swapped(swap, names)
        return names.say("fact_label_back", who=who, reason=f.told.get("reason", ""), **said)
    if f.kind == "withdrawn":
        return names.say("fact_withdrawn", who=who, reason=f.told.get("reason", ""))
    place = names.holder(f.holder) if f.holder else ""
    return names.say(f"fact_{f.kind}", where=who, place=place)


def _swapped(f: Fact, names: Names) -> dict[str, str]:
    """What a relabelling says: the label that was given up, the one in its place, and why."""
    now, old = words.grouped(str(f.told["now"])), words.grouped(f.label)
    return {"now": now, "old": old, "why": names.say(f"why_{f.told['why']}")}


def _who(f: Fact, names: Names) -> str:
    """The person, or the station of a plant with its operator."""
    if f.by is not None:
        person = names.person(f.by)
        return person if f.device else names.say("in_office", name=person)
    where = names.at_station(f.holder, f.told)
    operator = f.told.get("operator")
    return f"{where}, {names.say('by_operator', operator=operator)}" if operator else where


def _more(f: Fact, read: _Read) -> list[str]:
    """What else was told, a short sentence each."""
    told, names, language = f.told, read.names, read.names.language
    if told.get("line"):
        said = [on_it for on_it in (words_of.marks(told), *names.told.casing(told)) if on_it]
    else:
        said = [str(told[key]) for key in ("size", "tin") if told.get(key)]
        if told.get("tread_32nds"):
            said.append(f"{names.say('tread')} {words.depths(language, told['tread_32nds'])}")
    if told.get("reason") and f.kind != "withdrawn":
        said.append(names.say("because", reason=reasons.words(str(told["reason"]), language)))
    if told.get("zone"):
        said.append(names.say(f"zone_{told['zone']}"))
    if told.get("cause"):
        said.append(names.say("cause", cause=names.say(f"cause_{told['cause']}")))
    if told.get("known_by"):
        said.append(names.say("known_by", text=told["known_by"]))
    if told.get("note"):
        said.append(names.noted(told["note"]))
    if told.get("worded"):
        said.append(names.quoted(f.uid, read.typed))
    until = reminding.day_of(told.get("until"))
    if until is not None:
        said.append(names.say("fact_reminded_until", day=day_in_words(language, until)))
    return said


def _clocks(f: Fact, names: Names) -> str:
    said = []
    if abs((f.recorded_at - f.happened_at).total_seconds()) > rules.LATE_S:
        said.append(names.say("recorded", when=names.when(f.recorded_at)))
    if f.skew_ms is not None and abs(f.skew_ms) >= rules.CLOCK_RIGHT_MS:
        key = "clock_was_ahead" if f.skew_ms > 0 else "clock_was_behind"
        said.append(names.say(key, age=words.span(names.language, abs(f.skew_ms) / 1000)))
    return "; ".join(said)
