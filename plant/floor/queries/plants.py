"""Which plant a page is about: one's own, or the one that was chosen."""

from pickups.people import queries as people
from pickups.people.models import Site, User


def of(user: User, chosen: str | None) -> Site | None:
    """The plant that this person's pages are about; None where there is none for them.

    Who works at a plant sees that one and no other. Everybody else sees the plant whose uid they
    chose, else the first by name.
    """
    plants = everyone(user)
    return next((one for one in plants if str(one.uid) == chosen), plants[0] if plants else None)


def everyone(user: User) -> list[Site]:
    """The plants that this person may look at, by name."""
    plants = [site for site in people.sites() if site.kind == "plant"]
    return [one for one in plants if user.role != "plant" or one.uid == user.site_id]
