"""Reads of notices: what is to be said and to whom; and here, the mails that did not go out."""

from pickups.kernel import clock
from pickups.notices.models import Notice


def not_out(limit: int = 100) -> list[Notice]:
    """Notices that were tried and did not go out, oldest first; not one that is just on its way."""
    tried = Notice.objects.filter(sent_at=None, tries__gt=0).exclude(claimed_until__gt=clock.now())
    return list(tried.order_by("made_at", "id")[:limit])
