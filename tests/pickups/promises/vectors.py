"""Tables to be read by both languages, made by the server's own rule; and the file of them.

`python -m tests.pickups.promises.vectors` writes fixtures/vectors/offers.json anew.
"""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from pickups.kernel import clock
from pickups.promises import offering, rules
from pickups.promises.finishing import ALL_SIZES, GROUPS
from pickups.promises.offering import Asked, Forecast, Reached
from pickups.promises.rules import STORE, Calendar, Plant, Trucks
from tests.pickups.promises.foretold import CHICAGO, DAY_MIN
from tests.pickups.promises.trucks import OTHER, START, YARD

MADE = datetime(2026, 4, 20, 12, tzinfo=UTC)  # a Monday, 7:00 in Chicago
DAY = timedelta(days=1)
SIZES = (ALL_SIZES, "light", "standard", "wide")
FILE = Path("fixtures/vectors/offers.json")


def plant(yards: dict[str, list[int]] | None = None) -> Plant:
    """Trucks to it on Monday, Wednesday and Friday, from it daily; closed on Friday 1 May 2026."""
    trucks = Trucks([0, 2, 4], [0, 1, 2, 3, 4], yards or {YARD: [0, 1, 3, 4], OTHER: []})
    works = {"retread": 5, "repair": 2}
    return Plant(works, Calendar(range(5), [(START + 11 * DAY)]), trucks)


def told(*, courses: int = 200) -> Forecast:
    """Retreads take three days and a tail, wide ones two days longer, the last of a group more."""
    arrivals = {
        (work, of_size, START + n * DAY, group): [
            (n + base + 2 * (of_size == "wide") + group // 5) * DAY_MIN + 33 * course
            for course in range(courses)
        ]
        for work, base in (("retread", 3), ("repair", 1))
        for of_size in SIZES
        for group in GROUPS
        for n in range(21)
    }
    ahead = [
        {"station": "shearography", "name": "Shearography", "name_es": "Shearografía", "count": 14},
        {"station": "curing", "name": "Curing", "name_es": "Vulcanizado", "count": 22},
        {"station": "paint", "name": "Paint", "name_es": "Pintura", "count": 0},
    ]
    return Forecast(MADE, MADE, MADE + DAY, arrivals, ahead)


def table(yards: dict[str, list[int]], percents: list[int]) -> dict[str, Any]:
    """A store's table as a phone gets it."""
    plants = [Reached(plant(yards), told())]
    zone = CHICAGO
    forecast = offering.table(START, plants=plants, runs=yards, percents=percents, zone=zone)
    places = rules.offers(START, plants=[p.plant for p in plants], places=[STORE, *yards])
    return {
        "computed_on": START.isoformat(),
        "valid_until": (START + 13 * DAY).isoformat(),
        "version": 7,
        "places": places,
        "forecast": forecast,
        "stock": [],
    }


def two_hundred_yards() -> dict[str, Any]:
    """What a store with as many yards gives its phones, with three accounts of their own figure."""
    yards = {f"01960000-0000-7000-8000-{n:012x}": sorted({n % 5, (n // 5) % 5}) for n in range(200)}
    return table(yards, [75, 85, 95])


def _cases() -> list[dict[str, Any]]:
    now, ended = clock.rfc3339(MADE), clock.rfc3339(MADE + DAY)
    usual: dict[str, Any] = {
        "table": "usual",
        "work": "retread",
        "size_class": "standard",
        "count": 1,
        "percent": 90,
        "place": YARD,
        "handed_over": START.isoformat(),
        "now": now,
    }
    changes: list[tuple[str, dict[str, Any]]] = [
        ("as asked", {}),
        ("at the store", {"place": STORE}),
        ("half", {"percent": 50}),
        ("nearly all", {"percent": 99}),
        ("a confidence between two of the table", {"percent": 81}),
        ("surer than any table", {"percent": 100}),
        ("wide", {"size_class": "wide"}),
        ("a class that the table does not have", {"size_class": "huge"}),
        ("of no class", {"size_class": ""}),
        ("two", {"count": 2}),
        ("fourteen, read as twenty", {"count": 14}),
        ("fifty", {"count": 50}),
        ("fifty-one are more than any", {"count": 51}),
        ("a repair", {"work": "repair"}),
        ("a work that no plant does", {"work": "polish"}),
        ("a yard to which no truck goes", {"place": OTHER}),
        ("a yard that the table does not know", {"place": "moon"}),
        ("the day after", {"handed_over": "2026-04-21"}),
        ("back over a day on which the plant is closed", {"handed_over": "2026-04-24"}),
        ("the last day told", {"handed_over": "2026-05-03"}),
        ("a day after the last", {"handed_over": "2026-05-04"}),
        ("a day before the first", {"handed_over": "2026-04-19"}),
        ("a moment before it ends", {"now": clock.rfc3339(MADE + DAY - timedelta(seconds=1))}),
        ("at its end", {"now": ended}),
        ("without a forecast", {"table": "none"}),
        ("as asked, of few groups", {"table": "few"}),
        ("five, of few groups", {"table": "few", "count": 5}),
        ("a day that is open", {"table": "few", "handed_over": "2026-04-21"}),
        ("too far to be promised", {"table": "few", "handed_over": "2026-04-22"}),
        ("at the store in time, the run too far", {"table": "few", "handed_over": "2026-04-23"}),
        (
            "at the store on the last day",
            {"table": "few", "handed_over": "2026-04-23", "place": STORE},
        ),
    ]
    cases = []
    for about, change in changes:
        case = usual | change
        asked = Asked(case["work"], case["size_class"], case["count"], case["percent"])
        handed = datetime.fromisoformat(case["handed_over"]).date()
        body = TABLES[case["table"]]
        on = offering.read(body, asked, place=case["place"], handed_over=handed, now=case["now"])
        cases.append({"about": about, **case, "on": on})
    return cases


_USUAL = table({YARD: [0, 1, 3, 4], OTHER: []}, [80])
_FORECAST: dict[str, Any] = _USUAL["forecast"]
TABLES: dict[str, dict[str, Any]] = {
    "usual": _USUAL,
    "none": _USUAL | {"forecast": None},
    "few": _USUAL
    | {
        "forecast": _FORECAST
        | {
            "percents": [90],
            "days": {"retread": {ALL_SIZES: {"1": [[9, None, False, 120]], "2": [[10, 11]]}}},
        }
    },
}

if __name__ == "__main__":
    about = "Offers by forecast: a table as phones carry it, and what is read from it."
    written = {"about": about, "tables": TABLES, "cases": _cases()}
    FILE.write_text(json.dumps(written, ensure_ascii=False, separators=(",", ":")) + "\n")
