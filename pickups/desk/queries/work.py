"""Which casings and work orders somebody wants as a file: what was chosen, what is wrong there."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from uuid import UUID

from pickups.casings.rules import Progress
from pickups.customers import queries as customers
from pickups.desk import words
from pickups.exchange.queries import work
from pickups.exchange.queries.files import Table
from pickups.kernel.wire import shown


@dataclass
class Asked:
    """What was chosen, as it was typed, and what it comes to."""

    language: str
    typed: dict[str, str]
    customers: list[tuple[str, str]]
    progresses: list[tuple[str, str]]
    chosen: work.Chosen
    faults: dict[str, str] = field(default_factory=dict)

    def tables(self) -> dict[str, Callable[[], Table]]:
        """The lists chosen, by name."""
        return work.tables(self.chosen, self.language)


def asked(query: Mapping[str, str], language: str) -> Asked:
    """Read what was chosen; what cannot be is said beside it, and what was typed is kept."""
    typed = {k: str(query.get(k, "")).strip() for k in ("customer", "from", "to", "progress")}
    known = [(str(c.uid), c.name) for c in customers.every_customer()]
    ways = [(p.value, words.say(language, f"progress_{p.value}")) for p in Progress]
    faults: dict[str, str] = {}
    first, last = (_day(typed, key, faults, language) for key in ("from", "to"))
    if first and last and first > last:
        faults["from"] = words.say(language, "work_bad_span")
    chosen = work.Chosen(
        customer=UUID(typed["customer"]) if typed["customer"] in dict(known) else None,
        first=first,
        last=last,
        progress=typed["progress"] if typed["progress"] in dict(ways) else "",
    )
    return Asked(language, typed, known, ways, chosen, faults)


def _day(typed: Mapping[str, str], key: str, faults: dict[str, str], language: str) -> date | None:
    if not typed[key]:
        return None
    try:
        return date.fromisoformat(typed[key])
    except ValueError:
        faults[key] = words.say(language, "work_bad_day", value=shown(typed[key], 20))
        return None
