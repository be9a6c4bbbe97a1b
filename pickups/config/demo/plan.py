"""The demo's three weeks as a plan: who does what with which casings, on which day, at what time.

Pure: reads the history's data and the day on which it is loaded, knows no service. Days are
working days before that day, so that nothing happens on a Sunday and nothing in the future.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from typing import Any


@dataclass(frozen=True)
class Act:
    """Something that happens at a moment: a whole pickup, or one step of one of its casings.

    casing: its place in the pickup, None for the pickup itself. more: what a station told besides.
    """

    at: datetime
    what: str
    pickup: int
    casing: int | None = None
    more: Mapping[str, Any] | None = None

    @property
    def together(self) -> tuple[datetime, str, int | None]:
        """Acts that are told in one go: a visit of one yard; whatever else happens at once."""
        visit = self.what in {"deliver", "fetch"}
        return self.at, self.what.partition(" ")[0] if visit else "", self.pickup if visit else None


AFTERWARDS = ("emptied", "otherwise", "new_day")
"""What may happen of a whole pickup on a later day: its trailer is emptied, it is disputed, the
owner of one of its casings is told a new day."""


def acts(history: Mapping[str, Any], *, today: date, zone: tzinfo) -> list[Act]:
    """Everything that has happened by the end of the working day before `today`, in order."""
    found = []
    for i, pickup in enumerate(history["pickups"]):
        found.append(Act(_at(today, pickup["day"], pickup["at"], zone), "pick up", i))
        for what in AFTERWARDS:
            more = pickup.get(what)
            if more and pickup["day"] - more["day"] >= 1:
                at = _at(today, pickup["day"] - more["day"], more["at"], zone)
                found.append(Act(at, what, i, None, more))
        for j, casing in enumerate(pickup["casings"]):
            for what, day, time, *more in _steps(history, casing["way"]):
                if pickup["day"] - day >= 1:
                    at = _at(today, pickup["day"] - day, time, zone)
                    found.append(Act(at, what, i, j, more[0] if more else None))
    return sorted(found, key=lambda act: (act.at, act.pickup, act.casing is not None))


def _steps(history: Mapping[str, Any], way: str) -> Iterator[list[Any]]:
    for step in history["ways"][way]:
        if isinstance(step, str):
            yield from history["fragments"][step]
        else:
            yield step


def _at(today: date, days_before: int, time: str, zone: tzinfo) -> datetime:
    """A time of day so many working days (Monday to Friday) before a day."""
    day = today
    while days_before:
        day -= timedelta(days=1)
        days_before -= day.weekday() < 5
    hour, minute = map(int, time.split(":"))
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=zone)
