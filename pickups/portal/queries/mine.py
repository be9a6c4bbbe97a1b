"""The customer's own casings: how many stand where, the list, and what a search finds."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from django.conf import settings
from django.db.models import Q

from pickups.casings import queries as casings
from pickups.casings import strokes
from pickups.casings.models import WorkOrder
from pickups.casings.words import Sayer
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words, grouped, of_how_many
from pickups.labels import rules as labels
from pickups.notices.queries import days
from pickups.notices.queries.together import together
from pickups.portal import rules, words
from pickups.portal.queries import beside, stop_use
from pickups.portal.queries.beside import Beside
from pickups.portal.queries.times import local
from pickups.portal.rules import Group
from pickups.promises.doors import accounting, accounts

PAGE = 100
BACK = 100
"""How many of those that are back, and of those that are ours, are listed; search finds the older
ones."""
KEPT_DAYS = 365
"""How far back it is told how many promises were kept."""
PICKUPS = 5
"""Of how many pickups it is said when all of them are back."""
LINES = 20
"""How many lines of scrap and of what stayed are listed, the latest."""


@dataclass(frozen=True)
class Line:
    """One casing in the list."""

    work_order: UUID
    label: str
    sign: strokes.Sign
    rejected: bool
    stopped: bool
    stop_use: bool
    said: str
    next_step: str
    promise: str
    late: bool
    marks: str
    picked_up: str
    heard: str


@dataclass(frozen=True)
class Section:
    """The casings of one group, with its heading."""

    group: Group
    heading: str
    lines: Sequence[Line]


@dataclass(frozen=True)
class Counted:
    """Scrap that was counted, or a casing that stayed: where and when, what, and why."""

    when: str
    said: str
    more: Sequence[str]


@dataclass(frozen=True)
class Mine:
    """The whole page."""

    summary: str
    sections: Sequence[Section]
    pages: int
    said_page: str
    before: int
    after: int
    older: bool
    counted: Sequence[Counted] = ()
    together: Sequence[str] = ()
    kept: str = ""


@dataclass(frozen=True)
class Found:
    """What a search found, or what was wrong with it."""

    said: str
    fault: bool
    lines: Sequence[Line]


def mine(customer: UUID, language: str, *, page: int = 1) -> Mine:
    """What is with us and what came back, what needs the customer's word first."""
    known = casings.of_customer(customer)
    theirs, over = Q(casing__dealers=""), Q(progress="returned")
    orders = list(known.filter(theirs).exclude(over))
    back = list(known.filter(theirs, over)[: BACK + 1])
    ours = list(known.exclude(theirs)[:BACK])
    counts = dict.fromkeys(Group, 0)
    for order in orders:
        counts[beside.group(order)] += 1
    ranked = sorted(orders, key=lambda w: list(Group).index(beside.group(w)))  # newest first
    shown = [*ranked, *back[:BACK], *ours]
    pages = max(1, -(-len(shown) // PAGE))
    page = min(max(1, page), pages)
    here = shown[(page - 1) * PAGE : page * PAGE]
    lines = dict(zip(here, _lines(here, customer, language), strict=True))
    return Mine(
        summary=words.summary(language, counts),
        sections=[
            Section(group, words.of(language)[f"heading_{group}"], mine_here)
            for group in Group
            if (mine_here := [line for w, line in lines.items() if beside.group(w) is group])
        ],
        pages=pages,
        said_page=words.say(language, "page_of", page=page, pages=pages),
        before=page - 1,
        after=page + 1 if page < pages else 0,
        older=len(back) > BACK,
        counted=_counted(customer, language) if page == pages else [],
        together=_together(orders, back, language) if page == 1 else [],
        kept=_kept(customer, language) if page == pages else "",
    )


def _together(orders: Sequence[WorkOrder], back: Sequence[WorkOrder], language: str) -> list[str]:
    """When all of a pickup are back, the latest first; of one alone its own line says it."""
    pickups: dict[UUID, list[WorkOrder]] = {}
    for order in orders:
        pickups.setdefault(order.pickup, []).append(order)
    open_ones = [uid for uid, each in pickups.items() if len(each) > 1][:PICKUPS]
    for order in back:
        if order.pickup in open_ones:
            pickups[order.pickup].append(order)
    beside_them = Beside([pickups[uid][0] for uid in open_ones], language)
    at, said = clock.now(), []
    for uid in open_ones:
        first = pickups[uid][0]
        group = together(pickups[uid], at=at)
        if group is None or group.on is None:
            continue
        taken = beside_them.taken(first, local(language, first.picked_up_at))
        day = day_in_words(language, group.on)
        odds = words.say(language, "odds", **of_how_many(group.percent))
        key, known = "together_some" if group.unknown else "together_on", group.of - group.unknown
        counts = {"n": known, "of": group.of} if group.unknown else {"n": known}
        parts = [words.say(language, key, taken=taken, day=day, odds=odds, **counts)]
        if group.unknown:
            parts.append(words.say(language, "together_unknown", n=group.unknown))
        if group.back:
            parts.append(words.say(language, "together_back", n=group.back))
        parts += [
            words.say(language, "together_pair", one=grouped(one), other=grouped(other))
            for one, other in group.pairs
        ]
        said.append(" ".join(parts))
    return said


def _kept(customer: UUID, language: str) -> str:
    """How many of our promises to them were kept, as first told; nothing where none counts yet."""
    today = days.today(clock.now())
    told = accounts.counted(
        since=today - timedelta(days=KEPT_DAYS), until=today, today=today, customer=customer
    )
    share = accounting.shared(one.first for one in told)
    if share.share is None:
        return ""
    said = {"of": share.of, "kept": share.kept, "share": round(100 * share.share)}
    return words.say(language, "our_promises_kept", months=KEPT_DAYS // 30, **said)


def _counted(customer: UUID, language: str) -> list[Counted]:
    """No casings that wait: what was scrap, and what was left with the customer."""
    lines, sayer = custody.lines_of(customer, most=LINES), Sayer(language, settings.DEALER_CURRENCY)
    yards = customers.yard_bodies([v.yard for v in lines])
    made = []
    for v in lines:
        when, yard = local(language, v.told_at), str(yards[v.yard]["name"])
        scrap = v.kind == Kind.SCRAP
        made.append(
            Counted(
                when=words.say(language, "counted_at", when=when, yard=yard),
                said=sayer.scrap(v.told) if scrap else sayer.left(v.told),
                more=[] if scrap else sayer.why_left(v.told),
            )
        )
    return made


def find(customer: UUID, text: str, language: str, *, phone: str) -> Found:
    """The customer's casings with this in their label or TIN, wherever they are."""
    label, tin = labels.tidy(text), rules.sought(text)
    if any(symbol not in labels.SYMBOLS for symbol in label):
        label = ""  # no label holds it, a TIN may
    if max(len(label), len(tin)) < rules.SEARCH_LEAST:
        return Found(words.say(language, "find_short"), True, [])
    fits = casings.with_text(casings.of_customer(customer), label=label, tin=tin)
    orders = list(fits[:PAGE])
    if not orders:
        return Found(words.say(language, "found_none", text=text, phone=phone), False, [])
    said = words.counted(language, "found", len(orders), text=text)
    return Found(said, False, _lines(orders, customer, language))


def _lines(orders: Sequence[WorkOrder], customer: UUID, language: str) -> list[Line]:
    around, uids = Beside(orders, language), [w.uid for w in orders]
    heard, stops = custody.last_told(uids), stop_use.about(uids, customer)
    return [_line(w, around, heard.get(w.uid), w.uid in stops, language) for w in orders]


def _line(
    w: WorkOrder, around: Beside, heard: datetime | None, stopping: bool, language: str
) -> Line:
    promise, late = around.promise(w)
    later = heard is not None and heard > w.picked_up_at
    return Line(
        work_order=w.uid,
        label=grouped(w.label),
        sign=beside.sign(w),
        rejected=beside.rejected(w),
        stopped=beside.stopped(w),
        stop_use=stopping,
        said=beside.said(w, language),
        next_step=around.next_step(w),
        promise=promise,
        late=late,
        marks=words.marks(language, w.told),
        picked_up=around.taken(w, local(language, w.picked_up_at)),
        heard=words.say(language, "heard", when=local(language, heard)) if later and heard else "",
    )
