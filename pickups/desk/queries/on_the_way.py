"""What is known of the casings on one sheet: where the truck takes each on, what does not fit, and
what really happened to it. Read from custody each time; a sheet keeps nothing of it.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.custody import queries as custody
from pickups.custody.queries import Fact
from pickups.customers import queries as customers
from pickups.desk import words
from pickups.desk.queries import way_told
from pickups.desk.queries.loose import where
from pickups.desk.queries.names import Names
from pickups.desk.queries.way_told import Word
from pickups.kernel import clock
from pickups.people import queries as people
from pickups.runs import queries as runs
from pickups.runs import rules
from pickups.runs.happenings import AtStop
from pickups.runs.models import Run, Stop
from pickups.runs.rules import Load


def given_elsewhere(orders: Iterable[WorkOrder], *, out: bool) -> set[UUID]:
    """Those that this truck has not to bring any more: their owner was handed them at a counter,
    or before the truck was out."""
    back = [w.uid for w in orders if w.progress == Progress.RETURNED]
    if not out:
        return set(back)
    last = {
        uid: f for uid, told in custody.holdings(back).items() for f in told if f.kind == "returned"
    }
    return {uid for uid, fact in last.items() if fact.told.get("store")}


class Told:
    """What is known of the casings on one sheet: where each is taken on, and what happened."""

    def __init__(
        self,
        run: Run,
        stops: Sequence[Stop],
        orders: Mapping[UUID, WorkOrder],
        holdings: Mapping[UUID, Sequence[Fact]],
        names: Names,
    ) -> None:
        """holdings: as custody tells them; none before the truck is out."""
        self.run, self.stops, self.names = run, stops, names
        self.orders, self.sites = orders, [s.site_id for s in stops]
        self.driver = str(run.driver.uid) if run.driver else ""
        self.out = run.state != rules.WRITTEN
        self._holdings = holdings
        self._taken = self._picked_up() if self.out else {}
        self._places = {s.uid: s.kind for s in people.sites()}
        self._stand = runs.stand([run.uid])[run.uid]
        self._owners = customers.owners([s.yard_id for s in stops if s.yard_id])

    def load(self, at: int, by_stop: Mapping[UUID, Sequence[UUID]]) -> Load:
        """What a stop does to the truck."""
        taken_on = 0
        for later in range(at + 1, len(self.stops)):
            for uid in by_stop[self.stops[later].uid]:
                order = self.orders.get(uid)
                if order is not None and self._taken_on(order, later) == at:
                    taken_on += 1
        stop = self.stops[at]
        return Load(len(by_stop[stop.uid]), taken_on, stop.fetch)

    def _taken_on(self, w: WorkOrder, at: int) -> int | None:
        """At which stop; once the truck is out, by who gave the casing to the driver."""
        mine = [f for f in self._holdings.get(w.uid, []) if f.holder == f"person:{self.driver}"]
        givers = [str(f.told["giver"]) for f in mine if f.told.get("giver")]
        held_by = givers[-1] if givers else w.holder
        return rules.loaded_at(held_by, self.sites[:at], start=self.run.start_id)

    def wrong(self, w: WorkOrder, at: int) -> list[str]:
        """What does not fit, before the truck is out."""
        names, said = self.names, []
        place = self._place(self.stops[at])
        why = rules.why_not(_casing(w), place, site=self.run.site_id)
        if why is not None:
            said.append(names.say(f"sheet_why_{why}"))
        elif not self.out and not rules.on_the_way(
            w.holder, self.sites[:at], start=self.run.start_id, driver=self.driver
        ):
            said.append(names.say("sheet_not_there", where=where(w.holder, names)))
        if place.kind == "yard" and w.told.get("back_to") == "store":
            said.append(names.say("sheet_for_counter"))
        return said

    def _place(self, stop: Stop) -> rules.Place:
        if stop.yard_id:
            return rules.Place("yard", stop.yard_id, self._owners[stop.yard_id][0])
        assert stop.site_id is not None  # a stop is one place
        return rules.Place(self._places[stop.site_id], stop.site_id)

    def happened(self, w: WorkOrder, stop: Stop) -> tuple[str, bool]:
        """What custody tells of a casing that was to be dropped, and whether it was."""
        names = self.names
        holding = [f for f in self._holdings.get(w.uid, []) if f.holder == w.holder]
        fact = holding[-1] if holding else None
        when = self._when(fact) if fact else ""
        if w.progress == "returned":
            return self._returned(w, stop), True
        if stop.site_id and w.holder in (f"site:{stop.site_id}", f"plant:{stop.site_id}"):
            return names.say("sheet_dropped", when=when), True
        over = self.run.state == rules.BACK
        if fact and w.holder == f"person:{self.driver}" and not over:
            return names.say("sheet_on_board", when=when), False
        key = "sheet_kept" if over else "sheet_still"
        return names.say(key, where=where(w.holder, names)), False

    def _returned(self, w: WorkOrder, stop: Stop) -> str:
        """Where and when it was handed back; a hand-over told beside it says neither."""
        told = [f for f in self._holdings.get(w.uid, []) if f.kind == "returned"]
        back = told[-1] if told else None
        when = self._when(back) if back else ""
        if back and back.told.get("store"):
            return self.names.say("sheet_at_counter", when=when)
        yard = back.told.get("yard") if back else None
        if yard is None or yard == str(stop.yard_id):
            return self.names.say("sheet_delivered", when=when, where="")
        where = self.names.place(UUID(str(yard)))
        return self.names.say("sheet_elsewhere", when=when, where=where)

    def _when(self, fact: Fact) -> str:
        return self._at(fact.happened_at)

    def _at(self, at: datetime) -> str:
        local = clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE))
        if local.date() == self.run.on:
            return f"{local:%H:%M}"
        return words.day_and_time(self.names.language, local)

    def at(self, stop: UUID | None, dropped: Iterable[WorkOrder] = ()) -> list[Word]:
        """What its driver told of a stop, or (None) of the start; and how deliveries of what was to
        be dropped there ended."""
        said = way_told.at_stop(self._stand.get(stop, AtStop()), self.names, self._at)
        told = [f for w in dropped for f in self._holdings.get(w.uid, []) if f.kind == "returned"]
        visits = {UUID(str(f.told["delivery"])) for f in told if f.told.get("delivery")}
        return said + way_told.deliveries(sorted(visits), self.names)

    def fetched(self, stop: Stop) -> str:
        """How many this sheet's driver picked up in the yard on its day, once he had it."""
        n = self._taken.get(stop.yard_id, 0) if stop.yard_id else 0
        if not n:
            return ""
        key = "sheet_fetched" if stop.fetch is None else "sheet_fetched_of"
        return self.names.say(key, n=n, said=stop.fetch)

    def _picked_up(self) -> dict[UUID, int]:
        began, over = _span(self.run.on)
        began = max(began, runs.first_handed(self.run.uid) or began)
        yards = [s.yard_id for s in self.stops if s.yard_id]
        found = casings.picked_up_at(yards, since=began, until=over)
        facts = custody.facts(w.uid for w in found)
        counts: dict[UUID, int] = {}
        for w in found:
            by = facts[w.uid].by if w.uid in facts else None
            if str(by) == self.driver and not w.told.get("store"):
                counts[w.yard] = counts.get(w.yard, 0) + 1
        return counts


def _span(on: date) -> tuple[datetime, datetime]:
    """The dealer's day as two instants."""
    began = datetime.combine(on, time(), ZoneInfo(settings.DEALER_TIME_ZONE))
    return began, began + timedelta(days=1)


def _casing(w: WorkOrder) -> rules.Casing:
    return rules.Casing(
        w.progress,
        w.holder,
        w.site,
        w.customer,
        w.on_hold,
        w.contested,
        w.withdrawn,
        dealers=bool(w.casing.dealers),
    )
