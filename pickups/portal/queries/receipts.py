"""One visit's receipt, for its customer or for who has its link: the sheet, and of a pickup the
open case."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from django.conf import settings

from pickups.custody import disputes
from pickups.custody import queries as custody
from pickups.custody.queries import Delivery, Pickup
from pickups.kernel.languages import LANGUAGES, day_in_words
from pickups.notices.printing import receipt_pdf
from pickups.notices.queries import deliveries, receipts
from pickups.notices.words.sheet import Sheet
from pickups.portal import words
from pickups.sync import queries as sync


@dataclass(frozen=True)
class Paper:
    """A receipt as it stands, or none while something about it is checked. cases: what was said
    of each dispute about it, the latest first; case_open: one of them is open; none of a delivery
    (handed_back): about that they call. pile: of a delivery, or where nobody was there, the photos
    that have come, by number, with what each shows."""

    visit: UUID
    sheet: Sheet | None
    cases: Sequence[str]
    case_open: bool
    pile: Sequence[tuple[int, str]] = ()
    handed_back: bool = False


def paper(visit: Pickup | Delivery, language: str) -> Paper:
    """The receipt in its reader's language."""
    pile = _pile(visit, language)
    if isinstance(visit, Delivery):
        return Paper(visit.uid, _sheet(visit, language), (), False, pile, handed_back=True)
    known = disputes.of_visit(visit.uid)
    cases = []
    for one in known:
        if one.settled_at is None:
            on = day_in_words(language, one.due_on)
            cases.append(words.say(language, "case_open", on=on))
        else:
            cases.append(words.say(language, f"case_{one.outcome}"))
    is_open = any(one.settled_at is None for one in known)
    return Paper(visit.uid, _sheet(visit, language), cases, is_open, pile)


def _sheet(visit: Pickup | Delivery, language: str) -> Sheet | None:
    if isinstance(visit, Delivery):
        return deliveries.sheet(visit, language)
    return receipts.sheet(visit, language)


def _photos(visit: Pickup | Delivery) -> list[str]:
    """Of a pickup only where nobody was there: then they stand for a count and a signature."""
    shown = isinstance(visit, Delivery) or visit.nobody_there
    return custody.photos_of(visit.uid) if shown else []


def _pile(visit: Pickup | Delivery, language: str) -> list[tuple[int, str]]:
    """Of a pickup the first was taken before, the last after; what stands between, and of a
    delivery, is told by its number."""
    hashes = _photos(visit)
    missing, last = set(sync.missing_photos(hashes)), len(hashes)
    before = isinstance(visit, Pickup) and last > 1
    keys = {1: "pile_before", last: "pile_after"} if before else {}
    return [
        (n, words.say(language, keys.get(n, "photo"), n=n))
        for n, sha256 in enumerate(hashes, 1)
        if sha256 not in missing
    ]


def photo(visit: Pickup | Delivery, number: int) -> str | None:
    """The hash of one photo, by its number on the page."""
    hashes = _photos(visit)
    return hashes[number - 1] if 0 < number <= len(hashes) else None


def pdf(visit: Pickup | Delivery, language: str) -> bytes | None:
    """The receipt on paper in both languages, the reader's first; None while it waits."""
    tongues = [language, *(other for other in LANGUAGES if other != language)]
    sheets = [sheet for one in tongues if (sheet := _sheet(visit, one))]
    if not sheets:
        return None
    return receipt_pdf(sheets, dealer=settings.DEALER_NAME, phone=receipts.phone(visit))


def of_customer(customer: UUID, visit: UUID) -> Pickup | Delivery | None:
    """A visit of this customer's; None alike for another's and for nobody's."""
    found = custody.visit(visit)
    return found if found is not None and found.customer == customer else None
