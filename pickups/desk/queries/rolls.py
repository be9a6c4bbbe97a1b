"""The rolls of labels that were printed, who has them, and how many of each are on casings."""

from dataclasses import dataclass

from pickups.casings import queries as casings
from pickups.custody import queries as custody
from pickups.desk import words
from pickups.desk.queries.names import Names
from pickups.kernel.languages import day_in_words
from pickups.labels import queries as labels
from pickups.labels.models import Allocation, Roll, Trial
from pickups.people import queries as people
from pickups.people.models import Site, User

SHOWN = 40
"""How many of the rolls printed last are shown."""


@dataclass(frozen=True)
class Row:
    """A roll as the office reads it. holder: whose it is now; holder_uid is empty where that is its
    store; seen: the word that says so; before: who had it, the newest first; drivers: who may get
    it; gone_uid: the holder, where he is no driver of that store any more."""

    id: int
    store: str
    printed: str
    span: str
    each: str
    material: str
    used: str
    holder: str
    holder_uid: str
    seen: str
    before: list[str]
    drivers: list[User]
    gone_uid: str


def rolls(language: str) -> list[Row]:
    """The rolls printed last, the newest first."""
    names, found = Names(language), labels.newest_rolls(SHOWN)
    codes = labels.codes_by_roll(found)
    every = [code for each in codes.values() for code in each]
    worn = casings.worn(every) | custody.replaced(every)
    told, everyone = labels.allocations(found), drivers()
    made = []
    for roll in found:
        given, here = told[roll.pk], [one for one in everyone if one.site_id == roll.site_id]
        holder = given[0].holder if given else None
        own = codes[roll.pk]
        used = sum(code in worn for code in own)
        key = "roll_used_said" if used < len(own) else "roll_used_all"
        made.append(
            Row(
                roll.pk,
                roll.site.name,
                names.when(roll.printed_at),
                _span(own, names),
                names.say("roll_twice" if roll.twins else "roll_once"),
                roll.stock.name if roll.stock else names.say("roll_material_unsaid"),
                names.say(key, used=used, n=len(own)),
                str(holder or names.say("roll_of_store")),
                str(holder.uid) if holder else "",
                str(given[0].pk) if given else "",
                [_given(one, names) for one in given],
                here,
                str(holder.uid) if holder and holder not in here else "",
            )
        )
    return made


@dataclass(frozen=True)
class Material:
    """A stock of labels, what it is meant for, and what its trials were; nothing is claimed."""

    id: int
    name: str
    use: str
    note: str
    trials: list[str]


def materials(language: str) -> list[Material]:
    """What labels are printed on, each with its trials, the newest first."""
    names = Names(language)
    return [
        Material(
            m.pk,
            m.name,
            names.say(f"use_{m.use}"),
            m.note,
            [_trial(t, names) for t in m.trials.all()],
        )
        for m in labels.stocks()
    ]


def _trial(t: Trial, names: Names) -> str:
    """One trial in a sentence: when, who, what it was put through, what became of it."""
    through = []
    if t.degrees_c is not None:
        through.append(names.say("trial_heat", degrees=t.degrees_c, minutes=t.minutes))
    if t.paint:
        through.append(names.say("trial_paint", paint=t.paint))
    on = day_in_words(names.language, t.on)
    outcome = names.say(f"trial_{t.outcome}")
    said = names.say("trial_said", on=on, by=t.by, through=", ".join(through), outcome=outcome)
    return f"{said} {names.say('quoted', text=t.note)}" if t.note else said


def _given(one: Allocation, names: Names) -> str:
    """One word of who got a roll, in a sentence."""
    key = "roll_went_to" if one.holder else "roll_went_back"
    return names.say(key, who=one.holder, by=one.by, when=names.when(one.at))


def holding(code: str, names: Names) -> str:
    """Whose roll a label comes from, in a sentence; empty where we did not print it."""
    roll = labels.roll_of(code)
    if roll is None:
        return ""
    newest = labels.allocation(roll)
    if newest is None or newest.holder is None:
        return names.say("label_of_store", store=roll.site.name)
    when = names.when(newest.at)
    return names.say("label_of_driver", who=newest.holder, store=roll.site.name, when=when)


def span(roll: Roll, language: str) -> str:
    """A roll as it is called: how many labels, the first and the last."""
    return _span(labels.codes_of(roll), Names(language))


def drivers() -> list[User]:
    """Who may get a roll, store by store."""
    return [driver for store in stores() for driver in people.drivers(store.uid)]


def _span(codes: list[str], names: Names) -> str:
    first, last = (words.grouped(code, 4) for code in (codes[0], codes[-1]))
    key = "roll_span_said" if len(codes) > 1 else "roll_span_one"
    return names.say(key, n=len(codes), first=first, last=last)


def stores() -> list[Site]:
    """For whom a roll can be printed."""
    return [site for site in people.sites() if site.kind == "store"]
