"""What stands beside a casing for its owner: its places by name, what was promised, when it comes.

Read once for all casings of a page.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from uuid import UUID

from django.conf import settings

from pickups.casings import strokes
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.casings.words import is_stopped
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.notices import rules as notices
from pickups.notices.queries import days
from pickups.people import queries as people
from pickups.portal import rules, words
from pickups.portal.rules import Group, Kept
from pickups.promises.doors import risks


def group(w: WorkOrder) -> Group:
    """Where it counts."""
    return rules.group(
        w.progress, reason=w.reason, on_hold=w.on_hold, at=_at(w), dealers=w.casing.dealers
    )


def state(w: WorkOrder) -> str:
    """The key of the word for where it stands, or for what made it the dealer's."""
    if w.casing.dealers:
        return w.casing.dealers
    if w.progress == Progress.RETURNED and w.holder != f"customer:{w.customer}":
        return "astray"  # handed to somebody, and not to its owner as far as we know
    return rules.state(w.progress, reason=w.reason, on_hold=w.on_hold, at=_at(w))


def rejected(w: WorkOrder) -> bool:
    """Whether it waits, rejected, for its owner's word."""
    return rules.is_rejected(w.progress, w.reason) and not w.casing.dealers


def stopped(w: WorkOrder) -> bool:
    """Whether damage that stops a casing was seen on it, and the plant has yet to judge it."""
    open_yet = w.progress in (Progress.PICKED_UP, Progress.RECEIVED, Progress.IN_WORK)
    return open_yet and is_stopped(w.told)


def said(w: WorkOrder, language: str) -> str:
    """Where it stands; of what is the dealer's since when."""
    since = w.casing.owned_since if w.casing.dealers else None
    day = day_in_words(language, days.today(since)) if since else ""
    return words.say(language, f"state_{state(w)}", day=day)


def sign(w: WorkOrder) -> strokes.Sign:
    """Its strokes."""
    rejected = rules.is_rejected(w.progress, w.reason)
    return strokes.sign(w.progress, on_hold=w.on_hold, rejected=rejected)


def _at(w: WorkOrder) -> str:
    return notices.at_start(w.holder, site=w.site, told=w.told)


class Beside:
    """Of these casings; everything is said in one language."""

    def __init__(self, orders: Sequence[WorkOrder], language: str) -> None:
        self.language = language
        self._today = days.today(clock.now())
        self._sites = {s.uid: s for s in people.sites()}
        self._yards = customers.yard_bodies([w.yard for w in orders])
        going = [w for w in orders if group(w) not in (Group.BACK, Group.OURS)]
        done = [w for w in going if group(w) in (Group.READY, Group.FINISHED) and not w.on_hold]
        self._rejects = customers.rejects(
            (w.customer, w.yard) for w in going if w.customer and group(w) is Group.REJECTED
        )
        self._promised = days.promised(orders)
        self._comes: Mapping[UUID, date] = days.coming(
            done, on=self._today, promised=self._promised
        )
        inside = (w.uid for w in going if risks.is_open(w))
        self._risks = risks.of(inside, at=clock.now())

    def yard(self, w: WorkOrder) -> str:
        """Where it was picked up, and comes back to if nobody fetches it."""
        return str(self._yards[w.yard]["name"])

    def place(self, holder: str) -> str:
        """The store or plant that a holder names; never a person of ours."""
        kind, _, uid = holder.partition(":")
        known = self._sites.get(UUID(uid)) if kind in ("plant", "road", "site") else None
        return known.name if known else words.of(self.language)["our_plant"]

    def store(self, w: WorkOrder) -> tuple[str, str]:
        """Where its owner fetches it, with the number to call."""
        lies = w.holder.partition(":")[2] if group(w) is Group.READY else ""
        uid = UUID(lies) if lies else notices.fetched_at(w.told, site=w.site)
        site = self._sites.get(uid)
        phone = (site.phone if site else "") or settings.DEALER_PHONE
        return (site.name if site else settings.DEALER_NAME), phone

    def taken(self, w: WorkOrder, when: str) -> str:
        """Where it came to us, and when."""
        store = w.told.get("store")
        if not store:
            return words.say(self.language, "picked_up_at", when=when, yard=self.yard(w))
        place = self.place(f"site:{store}")
        return words.say(self.language, "dropped_off_at", when=when, place=place)

    def rejects(self, w: WorkOrder) -> str:
        """What its owner's specification says of one that is rejected: "ask" where none does."""
        return self._rejects[w.customer, w.yard] if w.customer else "ask"

    def next_step(self, w: WorkOrder) -> str:
        """In the list: where it is fetched, or when it comes; empty where nobody can say yet. Of
        one that is rejected what is done with it."""
        if group(w) is Group.REJECTED:
            return words.say(self.language, f"rejects_{self.rejects(w)}")
        name, _ = self.store(w)
        way = notices.back_to(w.told)
        if _at(w).startswith("store") and group(w) is Group.READY:
            return words.say(self.language, "fetch_at", place=name)
        if w.uid not in self._comes:
            return ""
        key = "goes_out" if group(w) is Group.READY else f"comes_{way}"
        return words.say(self.language, key, day=self._day(self._comes[w.uid]), place=name)

    def where_ready(self, w: WorkOrder) -> str:
        """In the story, of one that is ready or finished: where it is and what comes next."""
        name, phone = self.store(w)
        key = f"where_{state(w)}_{notices.back_to(w.told)}"
        comes = self._comes.get(w.uid)
        key += "_on" if comes and f"{key}_on" in words.of(self.language) else ""
        return words.say(
            self.language,
            key,
            place=name,
            phone=phone,
            yard=self.yard(w),
            day=self._day(comes) if comes else "",
        )

    def promise(self, w: WorkOrder, *, basis: bool = False) -> tuple[str, bool]:
        """What was promised, where asked with what that day was named on, and whether it is or
        will be broken; nothing of what is rejected or back."""
        promised, comes = self._promised.get(w.uid), self._comes.get(w.uid)
        over = w.progress == Progress.RETURNED or rules.is_rejected(w.progress, w.reason)
        over = over or bool(w.casing.dealers)
        if promised is None or over:
            return "", False
        at, risk = _at(w) if group(w) is Group.READY else "", self._risks.get(w.uid)
        risky = risk is not None and risk.since is not None and risk.on == promised.on
        kept = rules.kept(promised.on, today=self._today, comes=comes, at=at, risky=risky)
        said = words.say(self.language, str(kept), day=self._day(promised.on))
        # The basis is that of the day it stands beside, not of another that is named after it.
        said = words.say(self.language, promised.basis, promise=said) if basis else said
        said = words.say(self.language, "if_accepted", promise=said) if stopped(w) else said
        if kept is Kept.MAY_BE_LATE and risk is not None and risk.expected:
            day = self._day(risk.expected)
            said = words.say(self.language, "more_likely", promise=said, day=day)
        if promised.first is not None:
            day = self._day(promised.first)
            said = words.say(self.language, "first_promised", promise=said, day=day)
        return said, kept is not Kept.OPEN

    def promise_with_basis(self, w: WorkOrder, *, back: date | None) -> tuple[str, bool]:
        """The same with the basis; of one that is back too, which came back on the day `back`,
        where that is known."""
        promised = self._promised.get(w.uid)
        if promised is None or w.progress != Progress.RETURNED or w.reason:
            return self.promise(w, basis=True)
        late = back is not None and back > promised.on and notices.back_to(w.told) == "yard"
        said = words.say(
            self.language, str(Kept.LATE if late else Kept.OPEN), day=self._day(promised.on)
        )
        return words.say(self.language, promised.basis, promise=said), late

    def _day(self, day: date) -> str:
        return day_in_words(self.language, day)
