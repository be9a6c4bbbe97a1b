"""Files that were read: one by its id, and those of late."""

from uuid import UUID

from pickups.exchange.models import Import


def taken(uid: UUID) -> Import | None:
    """One file, unless it was forgotten."""
    return Import.objects.filter(uid=uid).first()


def lately(most: int) -> list[Import]:
    """The files read last, without what stands in them."""
    return list(Import.objects.defer("lines", "marks", "found").order_by("-made_at")[:most])
