"""What a signature covers: the list of casings and promised days that was on the screen, how many
tires are scrap and how many casings stay there. Pure.

The phone hashes what it shows before it hands itself over for the signature; the hash stays with
the visit, so a list that was corrected after signing is told from the one that was signed. The
same rule in TypeScript, held together by fixtures/vectors/shown.json.
"""

import hashlib
from collections.abc import Iterable


def shown(lines: Iterable[tuple[str, str]], *, scrap: int = 0, left: int = 0) -> str:
    """SHA-256 (lower-case hexadecimal) of (label, promised day or "") pairs, in any order, the
    tires counted as scrap and the casings left there.

    A line is the label, a space and the day, without the space where no day was promised;
    `scrap 6` and `left 1` are lines too, where there are any; lines are sorted by code point and
    joined by a line feed, in UTF-8.
    """
    said = [f"{label} {day}".rstrip() for label, day in lines]
    said += [f"{word} {n}" for word, n in (("scrap", scrap), ("left", left)) if n > 0]
    return hashlib.sha256("\n".join(sorted(said)).encode()).hexdigest()
