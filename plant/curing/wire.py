"""What is told of a cure load, by a plant's system or on its tablet, and its record. Pure."""

from datetime import datetime
from typing import Annotated, Literal
from uuid import UUID

import msgspec

from pickups.custody.wire import Note
from pickups.kernel.wire import Fault, Malformed, instant
from pickups.sync.wire import Instant
from plant.curing.series import MOST_READINGS
from plant.inspection.wire import Lot, Operator

LoadNumber = Annotated[str, msgspec.Meta(min_length=1, max_length=40, examples=["2026-07-14-2"])]
"""The plant's own number of a load, once for ever: casings are traced by it."""
Chamber = Annotated[str, msgspec.Meta(max_length=40)]
Lots = Annotated[list[Lot], msgspec.Meta(max_length=20)]


class CureLoad1(msgspec.Struct, forbid_unknown_fields=True):
    """One word about a load, told on a tablet; of several the newest stands.

    chamber, lots, operator and note that are null or absent are not said: they stay as the newest
    word that says them left them. load: its id, made by whoever told of it first or, of a load that
    is here already, the one under which it is shown. A newer word of one id may give another
    number. chamber: the plant's code.
    """

    load: UUID
    number: LoadNumber
    chamber: Chamber | None = None
    started_at: Instant | None = None
    ended_at: Instant | None = None
    lots: Lots | None = None
    operator: Operator | None = None
    note: Note | None = None

    def __post_init__(self) -> None:
        """Moments in UTC, the end not before the start."""
        self.started_at, self.ended_at = _run(self.started_at, self.ended_at)
        _number(self.number)


class LoadPosted(msgspec.Struct, forbid_unknown_fields=True):
    """One word about a load from a plant's system. `id`: the sender's, unique for the plant.

    told_at: when it was so; of two words about one load the later told_at stands. chamber, lots,
    operator and note that are null or absent are not said: they stay as the newest word that says
    them left them; "" or [] says that there is none.
    """

    id: UUID
    number: LoadNumber
    told_at: Instant
    chamber: Chamber | None = None
    started_at: Instant | None = None
    ended_at: Instant | None = None
    lots: Lots | None = None
    operator: Operator | None = None
    note: Note | None = None

    def __post_init__(self) -> None:
        """Moments in UTC, the end not before the start."""
        self.told_at = instant(self.told_at, "told_at")
        self.started_at, self.ended_at = _run(self.started_at, self.ended_at)
        _number(self.number)


class ReadingPosted(msgspec.Struct, forbid_unknown_fields=True):
    """What the gauges showed at one moment, in the units of the series."""

    at: Instant
    temperature: float | None = None
    pressure: float | None = None


class RecordPosted(msgspec.Struct, forbid_unknown_fields=True):
    """A series of readings, each later than the one before. Pressures are gauge pressures."""

    temperature_unit: Literal["c", "f"]
    readings: Annotated[list[ReadingPosted], msgspec.Meta(min_length=2, max_length=MOST_READINGS)]
    pressure_unit: Literal["kpa", "psi", "bar"] = "kpa"

    def __post_init__(self) -> None:
        """Moments in UTC."""
        for i, reading in enumerate(self.readings):
            reading.at = instant(reading.at, f"readings[{i}].at")


class SetIn(msgspec.Struct):
    """A casing that went in, and the envelope or hook that it was in."""

    label: str
    envelope: str


class RecordSaid(msgspec.Struct):
    """What a record showed: °C, kPa (gauge), minutes. grounds: why it fell short."""

    verdict: Literal["short", "meets", "no_terms", "no_record"]
    grounds: list[str]
    specification: int | None
    lowest_c: float | None
    highest_c: float | None
    lowest_kpa: float | None
    highest_kpa: float | None
    minutes_in_range: float | None
    gaps: int
    equivalent_minutes: float | None


class LoadSaid(msgspec.Struct):
    """A load as it stands. missing: went in and was not seen to come out."""

    number: str
    state: Literal["setting", "in", "out", "held", "released"]
    chamber: str
    started_at: str | None
    ended_at: str | None
    operator: str
    lots: list[Lot]
    set_in: list[SetIn]
    set_out: list[str]
    missing: list[str]
    record: RecordSaid


class LoadAnswer(msgspec.Struct):
    """What became of a word or a record."""

    number: str
    outcome: Literal["accepted"] = "accepted"
    repeat: bool = False


class TracedSaid(msgspec.Struct):
    """One casing as it stands. owner: a name, empty where it is not known or the dealer's own.
    corrected: what was asked for was told of its load earlier and was corrected since. progress:
    how far it has come; holder: `plant:`, `site:`, `customer:`, `person:` or `road:` and
    an id."""

    label: str
    labels: list[str]
    owner: str
    dealers: bool
    holder: str
    progress: str
    station: str
    corrected: bool = False


class LifeSaid(msgspec.Struct):
    """What touched one casing. mates: labels by the number of the load that it shared with them."""

    loads: list[str]
    lots: list[Lot]
    operators: list[str]
    machines: list[str]
    mates: dict[str, list[str]]


class TraceSaid(msgspec.Struct):
    """What a trace found; life: of a trace by label or TIN that fits one casing. more: there are
    further casings: narrow it."""

    casings: list[TracedSaid]
    more: bool = False
    life: LifeSaid | None = None


def _run(
    started_at: datetime | None, ended_at: datetime | None
) -> tuple[datetime | None, datetime | None]:
    started = instant(started_at, "started_at") if started_at else None
    ended = instant(ended_at, "ended_at") if ended_at else None
    if started and ended and ended < started:
        allowed = "not before started_at"
        raise Malformed(Fault("ended_at", ended.isoformat(), allowed))
    return started, ended


def _number(number: str) -> None:
    if number != number.strip() or "/" in number or not number.isprintable():
        allowed = "printable, without a slash and without space at its ends"
        raise Malformed(Fault("number", number, allowed))
