"""What a person needs to try the demo: who may sign in, labels to enter, a key for a plant."""

from collections.abc import Iterator
from itertools import islice

from pickups.config.demo import data
from pickups.custody import queries as custody
from pickups.labels import queries as labels
from pickups.labels.models import Roll

SPARE = 3
_MANAGE = ".venv/bin/python manage.py"


def lines() -> list[str]:
    """All of it, to be read."""
    signs = [
        f"  {one['who']:<24} {one['user']:<10} {one['password']:<22} {one['where']}"
        for one in data("sign_ins")
    ]
    spare = list(islice(spare_labels(), SPARE)) or ["none: print a roll"]
    plant = data("dealer")["plant"]["name"]
    return [
        "Sign-ins of the office:",
        *signs,
        "",
        *_hands(),
        f"Labels that nobody has used yet: {', '.join(spare)}",
        "A key with which a plant's system posts, while this runs:",
        f'  {_MANAGE} plant_key --plant "{plant}" --name gateway',
    ]


def _hands() -> list[str]:
    """Who may hold a device: no password, they are chosen on it."""
    dealer = data("dealer")
    store = dealer["stores"][0]["name"]
    names = {
        role: ", ".join(
            f"{one['first']} {one['last']}"
            for one in dealer["people"]
            if one["role"] == role and one["site"] == store
        )
        for role in ("driver", "counter")
    }
    return [
        f"On a device of {store}, once the office has shown a code for it (Phones):",
        f"  drivers {names['driver']}; the counter {names['counter']}",
        "",
    ]


def spare_labels() -> Iterator[str]:
    """Printed labels that nothing was told about, from the far end of the first store's rolls."""
    store = data("dealer")["stores"][0]["name"]
    for roll in Roll.objects.filter(site__name=store).order_by("id"):
        for code in reversed(labels.codes_of(roll)):
            if not custody.told_about([code]):
                yield code
