"""The plant's forecast as its page shows it: as many queries however many casings are inside."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import Any
from uuid import UUID

from django.urls import reverse

from pickups.kernel import clock
from plant.dock import queries as dock
from plant.dock.models import Station
from plant.floor import words
from plant.floor.queries.route import name
from plant.forecast import queries
from plant.forecast.doors import LEAST, SAID, WAIT_H
from plant.forecast.models import Forecast, Learned

LATELY = timedelta(weeks=4)
HISTORY = 8
"""So many days on which a station was learned to be otherwise are listed."""
NINETY = SAID.index(0.9)


@dataclass(frozen=True, slots=True)
class Lacks:
    """One thing that has to be entered, and the page on which it is."""

    said: str
    at: str


@dataclass(frozen=True, slots=True)
class Line:
    """One station: what was entered, learned and reckoned with."""

    name: str
    entered: str
    learned: list[str]
    used: str
    here: int
    history: list[str]


@dataclass(frozen=True, slots=True)
class Arrives:
    """When a casing that arrives is finished: at 50, 90 and 99 of a hundred."""

    said: str
    by: list[str]


@dataclass(frozen=True, slots=True)
class Page:
    """All that the page says."""

    computed: str = ""
    failed: str = ""
    missing: list[Lacks] = field(default_factory=list)
    arrives: list[Arrives] = field(default_factory=list)
    corrected: list[str] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    rests: list[str] = field(default_factory=list)


def page(plant: UUID, language: str, *, at: datetime) -> Page:
    """The plant's last forecast, or why there is none."""
    stands = queries.forecast(plant)
    if stands is None or (stands.at is None and not stands.missing and stands.failed_at is None):
        return Page(computed=words.of(language)["fc_none"])
    stations = {one.code: one for one in dock.stations(plant)}
    done = stands.at is not None
    return Page(
        computed=_computed(stands, language),
        failed=_failed(stands, language),
        missing=_missing(stands, stations, plant, language),
        arrives=_arrives(stands, language, at) if done else [],
        corrected=_corrected(stands, plant, language, at) if done else [],
        lines=_lines(stands, stations, plant, language),
        rests=_rests(stands.said, language) if done else [],
    )


def _when(at: datetime, language: str) -> str:
    return words.day_and_time(language, clock.local(at, queries.zone()))


def _computed(stands: Forecast, language: str) -> str:
    if stands.at is None:
        return ""
    took = f"{stands.took_ms / 1000:.1f}"
    return words.say(language, "fc_computed", when=_when(stands.at, language), took=took,
                     inside=stands.said["inside"])  # fmt: skip


def _failed(stands: Forecast, language: str) -> str:
    if stands.failed_at is None:
        return ""
    key = "fc_failed_first" if stands.at is None else "fc_failed"
    return words.say(language, key, when=_when(stands.failed_at, language))


def _missing(
    stands: Forecast, stations: Mapping[str, Station], plant: UUID, language: str
) -> list[Lacks]:
    found = []
    ovens = {one.code: one for one in dock.chambers(plant)}
    for what, where in stands.missing:
        station, oven = stations.get(where), ovens.get(where)
        called = name(station, language) if station else oven.name if oven else where
        found.append(
            Lacks(
                words.say(language, f"fc_missing_{what}", name=called),
                _entered_at(what, plant, station.pk if station else oven.pk if oven else None),
            )
        )
    return found


def _entered_at(what: str, plant: UUID, row: int | None) -> str:
    """The page of the records on which it is entered."""
    if what == "route":
        return reverse("plant-route")
    if what == "shifts":
        return reverse("admin:dock_calendar_change", args=[plant])
    if what == "cycle" and row:
        return reverse("admin:dock_station_change", args=[row])
    if what == "chamber_cycle" and row:
        return reverse("admin:dock_chamber_change", args=[row])
    model = "calendar" if what == "calendar" else "chamber"
    return reverse(f"admin:dock_{model}_add") + f"?plant={plant}"


def _arrives(stands: Forecast, language: str, at: datetime) -> list[Arrives]:
    today = clock.local(at, queries.zone()).date()
    found = []
    for one in stands.said["arrive"]:
        on = date.fromisoformat(one["on"])
        days = {today: "fc_today", today + timedelta(days=1): "fc_tomorrow"}
        day = words.of(language)[days[on]] if on in days else words.day_in_words(language, on)
        work = words.of(language)[f"fc_work_{one['work']}"]
        by = [_when(datetime.fromisoformat(by), language) for by in one["by"] or ()]
        never = [words.of(language)["fc_never"]] * len(SAID)
        found.append(Arrives(words.say(language, "fc_which", work=work, day=day), by or never))
    return found


def _corrected(stands: Forecast, plant: UUID, language: str, at: datetime) -> list[str]:
    past = queries.kept(plant, since=at - LATELY)
    kept = sum(took <= said[NINETY] for took, said in past)
    said = [
        words.say(language, "fc_kept", n=len(past), percent=round(100 * kept / len(past)))
        if past
        else words.of(language)["fc_kept_none"]
    ]
    kinds = stands.said["corrected"]["kinds"]
    said += [
        words.say(language, "fc_corrects", n=one["n"],
                  kind=words.of(language)[f"fc_kind_{one['kind']}"])
        for one in kinds
    ]  # fmt: skip
    if not kinds:
        n = stands.said["corrected"]["n"]
        said.append(words.say(language, "fc_corrects_none", n=n, least=LEAST))
    return said


def _lines(
    stands: Forecast, stations: Mapping[str, Station], plant: UUID, language: str
) -> list[Line]:
    before: dict[str, list[Learned]] = {}
    for row in queries.history(plant):
        before.setdefault(row.station, []).append(row)
    left_out = stands.said.get("left_out", [])
    return [
        Line(
            name=name(stations[one["code"]], language),
            entered=_entered(stations[one["code"]], language),
            learned=_learned(one["learned"], language),
            used=_used(one, left_out, language),
            here=one["here"],
            history=_history(before.get(one["code"], [])[1 : HISTORY + 1], language),
        )
        for one in stands.said.get("stations", [])
        if one["code"] in stations
    ]


def _entered(station: Station, language: str) -> str:
    said = [
        words.say(language, "fc_min", n=station.cycle_min)
        if station.cycle_min
        else words.of(language)["fc_not_entered"]
    ]
    if station.machines > 1:
        said.append(words.say(language, "fc_machines", n=station.machines))
    if station.batch > 1:
        said.append(words.say(language, "fc_at_once", n=station.batch))
    return ", ".join(said)


def _learned(told: Mapping[str, Any] | None, language: str) -> list[str]:
    if told is None or not told["n"]:
        return [words.of(language)["fc_not_learned"]]
    said = []
    if told["mean_h"]:
        key = "fc_from" if told["machines"] is None else "fc_delay"
        said.append(words.say(language, key, time=_time(told["mean_h"], language), n=told["n"]))
    if told["reject"] or told["rework"]:
        shares = {name: f"{100 * told[name]:.2g}" for name in ("reject", "rework")}
        said.append(words.say(language, "fc_shares", n=told["n"], **shares))
    if told["drift"]:
        said.append(words.of(language)["fc_drift"])
    return said or [words.of(language)["fc_not_learned"]]


def _used(one: Mapping[str, Any], left_out: Sequence[str], language: str) -> str:
    if one["code"] in left_out:
        return words.of(language)["fc_left_out"]
    if one["mean_h"] is None:
        return words.of(language)["fc_no_part"]
    if not one["mean_h"]:
        return words.of(language)["fc_by_loads"]
    return _time(one["mean_h"], language)


def _time(hours: float, language: str) -> str:
    if hours < 2:
        return words.say(language, "fc_min", n=max(1, round(hours * 60)))
    return words.say(language, "fc_hours", n=f"{hours:.1f}")


def _history(rows: Sequence[Learned], language: str) -> list[str]:
    return [
        words.say(language, "fc_history_line", day=words.day_in_words(language, row.on),
                  time=_time(row.figures["mean_h"], language))
        for row in rows
        if row.figures["mean_h"]
    ]  # fmt: skip


def _rests(told: Mapping[str, Any], language: str) -> list[str]:
    said = [
        words.say(language, "fc_rests_known", n=told["known"]),
        words.say(language, "fc_rests_week", n=round(told["a_week"])),
    ]
    if told["on_hold"]:
        said.append(words.say(language, "fc_rests_hold", n=told["on_hold"]))
    if told["unsure"]:
        said.append(words.say(language, "fc_rests_unsure", n=told["unsure"]))
    if told["lost"]:
        said.append(words.say(language, "fc_rests_lost", n=told["lost"], days=told["lost_days"]))
    said.append(words.say(language, "fc_rests_wait", n=round(WAIT_H)))
    return [*said, words.of(language)["fc_rests_not"]]
