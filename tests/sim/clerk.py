"""The office in a process of its own, beside the web processes: it seats the cast of a schedule,
writes the drivers' sheets and changes them, makes backups and puts them back, and folds the ledger
anew to lay it beside what stands.

`python -m tests.sim.clerk`: a call on stdin, its answer on stdout, as JSON lines.
"""

import json
import random
import sys
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import OperationalError, connections  # noqa: E402

from pickups.casings.models import WorkOrder  # noqa: E402
from pickups.custody import fold, ledger  # noqa: E402
from pickups.customers import services as customers  # noqa: E402
from pickups.kernel import clock  # noqa: E402
from pickups.labels import queries as labels_read  # noqa: E402
from pickups.labels import services as labels  # noqa: E402
from pickups.people import services as people  # noqa: E402
from pickups.people.models import Site, User  # noqa: E402
from pickups.runs import services as runs  # noqa: E402
from pickups.runs.models import Run  # noqa: E402
from pickups.runs.rules import Head, Said  # noqa: E402
from pickups.sync import services as sync  # noqa: E402
from pickups.sync.rules import Change  # noqa: E402
from plant.dock import services as dock  # noqa: E402
from tests.sim.road import STOPS  # noqa: E402

TRIES = 100


def plant() -> str:
    """The one plant of all schedules, with its route."""
    made = Site.objects.filter(kind=Site.Kind.PLANT).first()
    if made is None:
        made = people.open_site(name="Fernhollow plant", kind=Site.Kind.PLANT)
        dock.lay_out(plant=made)
    return str(made.uid)


def seat(phones: int, codes: list[int], printed: int) -> dict[str, Any]:
    """Two stores with a customer and a yard each, a driver with a sheet for each phone, labels,
    codes, a plant key."""
    names: dict[str, str] = {"@plant": plant()}
    sites = []
    for k, name in enumerate(("Bramblewick store", "Saltmarsh store")):
        # A store's name is its own among all.
        site = people.open_site(name=f"{name} {uuid4().hex[:8]}", kind=Site.Kind.STORE)
        owner = customers.enter(name="Tarn Valley Haulage", home_site=site)
        yard = customers.open_yard(customer=owner, name="North yard", address="4 Quarry Lane")
        names |= {f"@site{k}": str(site.uid), f"@yard{k}": str(yard.uid)}
        sites.append(site)
    seats = []
    for i in range(phones):
        site = sites[i % 2]
        driver = User.objects.create_user(
            str(uuid4()), first_name="Dale", last_name="Orrin", role=User.Role.DRIVER, site=site
        )
        sync.put([Change(f"site:{site.uid}", "person", driver.uid, driver.version)])
        names[f"@person{i}"] = str(driver.uid)
        names |= _sheet(i, driver.uid, names)
        made = [people.show_code(site=site, made_by=driver) for _ in range(codes[i])]
        seats.append({"person": str(driver.uid), "codes": made})
    roll = labels.print_for(site=sites[0], count=max(printed, 1), at=clock.now(), uid=uuid4())
    key = people.issue_key(plant=Site.objects.get(uid=names["@plant"]), name="gateway")[1]
    return {"names": names, "seats": seats, "labels": labels_read.codes_of(roll), "plant_key": key}


def _sheet(phone: int, driver: UUID, names: dict[str, str]) -> dict[str, str]:
    """A sheet that is handed to a driver, with stops at the yard, the plant and the other store;
    the names of the run and of its stops."""
    site, other = UUID(names[f"@site{phone % 2}"]), UUID(names[f"@site{(phone + 1) % 2}"])
    yard, plant = UUID(names[f"@yard{phone % 2}"]), UUID(names["@plant"])
    day = clock.now().date() + timedelta(days=7)
    head = Head(start=site, on=day, kind="route", vehicle=f"Truck {phone}", driver=driver, note="")
    run = runs.draw_up(site=site, head=head).uid
    places = [(yard, None), (None, plant), (None, other)]
    where = [places[i % len(places)] for i in range(STOPS)]
    stops = [runs.add_stop(run=run, yard=at, site=site) for at, site in where]
    runs.hand(run=run)
    named = {f"@stop{phone * STOPS + i}": str(uid) for i, uid in enumerate(stops)}
    return named | {f"@run{phone}": str(run)}


def sheet(run: str, change: str) -> None:
    """The office changes a driver's sheet: hands it out or takes it back, writes on a stop, puts
    its last stop first. Where the tables are busy it tries again, as a person would."""
    for left in reversed(range(TRIES)):
        try:
            _change(Run.objects.get(uid=run), change)
            break
        except OperationalError:
            connections.close_all()
            if not left:
                raise


def _change(run: Run, change: str) -> None:
    last = run.stops.order_by("-place")[0]
    if change == "move":
        runs.move_stop(run=run.uid, stop=last.uid, to=1)
    elif change == "note":
        runs.set_stop(run=run.uid, stop=last.uid, said=Said(fetch=last.place, note="ring twice"))
    elif run.state == Run.State.HANDED:
        runs.take_back(run=run.uid)
    else:
        runs.hand(run=run.uid)


def backup(folder: str) -> str:
    """A dump of the database; returns its path."""
    call_command("backup", to=Path(folder), verbosity=0)
    return str(max(Path(folder).glob("*.dump")))


def restore(dump: str) -> str:
    """The backup in the place of the database."""
    call_command("restore", dump, yes=True, verbosity=0)
    return dump


def refold(codes: list[str], seed: int) -> list[str]:
    """Folds all facts of these labels in a random order; says where what stands is otherwise."""
    touched, kept = ledger.reach(codes, [])
    facts = [k.fact for k in kept]
    random.Random(seed).shuffle(facts)
    views = fold.labels(facts, touched)
    orders = {w.uid: w for w in WorkOrder.objects.filter(label__in=touched)}
    differs = []
    for claim in fold.claims(facts):
        view, order = views[claim.fact.label], orders.pop(claim.uid, None)
        if order is None:
            order = WorkOrder.objects.filter(uid=claim.uid).first()
        if order is None:
            differs.append(f"{claim.uid}: no work order")
            continue
        contested = view.contested and not claim.withdrawn
        state = fold.progress(claim.fact, () if contested or claim.withdrawn else view.facts)
        label = claim.fact.label if claim.withdrawn else view.label
        folded = (label, state.progress, state.holder, contested, claim.withdrawn, state.on_hold)
        stands = (order.label, order.progress, order.holder, order.contested, order.withdrawn,
                  order.on_hold)  # fmt: skip
        if folded != stands:
            differs.append(f"{claim.uid}: folded {folded}, stands {stands}")
    return differs + [f"{uid}: a work order without a claim" for uid in orders]


CALLS: dict[str, Callable[..., Any]] = {
    "plant": plant,
    "seat": seat,
    "sheet": sheet,
    "backup": backup,
    "restore": restore,
    "refold": refold,
}


def main() -> None:
    """Answers calls until stdin ends; the database may go away and come back between two."""
    out, sys.stdout = sys.stdout, sys.stderr
    for line in sys.stdin:
        call, arguments = json.loads(line)
        try:
            answer = {"answer": CALLS[call](**arguments)}
        except Exception as fault:  # noqa: BLE001  it is said to who asked
            answer = {"fault": f"{type(fault).__name__}: {fault}"}
        connections.close_all()
        out.write(json.dumps(answer, default=str) + "\n")
        out.flush()


if __name__ == "__main__":
    main()
