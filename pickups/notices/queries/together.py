"""When all of a pickup's casings are back: from the courses of the plant's forecast, in which they
stand together, from the trucks for those that are finished, and from the forecast of arrivals for
those that are not at the plant yet.

Fourteen promises of 90 % are kept together far less often than one: so the day is asked of the
group, at the account's confidence, never of the latest of its casings. Parts of a group that stand
in no courses of each other's are asked so much surer each that all of them hold with that
confidence however they hang together (Bonferroni's inequality).
"""

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.customers import queries as customers
from pickups.notices.queries import days
from pickups.promises import queries
from pickups.promises.doors import finishing, offering, risks
from pickups.promises.queries import Finishing, Published

_DONE = (Progress.FINISHED, Progress.SHIPPED)


@dataclass(frozen=True)
class Together:
    """When the last is back of those of which a day is known, with `percent` percent; none where
    it is of none.

    of: how many are waited for; back: how many are back already; unknown: of how many nobody can
    say a day yet, so that the day speaks of the others alone; pairs: matched duals among those
    waited for, by their labels.
    """

    on: date | None
    percent: int
    of: int
    back: int
    unknown: int
    pairs: Sequence[tuple[str, str]]


def together(orders: Iterable[WorkOrder], *, at: datetime) -> Together | None:
    """Of one pickup's casings, those that come back themselves; None where no two of them are
    waited for. A rejected one is none of them: of it its owner is told by itself."""
    own = [w for w in orders if w.told.get("promised") and not w.withdrawn and not w.reason]
    waited = [w for w in own if risks.may_break(w)]
    if len(waited) < 2:
        return None
    found = _Days(waited, at).of_all()
    known = [day for day in found if day is not None]
    return Together(
        on=max(known) if known else None,
        percent=_percent(waited[0]),
        of=len(waited),
        back=sum(w.progress == Progress.RETURNED for w in own),
        unknown=len(found) - len(known),
        pairs=_pairs(waited),
    )


class _Days:
    """A day for each part of the group that is asked for together."""

    def __init__(self, waited: Sequence[WorkOrder], at: datetime) -> None:
        self._waited, self._at = waited, at
        self._zone = ZoneInfo(settings.DEALER_TIME_ZONE)
        self._asked = _percent(waited[0])
        self._published: dict[UUID, Published] = {}

    def of_all(self) -> list[date | None]:
        """One entry for each casing: those of one sample have the day of all of them."""
        done = [w for w in self._waited if w.progress in _DONE]
        going = [w for w in self._waited if w.progress not in _DONE]
        comes = days.coming(done, on=days.today(self._at), promised=days.promised(done))
        inside = queries.finishing((w.uid for w in going), at=self._at)
        outside = [w for w in going if w.uid not in inside and w.progress == Progress.PICKED_UP]
        silent = len(going) - len(inside) - len(outside)
        plants = {one.plant for one in inside.values()}
        percent = surer(self._asked, len(plants) + len(set(map(self._arrival, outside))))
        return [
            *(comes.get(w.uid) for w in done),
            *self._simulated([w for w in going if w.uid in inside], inside, percent),
            *([None] * silent),
            *self._arriving(outside, percent),
        ]

    @staticmethod
    def _arrival(w: WorkOrder) -> Hashable:
        """What one forecast of arrivals speaks of."""
        return risks.site_of(w), days.today(w.picked_up_at), w.told.get("work", "")

    def _simulated(
        self, orders: Sequence[WorkOrder], inside: dict[UUID, Finishing], percent: int
    ) -> list[date | None]:
        """Course by course: those of one plant stand in the same courses."""
        found: list[date | None] = []
        for plant in {inside[w.uid].plant for w in orders}:
            here = [w for w in orders if inside[w.uid].plant == plant]
            samples = [(inside[w.uid].sample, partial(self._back, w, plant)) for w in here]
            all_of_them = finishing.together(samples, percent, self._zone)
            found += [all_of_them.on if all_of_them else None] * len(here)
        return found

    def _arriving(self, orders: Sequence[WorkOrder], percent: int) -> list[date | None]:
        """Of what is not at the plant yet, as the last of so many that arrive together."""
        classes = {offering.size_class(w.told.get("size") or "") for w in orders}
        size_class = classes.pop() if len(classes) == 1 else finishing.ALL_SIZES
        found = []
        for w in orders:
            now = self._of_store(risks.site_of(w))
            back_to = w.told.get("back_to", "yard")
            found.append(
                offering.expected(
                    days.today(w.picked_up_at),
                    offering.Asked(w.told.get("work", ""), size_class, len(orders), percent),
                    plants=list(queries.reached(now.plants, at=self._at).values()),
                    runs=None if back_to == "store" else now.to_yard.get(str(w.yard), []),
                    zone=self._zone,
                )
            )
        return found

    def _back(self, w: WorkOrder, plant: UUID, finished: date) -> date | None:
        now, back_to = self._of_store(risks.site_of(w)), w.told.get("back_to", "yard")
        return now.comes_on(
            yard=w.yard, back_to=back_to, after=finished, at_store=False, plant=plant
        )

    def _of_store(self, site: UUID) -> Published:
        if site not in self._published:
            self._published[site] = queries.published(site)
        return self._published[site]


def surer(percent: int, parts: int) -> int:
    """How sure each of so many parts is to be asked, in whole percent, for all of them to hold
    with `percent` percent, whatever they have in common."""
    return 100 - (100 - percent) // max(1, parts)


def _percent(w: WorkOrder) -> int:
    asked = customers.percents([w.customer]) if w.customer else {}
    return asked.get(w.customer, finishing.USUAL) if w.customer else finishing.USUAL


def _pairs(waited: Sequence[WorkOrder]) -> list[tuple[str, str]]:
    """Matched duals that are both waited for, as they were told."""
    labels = {w.picked_up_under: w.label for w in waited}
    return [
        (labels[other], w.label)
        for w in waited
        if (other := w.told.get("dual_with")) and other in labels
    ]
