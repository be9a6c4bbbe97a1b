"""Print a roll: new codes in the next free span of a range."""

import secrets
from datetime import datetime

from django.db import transaction
from django.db.models import Max

from pickups.kernel.locks import label_key, take
from pickups.labels.models import Label, Roll
from pickups.labels.rules import SERIALS, SYMBOLS, code
from pickups.people.models import Site


class RangeFull(Exception):
    """The range has no serial left for a roll of that size; take the next range."""


def print_roll(*, range_symbols: str, count: int, site: Site, at: datetime) -> Roll:
    """Make a roll of `count` labels. Raises RangeFull where the range has too few serials left."""
    with transaction.atomic():
        take([label_key(range_symbols)])
        newest = Roll.objects.filter(range=range_symbols).aggregate(m=Max("last"))["m"]
        serial = first = 0 if newest is None else newest + 1
        codes: list[str] = []
        while len(codes) < count:
            if serial >= SERIALS:
                raise RangeFull(range_symbols)
            made = None
            while made is None:  # another random part where the check would be one left out
                made = code(range_symbols, serial, "".join(secrets.choice(SYMBOLS) for _ in "XX"))
            codes.append(made)
            serial += 1
        roll = Roll.objects.create(
            range=range_symbols, first=first, last=serial - 1, site=site, printed_at=at
        )
        Label.objects.bulk_create([Label(code=c, roll=roll) for c in codes])
    return roll
