"""One load sheet in words: its stops in order, what is dropped and picked up at each, what the
truck carries between them, what does not fit; and, once it was handed, what really happened.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time
from typing import Any
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.queries import Fact
from pickups.customers import queries as customers
from pickups.desk import words
from pickups.desk.queries.loose import Line, Lines, names_for
from pickups.desk.queries.names import Names
from pickups.desk.queries.on_the_way import Told, given_elsewhere
from pickups.desk.queries.way_told import Word
from pickups.kernel.languages import day_in_words
from pickups.people import queries as people
from pickups.runs import rules
from pickups.runs.models import Run, Stop
from pickups.runs.rules import Head


@dataclass(frozen=True)
class Dropped:
    """A casing to be dropped: wrong is what does not fit, happened what custody tells of it."""

    line: Line
    promised: str
    is_promised: bool
    late: bool
    wrong: Sequence[str]
    happened: str
    done: bool


@dataclass(frozen=True)
class Stopped:
    """A stop in words; begins, to, fetch and note as the fields of its form hold them. open: its
    form is, since the fields that `bad` names are wrong."""

    uid: UUID
    place: int
    name: str
    address: str
    window: str
    fetch_said: str
    fetched: str
    begins: str
    to: str
    fetch: str
    note: str
    drops: Sequence[Dropped]
    told: Sequence[Word]
    aboard: str
    last: bool
    open: bool = False
    bad: Sequence[str] = ()

    @property
    def earlier(self) -> int:
        """The place before its own."""
        return self.place - 1

    @property
    def later(self) -> int:
        """The place after its own."""
        return self.place + 1

    @property
    def any_rejected(self) -> bool:
        """Whether a rejected casing is dropped here: a caution stands beside it on paper."""
        return any(d.line.rejected for d in self.drops)


@dataclass(frozen=True)
class Shown:
    """The whole sheet."""

    uid: UUID
    version: int
    title: str
    day: str
    state: str
    state_said: str
    vehicle: str
    driver: str
    trip: str
    start: str
    note: str
    hand: str
    needs: str
    aboard: str
    told: Sequence[Word]
    counts: str
    stops: Sequence[Stopped]
    head: Head


@dataclass(frozen=True)
class Option:
    """One line of a list to choose from."""

    key: str
    name: str


@dataclass(frozen=True)
class Places:
    """Where a stop can be."""

    yards: Sequence[Option]
    sites: Sequence[Option]


def places(site: UUID) -> Places:
    """The yards of the store's customers, and every store and plant."""
    yards = [Option(str(y.uid), f"{y.customer.name}, {y.name}") for y in customers.yards_of(site)]
    return Places(yards, [Option(str(s.uid), s.name) for s in people.sites()])


def stop_named(language: str, run: Run, stop: UUID) -> str:
    """What a stop of a sheet is called; of one that is not there nothing is known."""
    found = [s for s in run.stops.all() if s.uid == stop]
    yards = [s.yard_id for s in found if s.yard_id]
    return place_of(found[0], Names(language, yards=yards)) if found else ""


def throwing(language: str, run: Run) -> dict[str, Any]:
    """What is asked before a sheet is thrown away, and what would follow."""
    vehicle = run.vehicle or words.say(language, "sheet_no_vehicle")
    day = day_in_words(language, run.on)
    return {
        "run": run.uid,
        "version": run.version,
        "title": words.say(language, "sheet_throw_title", day=day, vehicle=vehicle),
    }


def shown(language: str, run: Run, *, at: datetime) -> Shown:
    """A sheet as it stands at this moment. run: as runs.queries.sheet reads it."""
    stops = list(run.stops.all())
    by_stop = {s.uid: [d.work_order for d in s.drops.all()] for s in stops}
    orders = casings.work_orders(uid for uids in by_stop.values() for uid in uids)
    elsewhere = given_elsewhere(orders.values(), out=run.state != rules.WRITTEN)
    to_drop = {s: [uid for uid in uids if uid not in elsewhere] for s, uids in by_stop.items()}
    holdings = custody.holdings(orders) if run.state != rules.WRITTEN else {}
    yards = {s.yard_id for s in stops if s.yard_id} | _delivered_at(holdings)
    names = names_for(language, orders.values(), yards=yards)
    lines = Lines(names, list(orders.values()), site=run.site_id, at=at)
    told = Told(run, stops, orders, holdings, names)
    carried = rules.on_truck([told.load(i, to_drop) for i in range(len(stops))])
    made = [
        _stop(s, i, [orders[u] for u in by_stop[s.uid] if u in orders], carried, lines, told)
        for i, s in enumerate(stops)
    ]
    day, drops = day_in_words(language, run.on), sum(map(len, to_drop.values()))
    driver = str(run.driver) if run.driver else names.say("sheet_no_driver")
    head = Head(run.start_id, run.on, run.kind, run.vehicle,
                run.driver.uid if run.driver else None, run.note)  # fmt: skip
    return Shown(
        uid=run.uid,
        version=run.version,
        title=names.say("sheet_of", day=day),
        day=day,
        state=run.state,
        state_said=names.say(f"sheet_state_{run.state}", store=run.site.name),
        vehicle=run.vehicle or names.say("sheet_no_vehicle"),
        driver=driver,
        trip=names.say(f"sheet_kind_{run.kind}"),
        start=run.start.name,
        note=run.note,
        hand=names.say("sheet_hand_to", driver=driver) if run.driver else names.say("sheet_hand"),
        needs=_needs(run, stops, names),
        aboard=_aboard(carried[0], names, place=run.start.name),
        told=told.at(None),
        counts=names.say(
            "sheet_counts_one" if len(stops) == 1 else "sheet_counts", stops=len(stops), drops=drops
        ),
        stops=made,
        head=head,
    )


def _delivered_at(holdings: Mapping[UUID, Sequence[Fact]]) -> set[UUID]:
    """The yards at which any of these was handed back."""
    facts = [f for told in holdings.values() for f in told]
    return {UUID(f.told["yard"]) for f in facts if f.told.get("yard")}


def _needs(run: Run, stops: Sequence[Stop], names: Names) -> str:
    if run.driver is None:
        return names.say("sheet_needs_driver")
    return "" if stops else names.say("sheet_needs_stop")


def _aboard(n: int, names: Names, *, place: str = "") -> str:
    key = "sheet_aboard_start" if place else "sheet_aboard"
    return names.say(key, n=n, kg=n * rules.KG_A_CASING, place=place)


def _stop(
    s: Stop,
    at: int,
    orders: Sequence[WorkOrder],
    carried: Sequence[int],
    lines: Lines,
    told: Told,
) -> Stopped:
    names, aboard = lines.names, carried[at + 1]
    return Stopped(
        uid=s.uid,
        place=s.place,
        name=place_of(s, names),
        address=s.yard.address if s.yard else "",
        window=_window(s, names),
        fetch_said=names.say("sheet_fetch_none" if s.fetch is None else "sheet_fetch_n", n=s.fetch),
        fetched=told.fetched(s),
        begins=_time(s.from_time),
        to=_time(s.to_time),
        fetch="" if s.fetch is None else str(s.fetch),
        note=s.note,
        drops=[_dropped(w, s, at, lines, told) for w in lines.soonest_first(orders)],
        told=told.at(s.uid, orders),
        aboard=_aboard(aboard, names),
        last=at + 1 == len(told.stops),
    )


def place_of(stop: Stop, names: Names) -> str:
    """What a stop is called."""
    if stop.yard_id:
        return names.place(stop.yard_id)
    assert stop.site_id is not None  # a stop is one place
    return names.site(stop.site_id)


def _time(at: time | None) -> str:
    return f"{at:%H:%M}" if at else ""


def _window(s: Stop, names: Names) -> str:
    begins, to = _time(s.from_time), _time(s.to_time)
    if begins and to:
        return names.say("sheet_window_both", begins=begins, to=to)
    if begins:
        return names.say("sheet_window_from", begins=begins)
    return names.say("sheet_window_until", to=to) if to else names.say("sheet_window_any")


def _dropped(w: WorkOrder, s: Stop, at: int, lines: Lines, told: Told) -> Dropped:
    names, on = lines.names, lines.promised.get(w.uid)
    late = on is not None and on < told.run.on
    promised = names.say("sheet_told_none")
    if on is not None:
        key = "sheet_late" if late else "sheet_due"
        promised = names.say(key, day=day_in_words(names.language, on))
    happened, done = told.happened(w, s) if told.out else ("", False)
    return Dropped(
        line=lines.line(w, owner=bool(s.site_id)),
        promised=promised,
        is_promised=on is not None,
        late=late,
        wrong=[] if done else told.wrong(w, at),
        happened=happened,
        done=done,
    )
