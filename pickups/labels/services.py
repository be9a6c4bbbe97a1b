"""Print a roll: new codes in the next free span of a range.

Printing takes one lock for all ranges, so that two stores never begin the same one; it holds it
for no longer than the codes take to write.
"""

import secrets
from datetime import datetime, timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import Max

from pickups.kernel.locks import label_key, take
from pickups.labels import queries
from pickups.labels.models import Label, LabelStock, Roll
from pickups.labels.rules import RANGES, SERIALS, SYMBOLS, code
from pickups.people import queries as people
from pickups.people.models import Site
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
) -> Roll:
    """Make a roll of `count` labels in the store's own range: that of its newest roll or, where
    that is full or there is none, the first that nobody has begun.

    Safe to repeat: the same uid is answered with the roll that it made. Raises OtherRoll where that
    one is of another store or size, RangeFull where all ranges are used up, EnoughToday where
    more than `most_a_day` labels would have been printed for the store within a day: codes are for
    ever, and a device that asks without end must not use them up. stock: what it is printed on;
    twins: whether each code comes twice.
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
        return roll


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
        _publish_ranges()
    return roll


def _publish_ranges() -> None:
    """Every site's devices hear of the ranges that were begun; a version is how many there are."""
    version = len(queries.ranges_begun())
    sites = [one.uid for one in people.sites()]
    sync.put([Change(f"site:{uid}", "label_range", uid, version) for uid in sites])
