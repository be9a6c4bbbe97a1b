"""What the page of a phone's saved file says: whose it is, how much, what came of it."""

from typing import Any

from pickups.desk import words
from pickups.desk.queries.names import Names
from pickups.sync.unsent import Look, Taken


def looked_at(look: Look, language: str) -> dict[str, Any]:
    """A file before it is taken."""
    names = Names(language)
    device = look.device
    rows = [
        (names.say("device"), f"{device.name}, {device.site.name}"),
        (names.say("status"), names.say(f"status_{device.status}")),
        (names.say("unsent_saved"), names.when(look.saved_at)),
        (names.say("unsent_entries"), _of(names, look.operations, look.here)),
    ]
    if look.first is not None and look.last is not None:
        rows.append((names.say("unsent_made"), _span(names, look)))
    rows.append((names.say("unsent_photos"), _of(names, look.photos, look.photos_here)))
    nothing_new = look.here == look.operations and look.photos_here == look.photos
    return {"rows": rows, "nothing_new": nothing_new, "revoked": device.is_revoked}


def fault(key: str, file: str, language: str) -> str:
    """Why a file cannot be taken."""
    return words.say(language, key, file=file)


def came(taken: Taken, language: str) -> dict[str, Any]:
    """What came of one, as values of its sentence."""
    names = Names(language)
    new = sum(taken.outcomes.values()) - taken.repeats
    kinds = ("contested", "held", "refused")
    odd = [
        names.say(f"unsent_{kind}", n=taken.outcomes[kind])
        for kind in kinds
        if taken.outcomes[kind]
    ]
    if taken.photos_refused:
        odd.append(names.say("unsent_photos_refused", n=taken.photos_refused))
    return {
        "name": taken.device.name,
        "new": max(new, 0),
        "repeats": taken.repeats,
        "photos": taken.photos,
        "odd": " " + " ".join(odd) if odd else "",
    }


def _of(names: Names, n: int, here: int) -> str:
    return names.say("unsent_here", n=n, here=here) if here else str(n)


def _span(names: Names, look: Look) -> str:
    assert look.first is not None
    assert look.last is not None
    first, last = names.when(look.first), names.when(look.last)
    return first if first == last else names.say("unsent_span", first=first, last=last)
