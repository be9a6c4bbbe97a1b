"""Reads of printed labels."""

from collections.abc import Iterable

from django.db import connection

from pickups.labels.models import Roll


def printed(codes: Iterable[str]) -> set[str]:
    """Which of these codes we printed."""
    with connection.cursor() as c:
        c.execute("SELECT code FROM labels_label WHERE code = ANY(%s)", [list(codes)])
        return {row[0] for row in c.fetchall()}


def codes_of(roll: Roll) -> list[str]:
    """The codes of a roll, in the order of their serials."""
    return list(roll.labels.order_by("code").values_list("code", flat=True))
