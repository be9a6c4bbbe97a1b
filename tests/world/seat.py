"""Seats the cast in the database of DATABASE_URL, from a process of its own (see stack.py)."""

import json
from datetime import datetime, time, timedelta
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.customers import rules, specifying
from pickups.customers import services as customers
from pickups.customers.models import Yard
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.labels import queries as labels_read
from pickups.labels import services as labels
from pickups.people import services as people
from pickups.people.models import Site, User
from pickups.promises import services as promises
from pickups.promises.finishing import pack
from pickups.runs import services as runs
from pickups.runs.rules import Head, Said
from plant.dock import specifying as targets
from tests.world.cast import build


def seat(printed: int) -> None:
    """Build the cast and print who is who as one line of JSON."""
    world = build(labels_printed=printed)
    said = {
        "plant": world.plant.uid,
        "store": world.store.uid,
        "other_store": world.other_store.uid,
        "yard": world.yard.uid,
        "customer": world.customer.uid,
        "driver": world.driver.uid,
        "driver_name": world.driver,
        "other_driver": world.other_driver.uid,
        "plant_key": world.plant_key,
        "labels": world.labels,
    }
    print(json.dumps(said, default=str))


def show_code(site: str) -> None:
    """Print a fresh enrolment code for a site."""
    made_by = User.objects.earliest("pk")
    print(people.show_code(site=Site.objects.get(uid=site), made_by=made_by))


def plant_keys(plant: str, count: int) -> None:
    """So many keys of a plant's systems; prints them as one line of JSON."""
    where = Site.objects.get(uid=plant)
    print(json.dumps([people.issue_key(plant=where, name="gateway")[1] for _ in range(count)]))


def enrol_many(site: str, count: int) -> None:
    """So many phones of a site; prints uid and push secret of each as one line of JSON."""
    where, by = Site.objects.get(uid=site), User.objects.earliest("pk")
    made = []
    for _ in range(count):
        code = people.show_code(site=where, made_by=by)
        said = people.enrol(code=code, device=uuid4(), name="phone")
        made.append([str(said.device.uid), said.push_secret])
    print(json.dumps(made))


def print_more(site: str, ranges: list[str], each: int) -> None:
    """A further roll in each of these ranges; prints all their codes as one line of JSON."""
    at, where = clock.now(), Site.objects.get(uid=site)
    rolls = [labels.print_roll(range_symbols=r, count=each, site=where, at=at) for r in ranges]
    print(json.dumps([code for roll in rolls for code in labels_read.codes_of(roll)]))


def hire(store: str, role: str, first: str, last: str) -> None:
    """One more person of a site; prints the uid. Devices hear of them once it is settled."""
    user = User.objects.create_user(
        first.lower(), first_name=first, last_name=last, role=role, site_id=UUID(store)
    )
    people.publish_person(user)
    print(user.uid)


def print_roll_for(driver: str, count: int) -> None:
    """A roll of labels for a driver of his store; prints its codes as one line of JSON."""
    user = User.objects.select_related("site").get(uid=driver)
    assert user.site is not None
    roll = labels.print_for(
        site=user.site, count=count, at=clock.now(), uid=uuid4(), holder=user, by=user
    )
    print(json.dumps(labels_read.codes_of(roll)))


def publish_promises(store: str, plant: str, yard: str, days: int = 5) -> None:
    """A plant that works every day, trucks every day; the store's table computed from them.

    A retread needs so many working days there, a repair has no standard time: none is offered.
    """
    at, every = clock.now(), list(range(7))
    promises.publish_standard_times(
        plant=UUID(plant), times={"retread": days}, weekdays=every, holidays=[], at=at
    )
    ways = [(UUID(plant), "to_plant"), (UUID(plant), "from_plant"), (UUID(yard), "to_yard")]
    rows = [(place, way, every) for place, way in ways]
    promises.publish_timetable(site=UUID(store), rows=rows, at=at)
    promises.compute_for(sites=[UUID(store)], at=at)


def publish_forecast(store: str, plant: str, days: int = 8, valid_h: int = 24) -> None:
    """The plant forecasts that what it receives is done so many days later in eight courses of
    ten, a day later in the ninth, three days later in the tenth, the last of two or more a day
    later than that; 14 wait at one station. The store's table is computed from it."""
    at = clock.now()
    today = at.astimezone(ZoneInfo(settings.DEALER_TIME_ZONE)).date()
    noon = datetime.combine(today, time(12), ZoneInfo(settings.DEALER_TIME_ZONE))

    def done(on: int, group: int) -> bytes:
        late = [0] * 8 + [1, 3]
        ahead = [on + days + more + (group > 1) for more in late]
        begun = int((noon - at).total_seconds() // 60)
        return pack(begun + day * 24 * 60 for day in ahead)

    promises.publish_forecast(
        plant=UUID(plant),
        origin=at,
        casings={},
        arrivals=[
            promises.Arrival("retread", "", today + timedelta(days=on), group, done(on, group))
            for on in range(22)
            for group in (1, 2, 5)
        ],
        ahead=[promises.Ahead("shearography", "Shearography", "Shearografía", 14)],
        valid_until=at + timedelta(hours=valid_h),
        at=at,
    )
    promises.compute_for(sites=[UUID(store)], at=at)


def settle() -> None:
    """Do what the journal owes, as a worker would: names of sites and people reach the phones."""
    while journal.drain():
        pass


def open_yard(store: str, customer: str, name: str, address: str) -> None:
    """A new customer of a store with one yard; prints the yard's id."""
    owner = customers.enter(name=customer, home_site=Site.objects.get(uid=store))
    print(customers.open_yard(customer=owner, name=name, address=address).uid)


def reachable(yard: str, name: str, phone: str, lat: float, lon: float) -> None:
    """Whom drivers call at a yard, and where its gate is."""
    row = Yard.objects.select_related("customer").get(uid=yard)
    at = (Decimal(str(lat)), Decimal(str(lon)))
    customers.rename_yard(uid=row.uid, name=row.name, address=row.address, at=at)
    customers.add_contact(customer=row.customer, name=name, email="", phone=phone, yard=row)


def let_in(username: str, password: str) -> None:
    """Somebody of the cast may sign in to the office with it."""
    user = User.objects.get(username=username)
    user.set_password(password)
    user.save()


def specify(customer: str, **terms: Any) -> None:
    """What a customer accepts from now on, at all of its yards."""
    said = rules.terms(terms)
    specifying.specify(customer=UUID(customer), terms=said, by=None, at=clock.now())


def want(plant: str, design: str, **figures: float) -> None:
    """What a plant wants of a tread design, in every size."""
    by = User.objects.filter(site=UUID(plant)).order_by("pk")[0]
    targets.enter_target(
        plant=UUID(plant), tread_design=design, size="", figures=figures, sheet="Sheet of March",
        by=by, at=clock.now(),
    )  # fmt: skip


def hand_sheet(store: str, driver: str, stops: list[dict[str, Any]], **head: str) -> None:
    """A load sheet of today, handed to its driver; prints its id and those of its stops.

    stops: `yard` or `site`, `drop` (work orders), `fetch`, `begins`, `to`, `note`.
    """
    on = clock.local(clock.now(), ZoneInfo(settings.DEALER_TIME_ZONE)).date()
    start = UUID(head.pop("start", store))
    run = runs.draw_up(
        site=UUID(store), head=Head(start=start, on=on, driver=UUID(driver), **head)
    ).uid
    made = []
    for told in stops:
        yard, site = (UUID(told[k]) if k in told else None for k in ("yard", "site"))
        times = {k: time.fromisoformat(told[k]) for k in ("begins", "to") if k in told}
        said = Said(fetch=told.get("fetch"), note=told.get("note", ""), **times)
        stop = runs.add_stop(run=run, said=said, yard=yard, site=site)
        made.append(str(stop))
        if told.get("drop"):
            runs.put(run=run, stop=stop, work_orders=[UUID(uid) for uid in told["drop"]])
    runs.hand(run=run)
    print(json.dumps({"run": str(run), "stops": made}))


def come_back(run: str) -> None:
    """The truck of a load sheet is back; what follows from that is done."""
    runs.come_back(run=UUID(run))
    settle()
