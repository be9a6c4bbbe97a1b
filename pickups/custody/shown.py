"""What a signature covers: the list of casings and promised days that was on the screen. Pure.

The phone hashes what it shows before it hands itself over for the signature; the hash stays with
the visit, so a list that was corrected after signing is told from the one that was signed. The
same rule in TypeScript, held together by fixtures/vectors/shown.json.
"""

import hashlib
from collections.abc import Iterable


def shown(lines: Iterable[tuple[str, str]]) -> str:
    """SHA-256 (lower-case hexadecimal) of (label, promised day or "") pairs, in any order.

    A line is the label, a space and the day, without the space where no day was promised; lines
    are sorted by code point and joined by a line feed, in UTF-8.
    """
    said = sorted(f"{label} {day}".rstrip() for label, day in lines)
    return hashlib.sha256("\n".join(said).encode()).hexdigest()
