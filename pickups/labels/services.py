"""Print a roll: new codes in the next free span of a range; give it to a driver; void a label.

All of it takes one lock, so that two stores never begin the same range and a roll has one holder;
it is held for no longer than the codes take to write.
"""

import secrets
from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import Max

from pickups.kernel import ids
from pickups.kernel.locks import label_key, take
from pickups.labels import queries
from pickups.labels.models import Allocation, Label, LabelStock, Roll, VoidLabel
from pickups.labels.rules import RANGES, SERIALS, SYMBOLS, code
from pickups.people import queries as people
from pickups.people.models import Site, User
from pickups.sync import services as sync
from pickups.sync.rules import Change

_PRINTING = label_key("rolls")
A_DAY = timedelta(days=1)


class RangeFull(Exception):
    """The range has no serial left for a roll of that size; take the next range."""


class OtherRoll(Exception):
    """A roll of that uid was printed before, for another store or of another size."""


class EnoughToday(Exception):
    """The store has had as many labels within a day as it may have by this way."""


class NoDriverThere(Exception):
    """A roll goes to a driver of its own store who works here now, or back to the store."""


class Used(Exception):
    """Something was told of the label: it is or was on a casing."""


class GivenMeanwhile(Exception):
    """Somebody else gave the roll away, or took it back, since the page was shown."""


def print_roll(*, range_symbols: str, count: int, site: Site, at: datetime) -> Roll:
    """Make a roll of `count` labels. Raises RangeFull where the range has too few serials left."""
    with transaction.atomic():
        take([_PRINTING])
        return _print(range_symbols, count, site, at, None)


def print_for(
    *,
    site: Site,
    count: int,
    at: datetime,
    uid: UUID,
    most_a_day: int | None = None,
    stock: LabelStock | None = None,
    twins: bool = True,
    holder: User | None = None,
    by: User | None = None,
) -> Roll:
    """Make a roll of `count` labels in the store's own range: that of its newest roll or, where
    that is full or there is none, the first that nobody has begun.

    Safe to repeat: the same uid is answered with the roll that it made. Raises OtherRoll where that
    one is of another store or size, RangeFull where all ranges are used up, EnoughToday where
    more than `most_a_day` labels would have been printed for the store within a day: codes are for
    ever, and a device that asks without end must not use them up. stock: what it is printed on;
    twins: whether each code comes twice; holder: the driver that it is for, given by `by`, else it
    is the store's. Raises NoDriverThere where he is none of that store, and prints nothing.
    """
    with transaction.atomic():
        take([_PRINTING])
        known = Roll.objects.filter(uid=uid).first()
        if known is not None:
            if (known.site_id, known.last - known.first + 1) != (site.pk, count):
                raise OtherRoll(str(uid))
            return known
        if most_a_day is not None and _printed_since(site, at - A_DAY) + count > most_a_day:
            raise EnoughToday(str(most_a_day))
        roll = _print(_range_of(site, count), count, site, at, uid)
        if stock is not None or not twins:
            roll.stock, roll.twins = stock, twins
            roll.save(update_fields=["stock", "twins"])
        if holder is not None and by is not None:
            _give(roll, holder, by, at)
        return roll


def allocate(*, roll: Roll, holder: User | None, by: User, at: datetime, seen: int | None) -> bool:
    """Give a roll to a driver of its store, or back to the store; False where that is so already.

    seen: the newest allocation that whoever decides was shown, None for none. Raises NoDriverThere
    and GivenMeanwhile; then nothing is written.
    """
    with transaction.atomic():
        take([_PRINTING])
        newest = queries.allocation(roll)
        if holder == (newest.holder if newest else None):
            return False
        if seen != (newest.pk if newest else None):
            raise GivenMeanwhile(str(roll))
        _give(roll, holder, by, at)
        return True


def _give(roll: Roll, holder: User | None, by: User, at: datetime) -> None:
    if holder is not None and holder not in people.drivers(roll.site_id):
        raise NoDriverThere(str(holder))
    if roll.uid is None:  # printed before rolls had one; the feed names them by it
        roll.uid = ids.uuid7()
        roll.save(update_fields=["uid"])
    Allocation.objects.create(roll=roll, holder=holder, by=by, at=at)
    version, scope = roll.allocations.count(), f"site:{roll.site_id}"
    sync.put([Change(scope, "label_roll", roll.uid, version, gone=holder is None)])


def void_label(
    *, code: str, reason: str, by: User, at: datetime, unused: Callable[[str], bool]
) -> bool:
    """A printed label was found damaged and is never to be used; False where it was void before.

    unused: whether nobody has told anything of the label; asked under the label's lock key, so that
    no casing gets it meanwhile. Raises Used where somebody has, and Label.DoesNotExist.
    """
    with transaction.atomic():
        take([_PRINTING, label_key(code)])
        if not unused(code):
            raise Used(code)
        label = Label.objects.get(pk=code)
        _, new = VoidLabel.objects.get_or_create(
            label=label, defaults={"reason": reason, "by": by, "at": at}
        )
        if new:
            _publish_everywhere()
        return new


def _printed_since(site: Site, since: datetime) -> int:
    rolls = Roll.objects.filter(site=site, printed_at__gt=since)
    return sum(last - first + 1 for first, last in rolls.values_list("first", "last"))


def _range_of(site: Site, count: int) -> str:
    newest = Roll.objects.filter(site=site).order_by("-printed_at", "-id").first()
    if newest is not None and _next_serial(newest.range) + count <= SERIALS:
        return newest.range
    begun = queries.ranges_begun()
    unused = next((symbols for symbols in RANGES if symbols not in begun), None)
    if unused is None:
        raise RangeFull("every range")
    return unused


def _next_serial(range_symbols: str) -> int:
    newest = Roll.objects.filter(range=range_symbols).aggregate(m=Max("last"))["m"]
    return 0 if newest is None else int(newest) + 1


def _print(range_symbols: str, count: int, site: Site, at: datetime, uid: UUID | None) -> Roll:
    first = _next_serial(range_symbols)
    if first + count > SERIALS:
        raise RangeFull(range_symbols)
    codes: list[str] = []
    for serial in range(first, first + count):
        made = None
        while made is None:  # another random part where the check would be one left out
            made = code(range_symbols, serial, "".join(secrets.choice(SYMBOLS) for _ in "XX"))
        codes.append(made)
    roll = Roll.objects.create(
        uid=uid, range=range_symbols, first=first, last=first + count - 1, site=site, printed_at=at
    )
    Label.objects.bulk_create([Label(code=c, roll=roll) for c in codes])
    if first == 0:
        _publish_everywhere()
    return roll


def publish_ranges(sites: Iterable[UUID]) -> None:
    """The devices of these sites hear of the ranges that were begun and of the labels that are
    void, of nothing before one was; a version is how many there are of both, which only grows."""
    version = len(queries.ranges_begun()) + VoidLabel.objects.count()
    if version:
        sync.put([Change(f"site:{uid}", "label_range", uid, version) for uid in sites])


def _publish_everywhere() -> None:
    publish_ranges([one.uid for one in people.sites()])
