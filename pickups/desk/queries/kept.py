"""The account of promises kept, in words: by month, customer, plant and basis, and whether the
stated probability held."""

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from pickups.customers import queries as customers
from pickups.desk import figures, words
from pickups.desk.figures import Picture
from pickups.people import queries as people
from pickups.promises.doors import accounting, accounts

SPANS = (3, 12, 24)
"""For how many months the account can be asked."""
USUAL = 12


@dataclass(frozen=True)
class Row:
    """One line of the account: how many of how many were kept and the share with its interval, in
    words; of what was told first, and of what was told last in time."""

    what: str
    first: tuple[str, str]
    last: tuple[str, str]


@dataclass(frozen=True)
class Table:
    """Lines under a heading; column: what stands in the first."""

    key: str
    heading: str
    column: str
    rows: Sequence[Row]


@dataclass(frozen=True)
class Stated:
    """Promises of about one probability: what was stated, how many were kept, the share."""

    stated: str
    count: str
    share: str


@dataclass(frozen=True)
class Account:
    """The whole page; apart: what does not count, and why."""

    lead: Sequence[str]
    months: Picture | None
    tables: Sequence[Table]
    stated: Sequence[Stated]
    reliability: Picture | None
    apart: Sequence[str]


def account(language: str, *, today: date, months: int) -> Account:
    """What came of the promises whose day was in this month or one of the `months` before it."""
    since = _months_before(today, months)
    told = list(accounts.counted(since=since, until=today, today=today))
    names = _Names(language, told)
    counting = [one for one in told if one.first]
    by_month = _grouped(counting, lambda one: one.on.replace(day=1))
    columns = _from(min(by_month), today) if by_month else []
    bins = accounting.reliability(
        (one.percent, one.forecast) for one in told if one.percent is not None and one.forecast
    )
    tables = [_table(names, "month", sorted(by_month.items(), reverse=True))]
    for key, of in _BY:
        tables.append(_table(names, key, sorted(_grouped(counting, of).items(), key=_most_broken)))
    drawn = [(m.month, names.short(m), *_shares(by_month.get(m, []))) for m in columns]
    return Account(
        lead=_lead(language, counting, months),
        months=figures.by_month(drawn) if drawn else None,
        tables=[table for table in tables if table.rows],
        stated=[_stated(language, one) for one in bins],
        reliability=figures.reliability(bins) if bins else None,
        apart=_apart(language, told),
    )


_BY: Sequence[tuple[str, Callable[[accounts.Counted], Hashable]]] = (
    ("basis", lambda one: one.basis),
    ("plant", lambda one: one.plant),
    ("customer", lambda one: one.customer),
)


class _Names:
    """What the lines of each table are called."""

    def __init__(self, language: str, told: Iterable[accounts.Counted]) -> None:
        self.language = language
        self._known = {s.uid: s.name for s in people.sites()}
        self._known |= customers.names({one.customer for one in told if one.customer})

    def of(self, key: str, one: Any) -> str:
        """Of one group of a table."""
        if key == "month":
            return f"{self._month(one)} {one.year}"
        if isinstance(one, UUID) and one in self._known:
            return self._known[one]
        return words.say(self.language, f"kept_basis_{one}" if key == "basis" else f"kept_no_{key}")

    def short(self, month: date) -> str:
        """A month under a column; the first of a year with the year."""
        return self._month(month)[:3] + (f" {month:%y}" if month.month == 1 else "")

    def _month(self, month: date) -> str:
        return words.say(self.language, f"month_{month.month}")


def _months_before(today: date, months: int) -> date:
    """The first day of the month so many before this one."""
    ahead = today.year * 12 + today.month - 1 - months
    return date(ahead // 12, ahead % 12 + 1, 1)


def _from(first: date, today: date) -> list[date]:
    """The months from one to this, by their first days."""
    months = (today.year - first.year) * 12 + today.month - first.month
    return [_months_before(today, back) for back in range(months, -1, -1)]


def _grouped(
    told: Iterable[accounts.Counted], of: Callable[[accounts.Counted], Any]
) -> dict[Any, list[accounts.Counted]]:
    groups: dict[Any, list[accounts.Counted]] = {}
    for one in told:
        groups.setdefault(of(one), []).append(one)
    return groups


def _most_broken(group: tuple[Any, Sequence[accounts.Counted]]) -> tuple[int, int, str]:
    broken = sum(one.first is accounting.Outcome.BROKEN for one in group[1])
    return -broken, -len(group[1]), str(group[0])


def _shares(told: Iterable[accounts.Counted]) -> tuple[accounting.Share, accounting.Share]:
    told = list(told)
    first, last = (one.first for one in told), (one.last for one in told)
    return accounting.shared(first), accounting.shared(last)


def _table(
    names: _Names, key: str, groups: Iterable[tuple[Any, Sequence[accounts.Counted]]]
) -> Table:
    rows = []
    for one, told in groups:
        first, last = _shares(told)
        said = _said(names.language, first), _said(names.language, last)
        same = words.say(names.language, "kept_same"), ""
        rows.append(Row(names.of(key, one), said[0], same if first == last else said[1]))
    heading = words.say(names.language, f"kept_by_{key}")
    return Table(key, heading, words.say(names.language, f"kept_{key}"), rows)


def _said(language: str, share: accounting.Share) -> tuple[str, str]:
    """How many, and the share with its interval; of none that nothing counts."""
    if share.share is None:
        return words.say(language, "kept_none_yet"), ""
    low, high = (round(100 * limit) for limit in share.interval)
    said = words.say(language, "kept_share", share=round(100 * share.share), low=low, high=high)
    return words.say(language, "kept_of", kept=share.kept, of=share.of), said


def _lead(language: str, told: Sequence[accounts.Counted], months: int) -> list[str]:
    """The account in sentences."""
    first, last = _shares(told)
    if first.share is None:
        return [words.say(language, "kept_nothing", months=months)]
    said = [
        words.say(
            language,
            "kept_lead",
            months=months,
            of=first.of,
            kept=first.kept,
            share=round(100 * first.share),
        )
    ]
    revised = sum(one.revised for one in told)
    if revised and last.share is not None:
        share = round(100 * last.share)
        said.append(words.say(language, "kept_revised", n=revised, kept=last.kept, of=last.of,
                              share=share))  # fmt: skip
    return said


def _stated(language: str, one: accounting.Bin) -> Stated:
    count, share = _said(language, one.kept)
    stated = words.say(language, "kept_stated", least=one.least, most=one.most,
                       mean=round(one.promised))  # fmt: skip
    return Stated(stated, count, share)


def _apart(language: str, told: Iterable[accounts.Counted]) -> list[str]:
    counts = _grouped((one for one in told if one.apart), lambda one: one.apart)
    said = [(why, len(counts.get(why, []))) for why in accounting.Apart]
    return [words.say(language, f"kept_apart_{why}", n=n) for why, n in said if n]
