"""Reads of promises and of the tables that they are offered from."""

from collections.abc import Iterable, Sequence
from typing import Any
from uuid import UUID

from pickups.promises.models import Promise, Table


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Promise tables as the feed gives them to a device; the id is the store's."""
    return {
        t.site: {
            "computed_on": t.computed_on.isoformat(),
            "valid_until": t.valid_until.isoformat(),
            "version": t.version,
            "places": t.places,
        }
        for t in Table.objects.filter(site__in=list(uids))
    }


def standing(work_orders: Iterable[UUID]) -> dict[UUID, Promise]:
    """The promise that counts for each work order: the last by (stamp, uid)."""
    rows = Promise.objects.filter(work_order__in=list(work_orders)).order_by("stamp", "uid")
    return {p.work_order: p for p in rows}
