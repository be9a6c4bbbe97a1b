"""Reads of printed labels."""

from collections.abc import Iterable, Sequence
from uuid import UUID

from django.db import connection
from django.db.models import Prefetch

from pickups.labels import rules
from pickups.labels.models import Allocation, Label, LabelStock, Roll, Trial, VoidLabel
from pickups.labels.rules import Outcome, Use
from pickups.people.models import Site


def printed(codes: Iterable[str]) -> set[str]:
    """Which of these codes we printed."""
    with connection.cursor() as c:
        c.execute("SELECT code FROM labels_label WHERE code = ANY(%s)", [list(codes)])
        return {row[0] for row in c.fetchall()}


def printed_for(site: Site, codes: Iterable[str]) -> set[str]:
    """Which of these codes we printed for a store or plant."""
    ours = Label.objects.filter(code__in=list(codes), roll__site=site)
    return set(ours.values_list("code", flat=True))


def codes_of(roll: Roll) -> list[str]:
    """The codes of a roll, in the order of their serials."""
    return list(roll.labels.order_by("code").values_list("code", flat=True))


def codes_by_roll(rolls: Sequence[Roll]) -> dict[int, list[str]]:
    """The codes of these rolls, by the roll's id."""
    found: dict[int, list[str]] = {roll.pk: [] for roll in rolls}
    rows = Label.objects.filter(roll__in=rolls).order_by("code").values_list("roll_id", "code")
    for roll, code in rows:
        found[roll].append(code)
    return found


def ranges_begun() -> set[str]:
    """The ranges in which anything was printed."""
    return set(Roll.objects.values_list("range", flat=True).distinct())


def range_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, object]]:
    """The dealer's ranges, and the labels void before use, as the feed gives them to the devices of
    each of these sites: so that a device tells another dealer's label, sound as it may be, and a
    spoiled one from one that may be used."""
    begun = sorted(ranges_begun())
    void = sorted(VoidLabel.objects.values_list("label_id", flat=True))
    return {uid: {"ranges": begun, "void": void} for uid in uids}


def allocation(roll: Roll) -> Allocation | None:
    """The newest word of who has a roll; none where it never left its store's hands."""
    return roll.allocations.select_related("holder", "by").order_by("-pk").first()


def allocations(rolls: Sequence[Roll]) -> dict[int, list[Allocation]]:
    """Every word of who has these rolls, by the roll's id, the newest first."""
    found: dict[int, list[Allocation]] = {roll.pk: [] for roll in rolls}
    told = Allocation.objects.filter(roll__in=rolls).select_related("holder", "by")
    for one in told.order_by("-pk"):
        found[one.roll_id].append(one)
    return found


def roll_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, object]]:
    """Rolls that a driver has, as the feed gives them to the devices of his store: whose, and the
    labels in the order of their serials. One that is its store's is absent."""
    rolls = list(Roll.objects.filter(uid__in=list(uids)))
    told, codes = allocations(rolls), codes_by_roll(rolls)
    return {
        roll.uid: {"holder": str(newest.holder.uid), "labels": codes[roll.pk]}
        for roll in rolls
        for newest in told[roll.pk][:1]
        if roll.uid is not None and newest.holder is not None
    }


def void(code: str) -> VoidLabel | None:
    """That a label is void, though no casing wore it, and why."""
    return VoidLabel.objects.select_related("by").filter(pk=code).first()


def voided(codes: Iterable[str]) -> set[str]:
    """Which of these codes are void, though no casing wore them."""
    with connection.cursor() as c:
        c.execute("SELECT label_id FROM labels_void WHERE label_id = ANY(%s)", [list(codes)])
        return {row[0] for row in c.fetchall()}


def roll_of(code: str) -> Roll | None:
    """The roll that a label comes from, with its store; none where we did not print it."""
    return Roll.objects.select_related("site").filter(labels=code).first()


def stocks() -> list[LabelStock]:
    """Every stock of labels with its trials, the newest trial first."""
    newest = Trial.objects.order_by("-on", "-pk")
    return list(LabelStock.objects.order_by("name").prefetch_related(Prefetch("trials", newest)))


def called(roll: Roll) -> str:
    """What a label of this roll says that it is."""
    if roll.stock is None:
        return rules.called(Use.YARD, ())
    heated = [Outcome(t.outcome) for t in roll.stock.trials.all() if t.degrees_c is not None]
    return rules.called(Use(roll.stock.use), heated)


def roll(pk: int) -> Roll | None:
    """One roll with its store, if it is there."""
    return Roll.objects.select_related("site", "stock").filter(pk=pk).first()


def newest_rolls(most: int) -> list[Roll]:
    """The rolls printed last, the newest first, with their stores."""
    return list(Roll.objects.select_related("site", "stock").order_by("-printed_at", "-id")[:most])
