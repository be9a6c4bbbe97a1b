"""What a driver told of a run on the way, in words for the load sheet: arrived, skipped and why, a
stop of his own, what was counted and scanned, and how a delivery there ended.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from pickups.custody import queries as custody
from pickups.desk import words
from pickups.desk.queries.names import Names
from pickups.runs.happenings import AtStop, Happened

When = Callable[[datetime], str]
"""An instant as its time alone, or with its day where that is another than the sheet's."""
NAMED = 12
"""So many labels are named in a sentence; of more it says how many more."""


@dataclass(frozen=True)
class Word:
    """One sentence; tone: "good", "late" or none. photos: (what was told, number) each."""

    text: str
    tone: str = ""
    photos: Sequence[tuple[UUID, int]] = ()


def at_stop(at: AtStop, names: Names, when: When) -> list[Word]:
    """How a stop stands, or the start of the run."""
    said = []
    if at.added is not None:
        why = _typed(at.added, "why", names)
        said.append(Word(names.say("way_added_why" if why else "way_added", why=why), "late"))
    if at.arrived_at is not None:
        arrived = when(datetime.fromisoformat(at.arrived_at))
        said.append(Word(names.say("way_arrived", when=arrived), "good"))
    if at.skip is not None:
        said.append(_skipped(at.skip, names, when))
    said += [word for way in ("off", "on") if way in at.counts
             for word in _counted(at.counts[way], names, when)]  # fmt: skip
    return said


def _skipped(skip: Happened, names: Names, when: When) -> Word:
    why, note = names.say(f"way_why_{skip.told['why']}"), _typed(skip, "note", names)
    at = when(datetime.fromisoformat(skip.at))
    key = "way_skipped_note" if note else "way_skipped"
    hashes = skip.told.get("photos", [])
    photos = [(skip.uid, n) for n in range(1, len(hashes) + 1)]
    return Word(names.say(key, when=at, why=why, note=note), "late", photos)


def _typed(told: Happened, key: str, names: Names) -> str:
    """The driver's own words, or that they were erased."""
    if told.told.get("erased"):
        return names.say("words_erased")
    return names.say("quoted", text=told.told[key]) if told.told.get(key) else ""


def _counted(count: Happened, names: Names, when: When) -> list[Word]:
    told, at = count.told, when(datetime.fromisoformat(count.at))
    scanned, short, over = len(told["scanned"]), told["short"], told["over"]
    agrees = told["counted"] == scanned and not short and not over
    key = f"way_counted_{told['way']}"
    said = names.say(key, when=at, counted=told["counted"], scanned=scanned)
    found = [Word(said, "good" if agrees else "late")]
    for what, labels in (("short", short), ("over", over)):
        if labels:
            said = names.say(f"way_{what}", n=len(labels), labels=_labels(labels, names))
            found.append(Word(said, "late"))
    return found


def _labels(labels: Sequence[str], names: Names) -> str:
    first = ", ".join(words.grouped(label) for label in labels[:NAMED])
    more = len(labels) - NAMED
    return names.say("way_and_more", labels=first, n=more) if more > 0 else first


def deliveries(visits: Iterable[UUID], names: Names) -> list[Word]:
    """How deliveries ended, where there is more to say than that they did."""
    said = []
    for uid, delivery in custody.deliveries(visits).items():
        if not (delivery.nobody_there or delivery.note):
            continue
        end = custody.end_of(uid)
        hashes = end.told.get("photos", []) if end else []
        photos = [(end.uid, n) for n in range(1, len(hashes) + 1)] if end else []
        alone = names.say("way_nobody") if delivery.nobody_there else ""
        text = " ".join(part for part in (alone, delivery.note) if part)
        said.append(Word(text, "late", photos))
    return said
