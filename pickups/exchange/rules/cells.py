"""What stands in a cell: as it comes, as it goes, and how two texts are held to be the same. Pure.

What a spreadsheet would take for a formula goes out behind an apostrophe and comes in without it
(OWASP, "CSV Injection": = + - @; the full-width forms from the same page, from memory): at the
beginning of a text, and inside it where a reader that parts cells by semicolon begins another. Tabs
and ends of line, which begin others too, go out as blanks.
"""

import math
import re
import unicodedata
from datetime import date, datetime, time

_BEGINS = r"(?:^|(?<=;))"
_FORMULA = r"(?=['\" ]*[=+\-@\uff1d\uff0b\uff0d\uff20])"
_BARE = re.compile(_BEGINS + _FORMULA)
_GUARDED = re.compile(_BEGINS + "'" + _FORMULA)
_UNSEEN = dict.fromkeys((0xFEFF, 0x200B, 0x200E, 0x200F, 0x2060))
ERRORS = frozenset({"#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"})
"""What a spreadsheet puts where a formula failed (ECMA-376, part 1, 18.18.11)."""


def text_of(cell: object) -> str:
    """A cell as text on one line: 12.0 is 12, yes is TRUE, a day is ISO 8601, gaps are one
    blank."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, float) and math.isfinite(cell) and cell == int(cell):
        return str(int(cell))
    if isinstance(cell, datetime):
        return (cell.date() if cell.time() == time() else cell).isoformat()
    if isinstance(cell, date | time):
        return cell.isoformat()
    return bare(str(cell))


def bare(text: str) -> str:
    """A text without what no reader sees: marks of order, ends of line, blanks at its ends."""
    return " ".join(unicodedata.normalize("NFC", text).translate(_UNSEEN).split())


def unguarded(text: str) -> str:
    """A text without the apostrophes that keep it from being a formula."""
    return _GUARDED.sub("", text)


def guarded(text: str) -> str:
    """A text on one line that no spreadsheet takes for a formula, by whatever it parts cells."""
    return _BARE.sub("'", bare(text))


def folded(text: str) -> str:
    """What is left of a name when case, accents and marks between words are nothing."""
    split = unicodedata.normalize("NFKD", text.casefold())
    kept = "".join(c if c.isalnum() else " " for c in split if not unicodedata.combining(c))
    return " ".join(kept.split()) or bare(text).casefold()


def same_name(text: str) -> str:
    """Names are the same whatever their case and their gaps."""
    return bare(text).casefold()


def unfit(text: str) -> str:
    """The first symbol that cannot be kept or read by a person; empty where there is none."""
    return next((c for c in text if unicodedata.category(c) in ("Cc", "Cs", "Cn", "Co")), "")
