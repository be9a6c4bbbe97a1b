"""What drivers tell of runs on the way, kept as told; and shown to devices with the run.

Told is told: a sheet that was taken back, thrown away or is over keeps it too, and so does a stop
that is not here yet. Only what nobody here has ever handed out is held, for a person to look at. A
sheet itself gets a driver's stop only while it is handed, from its own store. The run's row is
locked before anything of it is written.
"""

from collections.abc import Collection, Mapping
from typing import Any
from uuid import UUID

from django.db import transaction

from pickups.customers import queries as customers
from pickups.kernel.clock import rfc3339
from pickups.people import services as people
from pickups.people.rules import Words
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask
from pickups.runs import queries, sheet
from pickups.runs.happenings import Kind
from pickups.runs.models import Happening, Run, Stop
from pickups.sync.rules import Done, Entered
from pickups.sync.wire import Outcome

UNSEEN = "reference_unseen"
ANY_NUMBER = 1000
"""A driver's stops are not counted against what a dispatcher may write on a sheet."""


def tell(
    e: Entered,
    kind: Kind,
    *,
    run: UUID | None,
    stop: UUID | None = None,
    told: Mapping[str, Any] | None = None,
    typed: str = "",
) -> Done:
    """Keep one word about a run, and bring the run to the devices that show it. typed: more of it
    in the driver's own words."""
    row = _locked(run)
    if row is None and run is not None and queries.first_handed(run) is None:
        return Done(Outcome.HELD, UNSEEN)
    _keep(e, kind, run, stop, told or {}, typed)
    if row is None:
        return Done()
    return _shown(row, e)


def add_stop(e: Entered, *, run: UUID, yard: UUID, after: UUID | None, why: str) -> Done:
    """A stop that no sheet named comes onto the run, behind `after`. Only the word is kept where
    the sheet is not out, or another store's; and at a yard that is not known here: the visit's own
    question asks whose it is."""
    row = _locked(run)
    if row is None and queries.first_handed(run) is None:
        return Done(Outcome.HELD, UNSEEN)
    _keep(e, Kind.ADDED, run, None, {"yard": str(yard), "after": str(after or "")}, why)
    if row is None:
        return Done()
    out = row.state == sheet.State.HANDED and row.site_id == e.sender.site
    if out and yard in customers.owners([yard]):
        places = dict(row.stops.values_list("uid", "place"))
        # Behind one that the office has removed meanwhile, or that is not here yet: at the end.
        place = 1 if after is None else places.get(after, len(places)) + 1
        made = Stop(uid=e.envelope.id, yard_id=yard, place=place)
        sheet.insert_stop(row, made, most=ANY_NUMBER)
        row.version += 1  # the order of the stops is another one: a page that is behind is told
        row.save(update_fields=["version"])
    return _shown(row, e)


def count_load(
    e: Entered, *, site: UUID, run: UUID | None, stop: UUID | None, told: Mapping[str, Any]
) -> Done:
    """A count by hand and what the scans came to; where they differ the dispatcher is asked."""
    done = tell(e, Kind.COUNTED, run=run, stop=stop, told={**told, "site": str(site)})
    agrees = told["counted"] == len(told["scanned"]) and not told["short"] and not told["over"]
    if done.outcome is Outcome.HELD or agrees:
        return done
    facts = {"counted": told["counted"], "scanned": len(told["scanned"]), "site": str(site),
             "by": str(e.envelope.by), "short": told["short"], "over": told["over"],
             "way": told["way"]}  # fmt: skip
    kind = Question.LOAD_DIFFERS
    questions.ask([Ask(kind, f"count:{e.envelope.id}", facts)], at=e.sender.at)
    return Done(Outcome.CONTESTED, kind)


def _locked(run: UUID | None) -> Run | None:
    if run is None:
        return None
    return Run.objects.select_for_update(no_key=True, of=("self",)).filter(uid=run).first()


def _keep(
    e: Entered,
    kind: Kind,
    run: UUID | None,
    stop: UUID | None,
    told: Mapping[str, Any],
    typed: str,
) -> None:
    """What the driver typed stands apart, to be erased: the row knows only that there was some."""
    envelope, sender = e.envelope, e.sender
    people.keep_words({envelope.id: typed}, kind=Words.ROAD, at=sender.at)
    worded = {"worded": True} if typed else {}
    Happening(
        uid=envelope.id,
        run=run,
        stop=stop,
        kind=kind,
        told={"at": rfc3339(envelope.happened_at), **told, **worded},
        stamp=envelope.stamp,
        by=envelope.by,
        device=sender.device,
        skew_ms=sender.skew_ms,
        happened_at=envelope.happened_at,
        recorded_at=sender.at,
    ).save(force_insert=True)


def _shown(run: Run, e: Entered) -> Done:
    """To the store's devices while the sheet is handed; another store's word is asked about."""
    if run.state == sheet.State.HANDED:
        sheet.publish(run)
    if e.sender.site == run.site_id:
        return Done()
    kind = Question.OTHER_STORE
    facts = {"site": str(e.sender.site), "by": str(e.envelope.by)}
    questions.ask([Ask(kind, f"run:{run.uid}", facts)], at=e.sender.at)
    return Done(Outcome.CONTESTED, kind)


def words_erased(words: Collection[UUID]) -> None:
    """What a driver typed is gone: the sheets that are out and showed it are shown without."""
    for uid in sorted(queries.told_with(words)):
        with transaction.atomic():
            run = _locked(uid)
            if run is not None and run.state == sheet.State.HANDED:
                run.version += 1
                run.save(update_fields=["version"])
                sheet.publish(run)
