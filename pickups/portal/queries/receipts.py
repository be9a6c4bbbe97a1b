"""One pickup's receipt, for its customer or for who has its link: the sheet, and the open case."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from django.conf import settings

from pickups.custody import disputes
from pickups.custody import queries as custody
from pickups.custody.queries import Pickup
from pickups.kernel.languages import LANGUAGES, day_in_words
from pickups.notices.printing import receipt_pdf
from pickups.notices.queries import receipts
from pickups.notices.words.sheet import Sheet
from pickups.portal import words
from pickups.sync import queries as sync


@dataclass(frozen=True)
class Paper:
    """A receipt as it stands, or none while something about it is checked. cases: what was said
    of each dispute about it, the latest first; case_open: one of them is open. pile: where nobody
    was there, the photos that have come, by number, with what each shows."""

    visit: UUID
    sheet: Sheet | None
    cases: Sequence[str]
    case_open: bool
    pile: Sequence[tuple[int, str]] = ()


def paper(pickup: Pickup, language: str) -> Paper:
    """The receipt in its reader's language."""
    known = disputes.of_visit(pickup.uid)
    cases = []
    for one in known:
        if one.settled_at is None:
            on = day_in_words(language, one.due_on)
            cases.append(words.say(language, "case_open", on=on))
        else:
            cases.append(words.say(language, f"case_{one.outcome}"))
    is_open = any(one.settled_at is None for one in known)
    sheet = receipts.sheet(pickup, language)
    return Paper(pickup.uid, sheet, cases, is_open, _pile(pickup, language))


def _pile(pickup: Pickup, language: str) -> list[tuple[int, str]]:
    """The first was taken before, the last after; what stands between is told by its number."""
    hashes = custody.photos_of(pickup.uid) if pickup.nobody_there else []
    missing, last = set(sync.missing_photos(hashes)), len(hashes)
    keys = {1: "pile_before", last: "pile_after"} if last > 1 else {}
    return [
        (n, words.say(language, keys.get(n, "photo"), n=n))
        for n, sha256 in enumerate(hashes, 1)
        if sha256 not in missing
    ]


def photo(pickup: Pickup, number: int) -> str | None:
    """The hash of one photo of the pile, by its number on the page."""
    hashes = custody.photos_of(pickup.uid) if pickup.nobody_there else []
    return hashes[number - 1] if 0 < number <= len(hashes) else None


def pdf(pickup: Pickup, language: str) -> bytes | None:
    """The receipt on paper in both languages, the reader's first; None while it waits."""
    tongues = [language, *(other for other in LANGUAGES if other != language)]
    sheets = [sheet for one in tongues if (sheet := receipts.sheet(pickup, one))]
    if not sheets:
        return None
    return receipt_pdf(sheets, dealer=settings.DEALER_NAME, phone=receipts.phone(pickup))


def of_customer(customer: UUID, visit: UUID) -> Pickup | None:
    """A pickup of this customer's; None alike for another's and for nobody's."""
    pickup = custody.pickup(visit)
    return pickup if pickup is not None and pickup.customer == customer else None
