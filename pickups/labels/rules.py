"""The grammar of a label, for ever: eight symbols, the last one a check. Pure.

    R R S S S X X C     range (2), serial in the range (3), random (2), check (1)

Symbols are the 30 that 49 CFR 574.5(f) allows in a tire identification number (no G I O Q S Z,
which hands and eyes confuse); the first is a letter, so that no label looks like a date code.
The check is ISO/IEC 7064 MOD 37-2 over the first seven. Codes whose check would be `*` or one of
the six left-out letters are never made: so every single slip and every swap of neighbours shows.
The random part keeps codes from being guessed in a row. A QR on the label holds
PUBLIC_BASE_URL + /L/ + code in capitals; a reader looks at the path only.
"""

from collections.abc import Collection
from enum import StrEnum
from uuid import UUID

SYMBOLS = "0123456789ABCDEFHJKLMNPRTUVWXY"
LETTERS = SYMBOLS[10:]
LENGTH = 8
SERIALS = 30**3
RANGES = tuple(first + second for first in LETTERS for second in SYMBOLS)
"""Every range there can be, in the order in which stores are given them."""
CHECK_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
"""ISO/IEC 7064 MOD 37-2 numbers its characters 0-9, A-Z, then `*` for 36."""

SLIPS = {"G": "6", "I": "1", "O": "0", "Q": "0", "S": "5", "Z": "2"}
"""What a hand meant that wrote a symbol which no label holds."""


class LabelFault(StrEnum):
    """Why a text is not a label; told apart in words wherever one is typed or scanned."""

    EMPTY = "empty"
    LENGTH = "wrong_length"
    SYMBOL = "symbol_not_used"
    FIRST = "first_not_a_letter"
    CHECK = "check_does_not_fit"


class Slip(StrEnum):
    """What a hand did that wrote another code than the label's: told in words beside the offer."""

    SWAPPED = "two_swapped"
    WRONG = "one_wrong"
    MISSING = "one_missing"
    TOO_MANY = "one_too_many"


class Use(StrEnum):
    """What a stock of labels is meant for; whether it stands that, only a trial says."""

    YARD = "yard"
    CURE_PROOF = "cure_proof"
    FINISHED_TAG = "finished_tag"


class Outcome(StrEnum):
    """What became of a label in a trial."""

    READ = "read"
    HARDLY_READ = "hardly_read"
    NOT_READ = "not_read"


def called(use: Use, heated: Collection[Outcome]) -> str:
    """What stands on a label about itself. heated: what became of its stock in each trial of heat;
    paint cures nothing. It is called cure-proof only where all of them were read, and there was
    one: before that it is a label like any other."""
    if use is Use.FINISHED_TAG:
        return "finished tag"
    proven = bool(heated) and all(o is Outcome.READ for o in heated)
    return "cure-proof label" if use is Use.CURE_PROOF and proven else "yard label"


OFFERS = 3
"""How many labels are offered at most for one that is mistyped."""


def check_symbol(body: str) -> str:
    """The ISO/IEC 7064 MOD 37-2 check of a body of 0-9 and A-Z; may be `*`."""
    total = 0
    for symbol in body:
        total = (total + CHECK_ALPHABET.index(symbol)) * 2 % 37
    return CHECK_ALPHABET[(1 - total) % 37]


def code(range_symbols: str, serial: int, random_symbols: str) -> str | None:
    """The code of a serial number (0 to 26,999) in a range, or None where its check is left out."""
    digits = [serial // 900 % 30, serial // 30 % 30, serial % 30]
    body = range_symbols + "".join(SYMBOLS[d] for d in digits) + random_symbols
    check = check_symbol(body)
    return body + check if check in SYMBOLS else None


def tidy(text: str) -> str:
    """A typed or scanned text as a candidate code: the path's last part, capitals, no gaps.

    A link is read by its path only, whatever its host. Letters that no label holds become what
    the hand meant (G 6, I 1, O 0, Q 0, S 5, Z 2).
    """
    text = text.strip().split("?")[0].split("#")[0].rstrip("/").rsplit("/", 1)[-1].upper()
    kept = "".join(c for c in text if not c.isspace() and c not in "-._\u2009")
    return "".join(SLIPS.get(c, c) for c in kept)


def fault(candidate: str) -> LabelFault | None:
    """What keeps a tidied text from being a label, or None for a sound code."""
    if not candidate:
        return LabelFault.EMPTY
    if any(c not in SYMBOLS for c in candidate):
        return LabelFault.SYMBOL
    if len(candidate) != LENGTH:
        return LabelFault.LENGTH
    if candidate[0] not in LETTERS:
        return LabelFault.FIRST
    if check_symbol(candidate[:-1]) != candidate[-1]:
        return LabelFault.CHECK
    return None


def one_slip_away(candidate: str) -> dict[str, Slip]:
    """The sound codes that one slip of a hand makes of this tidied text; none where it is sound."""
    found: dict[str, Slip] = {}
    if fault(candidate) is not None:
        for slip, texts in _slipped(candidate).items():
            for text in texts:
                if fault(text) is None:
                    found.setdefault(text, slip)
    return found


def _slipped(text: str) -> dict[Slip, list[str]]:
    """The texts of a label's length that this may have been before each kind of slip."""
    places = range(len(text))
    if len(text) == LENGTH - 1:
        longer = [text[:i] + s + text[i:] for i in range(LENGTH) for s in SYMBOLS]
        return {Slip.MISSING: longer}
    if len(text) == LENGTH + 1:
        return {Slip.TOO_MANY: [text[:i] + text[i + 1 :] for i in places]}
    if len(text) != LENGTH:
        return {}
    swapped = [text[:i] + text[i + 1] + text[i] + text[i + 2 :] for i in places[:-1]]
    return {
        Slip.SWAPPED: swapped,
        Slip.WRONG: [text[:i] + s + text[i + 1 :] for i in places for s in SYMBOLS],
    }


def meant(candidate: str, known: Collection[str]) -> list[tuple[str, Slip]]:
    """Which known labels a mistyped text may stand for: swapped ones first, a few at most."""
    order = list(Slip)
    near = [(code, slip) for code, slip in one_slip_away(candidate).items() if code in known]
    return sorted(near, key=lambda n: (order.index(n[1]), n[0]))[:OFFERS]


TICKET_LENGTH = 7


def ticket_number(visit: UUID) -> str:
    """The number of a drop-off's ticket, as the counter's device makes it from the drop-off's id
    (see frontend/src/domain/ticket.ts): 48 random bits of a UUIDv7 (RFC 9562, 5.7) in the symbols
    of labels, a letter first, and a check; a body whose check is no symbol gives way to the next.
    """
    value = int(visit.hex[-12:], 16)
    while True:
        rest, first = divmod(value, len(LETTERS))
        body = LETTERS[first]
        while len(body) < TICKET_LENGTH - 1:
            rest, symbol = divmod(rest, len(SYMBOLS))
            body += SYMBOLS[symbol]
        check = check_symbol(body)
        if check in SYMBOLS:
            return body + check
        value += 1
