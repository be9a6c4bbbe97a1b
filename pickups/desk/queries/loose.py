"""Loose work in words: what waits to go home, by yard, and what waits for the plant.

What is promised soonest stands first, a yard where its most urgent casing does.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import reasons, strokes
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.desk import words
from pickups.desk.queries.names import Names
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.promises import queries as promises
from pickups.promises.queries import Published
from pickups.runs import queries as runs

FAR = date.max


@dataclass(frozen=True)
class Line:
    """One casing as a dispatcher reads it; kind: what it is, where it is no plain casing; handling:
    what a hand has to know of it; tick: whether a truck can take it anywhere now."""

    uid: UUID
    label: str
    grouped: str
    size: str
    kind: str
    handling: str
    sign: strokes.Sign
    said: Sequence[str]
    rejected: str
    where: str
    promised: str
    late: bool
    age: str
    tick: bool


@dataclass(frozen=True)
class Group:
    """The casings of one yard; `movable` are the ids that one press puts on a sheet."""

    key: str
    title: str
    said: str
    count: str
    all: str
    lines: Sequence[Line]

    @property
    def movable(self) -> str:
        """The ids of all that a truck can take, as one value of a form."""
        return ",".join(str(line.uid) for line in self.lines if line.tick)


@dataclass(frozen=True)
class Loose:
    """All of a store's loose work; `count` is of everything."""

    yards: Sequence[Group]
    counter: Group | None
    plant: Group | None
    count: int


def today_of(at: datetime) -> date:
    """The dealer's day."""
    return clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date()


def names_for(language: str, orders: Iterable[WorkOrder], *, yards: Iterable[UUID] = ()) -> Names:
    """Names of everybody and every yard that these work orders speak of."""
    orders = list(orders)
    persons = [UUID(w.holder[7:]) for w in orders if w.holder.startswith("person:")]
    return Names(language, persons=persons, yards={*yards, *(w.yard for w in orders)})


def loose(language: str, site: UUID, *, at: datetime) -> Loose:
    """What is loose at a store, at this moment."""
    home, raw = runs.loose(site), runs.loose_for_plant(site)
    names = names_for(language, [*home, *raw])
    made = Lines(names, [*home, *raw], site=site, at=at)
    by_yard: dict[UUID, list[WorkOrder]] = {}
    fetched = []
    for w in made.soonest_first(home):
        if w.told.get("back_to") == "store":
            fetched.append(w)
        else:
            by_yard.setdefault(w.yard, []).append(w)
    yards = [made.group(str(yard), names.place(yard), orders) for yard, orders in by_yard.items()]
    counter = names.say("loose_counter"), names.say("loose_counter_say")
    plant = names.say("loose_plant"), names.say("loose_plant_say")
    return Loose(
        yards,
        made.group("counter", counter[0], fetched, counter[1], owner=True) if fetched else None,
        made.group("plant", plant[0], raw, plant[1], owner=True) if raw else None,
        len(home) + len(raw),
    )


class Lines:
    """Makes lines of work orders: promises and trucks are read once for all of them."""

    def __init__(
        self, names: Names, orders: Sequence[WorkOrder], *, site: UUID, at: datetime
    ) -> None:
        self.names, self.at, self.today = names, at, today_of(at)
        self.promised: Mapping[UUID, date] = {
            uid: p.on for uid, p in promises.standing(w.uid for w in orders if _expects(w)).items()
        }
        at_plant = [w.uid for w in orders if w.holder.startswith("plant:")]
        self._since: Mapping[UUID, datetime] = custody.lies_since(at_plant) if at_plant else {}
        self._rack = f"site:{site}"
        self._trucks: Published = promises.published(site)

    def soonest_first(self, orders: Iterable[WorkOrder]) -> list[WorkOrder]:
        """By the promised day; what nothing is promised for comes last, oldest first."""
        return sorted(
            orders, key=lambda w: (self.promised.get(w.uid, FAR), w.picked_up_at, w.label)
        )

    def group(
        self,
        key: str,
        title: str,
        orders: Sequence[WorkOrder],
        said: str = "",
        *,
        owner: bool = False,
    ) -> Group:
        """Lines under one heading; owner: each says whose it is."""
        n = len(orders)
        count = self.names.say("loose_one" if n == 1 else "loose_n", n=n)
        lines = [self.line(w, owner=owner) for w in orders]
        every = self.names.say("loose_all", n=sum(line.tick for line in lines))
        return Group(key, title, said, count, every, lines)

    def line(self, w: WorkOrder, *, owner: bool = False) -> Line:
        """One casing."""
        names, on = self.names, self.promised.get(w.uid)
        age = words.span(names.language, (self.at - w.picked_up_at).total_seconds())
        said = [names.say(f"progress_{w.progress}")]
        if w.on_hold:
            said.append(names.say("loose_on_hold"))
        if owner:
            said.append(names.place(w.yard))
        return Line(
            uid=w.uid,
            label=w.label,
            grouped=words.grouped(w.label),
            size=str(w.told.get("size") or ""),
            kind=kind(w, names),
            handling=names.told.handling(w.told),
            sign=strokes.sign(w.progress, on_hold=w.on_hold, rejected=bool(w.reason)),
            said=said,
            rejected=rejection(w, names),
            where=self._where(w),
            promised="" if w.reason else self._promise(on),
            late=on is not None and on < self.today,
            age=names.say("loose_age", age=age),
            tick=not self._stays(w),
        )

    def _stays(self, w: WorkOrder) -> bool:
        """On hold at the plant, or where its owner fetches it."""
        if w.on_hold and w.holder.startswith("plant:"):
            return True
        return w.told.get("back_to") == "store" and w.holder == self._rack

    def _promise(self, on: date | None) -> str:
        if on is None:
            return self.names.say("loose_no_promise")
        if on == self.today:
            return self.names.say("loose_today")
        key = "loose_late" if on < self.today else "loose_promised"
        return self.names.say(key, day=day_in_words(self.names.language, on))

    def _where(self, w: WorkOrder) -> str:
        said = where(w.holder, self.names)
        if not w.holder.startswith(("plant:", "road:")):
            return said
        kind, _, place = w.holder.partition(":")
        since = self._since.get(w.uid)
        back: date | None = self._trucks.comes_next(
            yard=w.yard,
            back_to="store",
            today=self.today,
            since=today_of(since) if since else None,  # on the road: today's truck may be the one
            plant=UUID(place) if kind == "plant" else None,
        )
        if back is None:
            return said
        return self.names.say(
            "loose_comes", where=said, day=day_in_words(self.names.language, back)
        )


def _expects(w: WorkOrder) -> bool:
    """Whether a day was promised for it; that of a finished one is none of a rejected one's."""
    return bool(w.told.get("promised")) and not w.reason


def kind(w: WorkOrder, names: Names) -> str:
    """What it is, where it is no casing to be worked on and nothing else."""
    line = w.told.get("line", "retread")
    return "" if line in ("retread", "repair") else names.told.kind(w.told)[0]


def rejection(w: WorkOrder, names: Names) -> str:
    """Why it was rejected, in words; nothing where it was not."""
    if not w.reason:
        return ""
    return names.say("loose_rejected", reason=reasons.words(w.reason, names.language))


def where(holder: str, names: Names) -> str:
    """Where a casing is now, by who holds it."""
    kind = holder.partition(":")[0]
    if kind == "road":
        return names.say("loose_road")
    if kind == "site":
        return names.say("loose_on_rack", place=names.holder(holder))
    if kind == "person":
        return names.say("loose_with", who=names.holder(holder))
    return names.say("loose_at", place=names.holder(holder))
