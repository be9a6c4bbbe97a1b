"""Where a casing stands inside a plant: pure, and the same for every order and repetition.

Events are sorted by (stamp, uid). What outdoes what: shipped, rejected, on hold, finished, the
rest; a rank is undone only by an event that names it (a release, a withdrawal). Missed scans are
normal: a later scan means "passed, not scanned". `again_at` sends a casing back and begins another
round: only among rounds, and between a mark and its repair there, does time decide. A rejection
that stands is never shown as finished, whatever came when. Only the impossible is a doubt.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, tzinfo
from typing import Any
from uuid import UUID

from pickups.kernel.clock import local, rfc3339
from plant.inspection import listed
from plant.inspection.ordering import Difference, Ordered, differences
from plant.inspection.undoing import may_be_released, means_nothing, undoes
from plant.inspection.wire import Built, StationEvent

SHIPPED, REJECTED, ON_HOLD, FINISHED, REPAIR, IN_WORK = (
    "shipped", "rejected", "on_hold", "finished", "repair", "in_work"
)  # fmt: skip
CLOCKS_AGREE_MS = 3_600_000
"""Within an hour stations may tell in any order: their clocks are not one. Our own figure."""
IDENTIFIED = "identified"
"""How an event counts that says which casing it is, and moves nothing."""
THROUGH = frozenset({"received", "passed", "finished", "shipped"})
"""Outcomes after which a casing is done with at a station; so it is where a find was marked."""


@dataclass(frozen=True, slots=True)
class Event:
    """One station event. label: under which it counts. about: what it releases or withdraws.
    by: the person's uid on a tablet, else the plant's code for the operator. inner: told by the
    plant's own pages, neither by a tablet nor by a system's key."""

    uid: UUID
    label: str
    outcome: str
    station: str
    about: UUID | None
    stamp: int
    told: StationEvent
    by: str = ""
    inner: bool = False

    @property
    def identifies(self) -> bool:
        """A casing that lay there without a label was recognised: nothing was done to it."""
        return self.inner and self.outcome == "passed" and self.told.tag is not None

    @property
    def order(self) -> tuple[int, UUID]:
        return (self.stamp, self.uid)

    @property
    def at(self) -> str:
        return rfc3339(self.told.happened_at)


@dataclass(frozen=True, slots=True)
class Stop:
    """A station of a route. optional: not every casing comes there. scans: labels are scanned
    there. A plant that doubles one adds to its code: repair-2 mends as repair does."""

    code: str
    optional: bool = False
    scans: bool = True

    def is_a(self, *codes: str) -> bool:
        return any(self.code == code or self.code.startswith(f"{code}-") for code in codes)


@dataclass(frozen=True, slots=True)
class Route:
    """A plant's stations in their order. out: the place from which on nothing is in a chamber or
    envelope. mends: the last place where an injury is repaired; -1 where there is none."""

    stops: tuple[Stop, ...]
    places: dict[str, int] = field(init=False)
    out: int = field(init=False)
    mends: int = field(init=False)

    def __post_init__(self) -> None:
        at = dict(enumerate(self.stops))
        stripped = [i for i, s in at.items() if s.is_a("stripping")]
        cured = [i + 1 for i, s in at.items() if s.is_a("curing")]
        mends = [i for i, s in at.items() if s.is_a("repair", "skiving")]
        object.__setattr__(self, "places", {s.code: i for i, s in at.items()})
        object.__setattr__(self, "out", min(stripped, default=max(cured, default=len(at))))
        object.__setattr__(self, "mends", max(mends, default=-1))

    def place(self, event: Event) -> int:
        """Where an event's station stands in the route; -1 for one that is there no longer."""
        return self.places.get(event.station, -1)

    def is_behind(self, event: Event) -> bool:
        """Whether an event was told behind the last place where an injury is repaired."""
        return 0 <= self.mends < self.place(event)

    def is_mended_at(self, event: Event) -> bool:
        place = self.place(event)
        return place >= 0 and self.stops[place].is_a("repair", "skiving")


@dataclass(frozen=True, slots=True)
class Order:
    """What a casing's order says is to come out; zone: of the plant, for the day of inspection."""

    ordered: Ordered
    zone: tzinfo


@dataclass(frozen=True, slots=True)
class Inside:
    """Where one casing stands. told: everything else, as pages and the feed show it. doubts: what
    cannot be true, by the kind of the question, with its events."""

    stage: str
    station: str
    next: str
    load: str
    envelope: str
    reworks: int
    entered_at: datetime
    seen_at: datetime
    told: dict[str, Any]
    doubts: dict[str, list[str]]


@dataclass(frozen=True, slots=True)
class _Read:
    """A casing's events, sorted, as far as they stand."""

    route: Route
    stand: Sequence[Event]
    released: frozenset[UUID]
    vain: Sequence[tuple[Event, Event]]
    holds: Sequence[Event]
    rejections: Sequence[Event]
    back: Event | None
    round: Sequence[Event]
    counted: Sequence[Event]

    def after(self, event: Event, other: Event) -> bool:
        """Whether an event came after another: in the only round as the route has it, else by
        time."""
        if event.order > other.order:
            return True
        return self.back is None and self.route.place(event) > self.route.place(other)


def fold(route: Route, events: Iterable[Event], order: Order | None = None) -> Inside | None:
    """One casing from all that its plant told under its labels; None where nothing stands."""
    read = _read(route, events)
    if read is None:
        return None
    marks = [m for m in read.stand if m.outcome == "repair" and not m.told.again_at]
    open_marks = [m for m in marks if not _is_mended(read, m)]
    place = _place(read)
    built = next((e for e in reversed(read.stand) if e.told.built is not None), None)
    differ = _differences(read, built, order)
    stage = _stage(read, open_marks, place)
    within = place < route.out and stage not in (SHIPPED, FINISHED)
    load, envelope = (_last(read.round, name) if within else "" for name in ("load", "envelope"))
    told = {
        "passed": _passed(read),
        "not_scanned": _not_scanned(read, place),
        "findings": [
            one | {"done": _is_done(read, e)} for e in read.stand for one in listed.findings(e)
        ],
        "holds": [listed.hold(e, may_be_released(e)) for e in read.holds],
        "rejections": [listed.rejection(e, may_be_released(e)) for e in read.rejections],
        "again_at": read.back.told.again_at if read.back and stage == REPAIR else "",
        "loads": list(dict.fromkeys(e.told.load for e in read.stand if e.told.load)),
        "machines": listed.machines(read.stand),
        "lots": listed.lots(read.stand),
        "measured": listed.measured(read.stand),
        "built": listed.built(built),
        "differences": [listed.difference(built, d) for d in differ if built is not None],
        "last": [listed.brief(e) for e in reversed(read.stand[-5:])],
    }
    return Inside(
        stage=stage,
        station=read.stand[-1].station,
        next=_next(read, open_marks, place, stage),
        load=load,
        envelope=envelope,
        reworks=sum(1 for e in read.stand if e.told.again_at),
        entered_at=read.stand[0].told.happened_at,
        seen_at=read.stand[-1].told.happened_at,
        told=told,
        doubts=_doubts(read, open_marks, stage, built if differ else None),
    )


def _read(route: Route, events: Iterable[Event]) -> _Read | None:
    known = {e.uid: e for e in events}
    naming = [(e, known[e.about]) for e in known.values() if e.about in known]
    gone = {n.uid for e, n in naming if e.outcome == "withdrawn" and undoes(e, n)}
    told = [e for e in known.values() if e.uid not in gone and e.outcome != "withdrawn"]
    if not told:
        return None
    stand = sorted((_as_counted(e) for e in told), key=lambda e: e.order)
    released = frozenset(
        n.uid for e, n in naming if e.outcome == "released" and e.uid not in gone and undoes(e, n)
    )
    stopped = [e for e in stand if e.uid not in released]
    back = next((e for e in reversed(stand) if e.told.again_at), None)
    this_round = [e for e in stand if back is None or e.order > back.order]
    again = route.places.get(back.told.again_at or "", 0) if back else 0
    before = [e for e in stand if back and e.order < back.order and route.place(e) < again]
    return _Read(
        route=route,
        stand=stand,
        released=released,
        vain=sorted(
            (
                (e, n)
                for e, n in naming
                if not {e.uid, n.uid} & gone and n.uid not in released and not undoes(e, n)
            ),
            key=lambda pair: pair[0].order,
        ),
        holds=[e for e in stopped if e.outcome == "hold"],
        rejections=[e for e in stopped if e.outcome == "rejected"],
        back=back,
        round=this_round,
        counted=[*before, *this_round],
    )


def _as_counted(event: Event) -> Event:
    return replace(event, outcome=IDENTIFIED) if event.identifies else event


def _is_through(read: _Read, event: Event) -> bool:
    """Whether a casing is done with at the event's station."""
    marked = event.outcome == "repair" and not event.told.again_at
    return event.outcome in THROUGH or (marked and not read.route.is_mended_at(event))


def _is_mended(read: _Read, mark: Event) -> bool:
    """A pass where injuries are repaired, or anywhere behind it: that scan was missed then. Of a
    mark told behind it only the repair itself says so, unless it was sent back to begin again."""
    route = read.route
    if route.is_behind(mark) and (read.back is None or read.back.order < mark.order):
        there = [e for e in read.stand if e.outcome in THROUGH and route.is_mended_at(e)]
        return any(e.order > mark.order for e in there)
    return any(
        e.outcome in THROUGH and route.place(e) >= route.mends and read.after(e, mark)
        for e in read.stand
    )


def _is_done(read: _Read, event: Event) -> bool:
    """Whether a pass stands of a station where injuries are repaired, since they were found."""
    at_hand = event.outcome == "passed" and read.route.is_mended_at(event)
    return at_hand or any(
        e.outcome == "passed" and read.route.is_mended_at(e) and read.after(e, event)
        for e in read.stand
    )


def _place(read: _Read) -> int:
    """How far along the route it is done with, in this round; -1 where it has not begun."""
    reached = [read.route.place(e) for e in read.counted if _is_through(read, e)]
    return max(reached, default=-1)


def _shipped(read: _Read) -> list[Event]:
    """That it left, in this stay: the plant's own pages tell of one that was brought back."""
    back = [e.order for e in read.stand if e.inner and e.outcome == "received"]
    return [e for e in read.stand if e.outcome == "shipped" and not any(o > e.order for o in back)]


def _seen_after_shipped(read: _Read) -> list[Event]:
    """What stations before the one that shipped it told much later: then it is still here."""
    gone = _shipped(read)
    return [
        e
        for e in read.stand
        if gone
        and not e.inner
        and e.outcome not in ("released", "shipped")
        and e.stamp > gone[-1].stamp + CLOCKS_AGREE_MS
        and 0 <= read.route.place(e) < read.route.place(gone[-1])
    ]


def _is_held_later(read: _Read, hold: Event, finished: Sequence[Event]) -> bool:
    """Whether a hold came after it had left, or the plant's own pages set it on a finished one."""
    gone = [e for e in read.stand if e.outcome == "shipped"]
    ended = [*gone, *finished] if hold.inner else gone
    return any(hold.order > e.order for e in ended)


def _stage(read: _Read, open_marks: Sequence[Event], place: int) -> str:
    if _shipped(read):
        return SHIPPED
    if read.rejections:
        return REJECTED
    if read.holds:
        return ON_HOLD
    finished = [e for e in read.stand if e.outcome == "finished"]
    if finished and (read.back is None or finished[-1].order > read.back.order):
        return FINISHED
    again = read.route.places.get(read.back.told.again_at or "", -1) if read.back else -1
    if open_marks or (read.back and place < again):
        return REPAIR
    return IN_WORK


def _next(read: _Read, open_marks: Sequence[Event], place: int, stage: str) -> str:
    """The next station that scans it: at one that does not, nobody looks for it."""
    if stage in (SHIPPED, REJECTED):
        return ""
    if read.back and stage == REPAIR and not open_marks:
        return str(read.back.told.again_at)
    behind = stage == REPAIR and any(read.route.is_behind(m) for m in open_marks)
    for stop in read.route.stops[read.route.mends if behind else place + 1 :]:
        if stop.scans and (not stop.optional or (open_marks and stop.is_a("repair", "skiving"))):
            return stop.code
    return ""


def _passed(read: _Read) -> list[str]:
    codes = {e.station for e in read.counted if e.outcome in THROUGH}
    places, last = read.route.places, len(read.route.stops)
    return sorted(codes, key=lambda code: (places.get(code, last), code))


def _not_scanned(read: _Read, place: int) -> list[str]:
    """Passed, not scanned: what lies before where it is, and is not left out for some casings."""
    seen = {e.station for e in read.counted}
    return [s.code for s in read.route.stops[: max(place, 0)]
            if s.code not in seen and not s.optional]  # fmt: skip


def _last(events: Sequence[Event], name: str) -> str:
    told = (str(getattr(e.told, name)) for e in reversed(events))
    return next((value for value in told if value), "")


def _differences(read: _Read, built: Event | None, order: Order | None) -> tuple[Difference, ...]:
    """What final inspection found otherwise than ordered, until that event is released."""
    if built is None or order is None or built.uid in read.released:
        return ()
    found: Built | None = built.told.built
    assert found is not None
    return differences(order.ordered, found, local(built.told.happened_at, order.zone).date())


def _doubts(
    read: _Read, open_marks: Sequence[Event], stage: str, built: Event | None
) -> dict[str, list[str]]:
    doubts: dict[str, list[str]] = {}
    finished = [e for e in read.stand if e.outcome == "finished"]
    if finished and read.rejections:
        doubts["finished_and_rejected"] = _ids([*finished, *read.rejections])
    held = [e for e in read.holds if not _is_held_later(read, e, finished)]
    if finished and held:
        doubts["finished_on_hold"] = _ids([*finished, *held])
    if finished and open_marks:
        doubts["finished_not_repaired"] = _ids([*finished, *open_marks])
    if seen := _seen_after_shipped(read):
        doubts["seen_after_shipped"] = _ids([*_shipped(read)[-1:], *seen])
    late = [
        e
        for e in read.stand
        for r in read.rejections
        if e.outcome == "passed" and e.order > r.order and read.route.place(e) > read.route.place(r)
    ]
    if late:
        doubts["worked_on_after_rejection"] = _ids([*read.rejections, *late])
    if read.back and finished and finished[-1].order < read.back.order:
        doubts["sent_back_after_finish"] = _ids([finished[-1], read.back])
    empty = [e for e, named in read.vain if means_nothing(e, named)]
    forbidden = [e for e, _ in read.vain if e not in empty]
    if empty:
        doubts["names_nothing"] = _ids(empty)
    if forbidden:
        doubts["release_not_allowed"] = _ids(forbidden)
    if built is not None and stage in (FINISHED, SHIPPED):
        doubts["built_differs"] = _ids([built])
    return doubts


def _ids(events: Iterable[Event]) -> list[str]:
    return list(dict.fromkeys(str(e.uid) for e in events))
