"""`manage.py demo_day`: one working day at the demo's dealer, through the running product's doors.

The people sign in and enrol as anybody would; only a label that nobody has used and the plant's
key are taken from the database, as a command prints them.
"""

import re
import time
from itertools import islice
from typing import Any
from uuid import UUID

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import DatabaseError
from django.urls import reverse

from pickups.config.demo import data, dealer
from pickups.config.demo.crew import Dock, Hand
from pickups.config.demo.day import Day
from pickups.config.demo.doors import Http, Office, ShutDoor
from pickups.config.demo.phone import Phone
from pickups.config.demo.sheets import Dispatcher
from pickups.config.demo.trying import spare_labels
from pickups.customers import queries as customers
from pickups.desk.queries.loose import today_of
from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Site, User

KEPT_FOR_PEOPLE = 40
"""Unused labels that the day leaves to whoever tries the product meanwhile."""
CODE = re.compile(r'data-testid="code">([^<]+)<')


class Command(BaseCommand):
    """Plays the day; watch the load sheets and the caught mails meanwhile."""

    help = "Play one working day of the demo against the running product."

    def add_arguments(self, parser: CommandParser) -> None:
        """How long it takes."""
        parser.add_argument(
            "--minutes", type=float, default=4, help="how long the day takes (4); 0 is at once"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        """Every scene, said as it is played."""
        if not self._demo_is_there():
            raise CommandError("The demo's day needs the demo: start `make run` first.")
        url = f"http://localhost:{settings.PORT}"
        self.key = ""
        try:
            day = self._people(url)
            scenes = day.scenes()
            pause = max(options["minutes"], 0) * 60 / len(scenes)
            for at, scene in scenes:
                self.stdout.write(f"{at}  {scene()}")
                self.stdout.flush()
                time.sleep(pause)
        except ShutDoor as e:
            raise CommandError(str(e)) from None
        except OSError as e:
            raise CommandError(f"Nothing answers at {url} ({e}): start `make run` first.") from None
        finally:
            people.revoke_key(prefix=self.key)  # the next day has a key of its own
        self.stdout.write(f"Look at {url}/office/sheets/ and at the mails: {url}/mail/")

    def _demo_is_there(self) -> bool:
        try:
            return settings.EMBEDDED_DATABASE and dealer.is_there()
        except DatabaseError:  # its database does not run, or is empty
            return False

    def _people(self, url: str) -> Day:
        told = data("dealer")
        store = Site.objects.get(name=told["stores"][0]["name"])
        plant = Site.objects.get(name=told["plant"]["name"])
        office = Office(url)
        sign_in = next(one for one in data("sign_ins") if one["who"].startswith("dispatcher"))
        office.sign_in(sign_in["user"], sign_in["password"])
        shuttle = told["shuttles"][store.name]
        driver = self._named(store, User.Role.DRIVER, but_for=shuttle)
        counter = self._named(store, User.Role.COUNTER)
        made, key = people.issue_key(plant=plant, name="the day of the demo")
        self.key = made.prefix
        return Day(
            today=today_of(clock.now()),
            dispatcher=Dispatcher(office, str(store.uid), str(driver.uid), "Truck 4"),
            driver=self._hand(office, url, store, driver),
            shuttle=self._hand(office, url, store, User.objects.get(username=shuttle)),
            counter=self._hand(office, url, store, counter),
            dock=Dock(Http(url), key),
            plant=f"plant:{plant.uid}",
            labels=islice(spare_labels(), KEPT_FOR_PEOPLE, None),
            signers=self._signers(store, told),
        )

    def _named(self, store: Site, role: str, *, but_for: str = "") -> User:
        people_ = User.objects.filter(site=store, role=role, is_active=True)
        return people_.exclude(username=but_for).order_by("username")[0]

    def _hand(self, office: Office, url: str, store: Site, person: User) -> Hand:
        """Enrol a device by the code that the office shows."""
        office.get(reverse("devices"))
        shown = CODE.search(office.post(reverse("enrol"), site=store.uid))
        if shown is None:
            raise ShutDoor("the office shows no code for a phone")
        phone = Phone(Http(url), person.uid)
        code = "".join(c for c in shown.group(1) if c.isalnum())
        reply = phone.enrol(code)
        if reply.status != 200:
            raise ShutDoor(f"enrol: {reply.status} {reply.body[:300]!r}")
        phone.pull_all()
        return Hand(phone, UUID(str(person.uid)), store.uid)

    def _signers(self, store: Site, told: dict[str, Any]) -> dict[str, str]:
        """Who signs at each yard of the store."""
        names = {fleet["name"]: fleet["contacts"][0][0] for fleet in told["fleets"]}
        return {str(yard.uid): names[yard.customer.name] for yard in customers.yards_of(store.uid)}
