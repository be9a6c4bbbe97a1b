"""What a mail about casings says of each: its facts as codes, names and days."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.customers import queries as customers
from pickups.customers.models import Yard
from pickups.kernel import clock
from pickups.kernel.languages import day_and_time, day_in_words, spoken
from pickups.notices import rules
from pickups.notices.models import Notice
from pickups.notices.queries import days
from pickups.notices.queries.days import Promised
from pickups.notices.queries.standing import Due
from pickups.notices.words.progress import Before, Told
from pickups.people import queries as people
from pickups.people.models import Site
from pickups.sync import queries as sync


class Beside:
    """What stands beside casings, read once for all of a mail: places, days, what was said."""

    def __init__(self, found: Sequence[Due], *, on: date) -> None:
        orders = [d.order for d in found]
        self.on = on
        self.sites: Mapping[UUID, Site] = {s.uid: s for s in people.sites()}
        yards = {w.yard for w in orders}
        self.yards: Mapping[UUID, Yard | None] = {uid: customers.yard(uid) for uid in yards}
        told = [d.before.notice_id for d in found if d.before]
        self.sent = dict(Notice.objects.filter(id__in=told).values_list("id", "sent_at"))
        self.promised: Mapping[UUID, Promised] = days.promised(orders)
        done = [d.order for d in found if rules.sort(d.news) in (rules.FINISHED, rules.READY)]
        rejected = [w for w in orders if w.customer and w.reason]
        self.rejects = customers.rejects((w.customer, w.yard) for w in rejected if w.customer)
        self.comes: Mapping[UUID, date] = days.coming(done, on=on, promised=self.promised)

    def site(self, holder: str) -> Site | None:
        """The store or plant that a holder names."""
        kind, _, uid = holder.partition(":")
        return self.sites.get(UUID(uid)) if kind in ("plant", "site", "road") else None


def in_words(found: Sequence[Due], language: str, *, at: datetime) -> list[Told]:
    """What is said of each; `at` is now."""
    language = spoken(language)
    beside = Beside(found, on=days.today(at))
    return [
        Told(
            rules.NOT_YOURS, d.before.label if d.before else "", before=_before(d, beside, language)
        )
        if rules.sort(d.news) == rules.NOT_YOURS  # nothing of a casing that is another's
        else _told(d, beside, language)
        for d in found
    ]


def _told(d: Due, beside: Beside, language: str) -> Told:
    w, sort = d.order, rules.sort(d.news)
    yard, counter = beside.yards[w.yard], w.told.get("store")
    why = d.outcome.rejection.told if d.outcome and d.outcome.rejection else {}
    lies = beside.site(w.holder) if sort == rules.READY else None
    store = lies or beside.sites.get(rules.fetched_at(w.told, site=w.site))
    promised, comes = beside.promised.get(w.uid), beside.comes.get(w.uid)
    return Told(
        sort=sort,
        label=w.label,
        size=w.told.get("size", ""),
        tin=w.told.get("tin", ""),
        yard=yard.name if yard else "",
        counter=_name(beside.sites.get(UUID(counter))) if counter else "",
        picked_up_on=_local(language, w.picked_up_at),
        place=_place(w.holder, beside),
        back_to=rules.back_to(w.told),
        store=_name(store),
        phone=(store.phone if store else "") or settings.DEALER_PHONE,
        promised=day_in_words(language, promised.on) if promised else "",
        late=promised is not None and (comes or beside.on) > promised.on,
        comes=day_in_words(language, comes) if comes else "",
        reason=why.get("reason", ""),
        zone=why.get("zone", ""),
        station=why.get("station", ""),
        cause=why.get("cause", ""),
        photos=_here(why.get("photos", [])),
        rejects=beside.rejects.get((w.customer, w.yard), "ask") if w.customer else "ask",
        before=_before(d, beside, language),
    )


def _here(photos: Sequence[str]) -> int:
    """How many of them have arrived: only those are on the customer's page."""
    return len(photos) - len(sync.missing_photos(photos)) if photos else 0


def _before(d: Due, beside: Beside, language: str) -> Before | None:
    if d.before is None:
        return None
    at = beside.sent[d.before.notice_id]
    return Before(rules.sort(d.before.news), _local(language, at) if at else "", d.before.label)


def _name(site: Site | None) -> str:
    return site.name if site else ""


def _local(language: str, at: datetime) -> str:
    return day_and_time(language, clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)))


def _place(holder: str, beside: Beside) -> tuple[str, str]:
    """Who has it, as a kind and a name; a driver's name stays in the house."""
    kind = holder.partition(":")[0]
    if kind in ("person", "customer"):
        return kind, ""
    site = beside.site(holder)
    return (kind, site.name) if site else ("", "")
