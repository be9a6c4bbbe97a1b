"""The demo's dealer: stores and plant, people, phones, fleets with their yards, label rolls."""

from dataclasses import dataclass, field
from datetime import datetime, time, timedelta
from typing import Any
from uuid import uuid4

from pickups.config.demo import data
from pickups.customers import services as customers
from pickups.customers import specifying
from pickups.customers.models import Customer, Yard
from pickups.customers.rules import terms
from pickups.labels import queries as labels_read
from pickups.labels import services as labels
from pickups.people import services as people
from pickups.people.models import Device, PlantKey, Site, User
from pickups.promises.rules import Calendar, Trucks
from pickups.runs import services as runs
from pickups.runs.models import Run
from plant.dock import services as dock
from plant.dock import specifying as treads
from plant.dock.rules import FIGURES, Shift


@dataclass
class Dealer:
    """Everybody and everything by name.

    labels: printed codes that nobody used, by store. signers: who signs, by fleet. shuttles: who
    drives between store and plant, by store. standard_times, calendar, trucks: what promises are
    made from.
    """

    sites: dict[str, Site] = field(default_factory=dict)
    people: dict[str, User] = field(default_factory=dict)
    devices: dict[str, Device] = field(default_factory=dict)
    yards: dict[tuple[str, str], Yard] = field(default_factory=dict)
    labels: dict[str, list[str]] = field(default_factory=dict)
    signers: dict[str, str] = field(default_factory=dict)
    shuttles: dict[str, str] = field(default_factory=dict)
    standard_times: dict[str, int] = field(default_factory=dict)
    calendar: Calendar = field(default_factory=lambda: Calendar(()))
    trucks: dict[str, Trucks] = field(default_factory=dict)
    key: PlantKey = field(default_factory=PlantKey)


def is_there() -> bool:
    """Whether the demo was loaded before."""
    return Site.objects.filter(name=data("dealer")["plant"]["name"]).exists()


def build(*, at: datetime) -> Dealer:
    """Enter all of it; `at` is now."""
    told, dealer = data("dealer"), Dealer()
    _sites(told, dealer)
    _people(told, dealer)
    _devices(told, dealer)
    for fleet in told["fleets"]:
        home = dealer.sites[fleet["store"]]
        customer = customers.enter(name=fleet["name"], home_site=home)
        for name, address in fleet["yards"]:
            yard = customers.open_yard(customer=customer, name=name, address=address)
            dealer.yards[fleet["name"], name] = yard
        _specifications(fleet, customer, dealer, at)
        dealer.signers[fleet["name"]] = fleet["contacts"][0][0]
        for name, email, language in fleet["contacts"]:
            customers.add_contact(
                customer=customer,
                name=name,
                email=email,
                language=language,
                may_sell=name == dealer.signers[fleet["name"]],
            )
    _promises(told, dealer, at)
    _treads(told, dealer, at)
    for store in told["stores"]:
        site, count = dealer.sites[store["name"]], told["labels_a_store"]
        printed = at - timedelta(days=30)
        roll = labels.print_roll(range_symbols=store["range"], count=count, site=site, at=printed)
        dealer.labels[store["name"]] = labels_read.codes_of(roll)
    return dealer


def _specifications(
    fleet: dict[str, Any], customer: Customer, dealer: Dealer, at: datetime
) -> None:
    """What a fleet accepts, as the dispatcher wrote it so many days ago."""
    office = next(u for u in dealer.people.values() if u.role == User.Role.DISPATCHER)
    for one in fleet.get("specifications", []):
        yard = dealer.yards[fleet["name"], one["yard"]].uid if "yard" in one else None
        specifying.specify(
            customer=customer.uid,
            yard=yard,
            terms=terms(one["terms"]),
            by=office.uid,
            at=at - timedelta(days=one["days"]),
        )


def _promises(told: dict[str, Any], dealer: Dealer, at: datetime) -> None:
    """Standard times and regular runs, in force since before the history begins."""
    plant = dealer.sites[told["plant"]["name"]]
    dealer.standard_times, weekdays = told["standard_times"], told["plant_weekdays"]
    dealer.calendar, dealer.shuttles = Calendar(weekdays), told["shuttles"]
    dock.enter_times(
        plant=plant, times=told["standard_times"], weekdays=weekdays, holidays={}, at=at
    )
    hours = told["plant_hours"]
    shifts = [[time.fromisoformat(at) for at in span] for span in hours["shifts"]]
    dock.enter_shifts(
        plant=plant.uid, shifts=[Shift(day, *span) for day in weekdays for span in shifts]
    )
    dock.enter_cycles(plant=plant.uid, stations=hours["stations"], chambers=hours["chambers"])
    for store in told["stores"]:
        shuttle: list[int] = []
        to_yard: dict[str, list[int]] = {}
        for one in told["regular_runs"]:
            if one["store"] != store["name"]:
                continue
            yards = [dealer.yards[fleet, yard].uid for fleet, yard in one.get("yards", [])]
            runs.set_regular_run(
                site=dealer.sites[store["name"]].uid,
                name=one["name"],
                kind=Run.Kind.ROUTE if yards else Run.Kind.TRANSFER,
                weekdays=one["weekdays"],
                yards=yards,
                plant=None if yards else plant.uid,
                at=at,
            )
            shuttle += [] if yards else one["weekdays"]
            to_yard |= {str(yard): one["weekdays"] for yard in yards}
        dealer.trucks[store["name"]] = Trucks(shuttle, shuttle, to_yard)


def _treads(told: dict[str, Any], dealer: Dealer, at: datetime) -> None:
    """What the plant wants of some tread designs; of the others nothing is entered."""
    plant = dealer.sites[told["plant"]["name"]]
    by = next(u for u in dealer.people.values() if u.role == User.Role.PLANT)
    for line in told["tread_targets"]["lines"]:
        figures = {name: line[name] for name in FIGURES if name in line}
        treads.enter_target(plant=plant.uid, tread_design=line["design"],
                            size=line.get("size", ""), figures=figures,
                            sheet=told["tread_targets"]["sheet"], by=by, at=at)  # fmt: skip


def _sites(told: dict[str, Any], dealer: Dealer) -> None:
    for store in told["stores"]:
        dealer.sites[store["name"]] = people.open_site(
            name=store["name"], kind=Site.Kind.STORE, phone=store["phone"]
        )
    works = told["plant"]
    plant = people.open_site(name=works["name"], kind=Site.Kind.PLANT, phone=works["phone"])
    dealer.sites[works["name"]] = plant
    dock.lay_out(plant=plant)
    dealer.key, _ = people.issue_key(plant=plant, name=works["key"])


def _people(told: dict[str, Any], dealer: Dealer) -> None:
    passwords = {one["user"]: one["password"] for one in data("sign_ins")}
    for one in told["people"]:
        administers = one["role"] == User.Role.ADMIN
        user = User.objects.create_user(
            one["user"],
            password=passwords.get(one["user"]),
            first_name=one["first"],
            last_name=one["last"],
            role=one["role"],
            site=dealer.sites[one["site"]],
            is_staff=administers,
            is_superuser=administers,
        )
        people.publish_person(user)
        dealer.people[one["user"]] = user


def _devices(told: dict[str, Any], dealer: Dealer) -> None:
    """Phones whose secrets nobody has: they stand for those of the drivers on the road."""
    office = next(u for u in dealer.people.values() if u.role == User.Role.DISPATCHER)
    for one in told["devices"]:
        code = people.show_code(site=dealer.sites[one["site"]], made_by=office)
        made = people.enrol(code=code, device=uuid4(), name=one["name"])
        dealer.devices[one["site"]] = made.device
