"""Which plant a page is about: one's own, or the one that was chosen."""

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
    known = Site.objects.filter(kind=Site.Kind.PLANT).order_by("name")
    if user.role == User.Role.PLANT:
        known = known.filter(people=user)
    return list(known)
