"""What ids are called on a page: people, yards, phones, places, times."""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import reasons
from pickups.casings.words import Sayer
from pickups.customers import queries as customers
from pickups.desk import words
from pickups.kernel import clock
from pickups.people import queries as people


class Names:
    """Names of the people and yards asked for, and of every phone and place, in one language."""

    def __init__(
        self, language: str, *, persons: Iterable[UUID] = (), yards: Iterable[UUID] = ()
    ) -> None:
        self.language = language
        self._persons = people.names(persons)
        self._yards = customers.yard_bodies(list(yards))
        self._devices = {d.uid: d.name for d in people.devices()}
        self._sites = {s.uid: s.name for s in people.sites()}
        self._zone = ZoneInfo(settings.DEALER_TIME_ZONE)
        self.told = Sayer(language, settings.DEALER_CURRENCY, office=True)
        """Says what was told of a casing, or of a line of a pickup, to our own people."""

    def say(self, key: str, **values: object) -> str:
        """A sentence of the page's language."""
        return words.say(self.language, key, **values)

    def quoted(self, uid: UUID, said: Mapping[UUID, str]) -> str:
        """What was typed, in quotes, or that it was erased: of words by their id."""
        return self.say("quoted", text=said[uid]) if uid in said else self.say("words_erased")

    def noted(self, note: str) -> str:
        """A note in quotes; a hold by a plant's own pages has a code, said in words."""
        code, _, number = note.removeprefix("kept:").partition(":")
        if note.startswith("kept:") and code in ("load_short", "too_often", "claim"):
            return self.say(f"kept_{code}", number=number)
        return self.say("quoted", text=note)

    def person(self, uid: UUID | None) -> str:
        """A person who works here, or that nobody knows them."""
        return self._persons.get(uid, self.say("nobody")) if uid else self.say("nobody")

    def yard(self, uid: UUID) -> str:
        """A yard by its name alone."""
        known = self._yards.get(uid)
        return str(known["name"]) if known else self.say("no_yard")

    def customer(self, yard: UUID) -> str:
        """Whose yard it is."""
        known = self._yards.get(yard)
        return str(known["customer_name"]) if known else self.say("no_yard")

    def place(self, yard: UUID) -> str:
        """A yard with its customer."""
        if yard not in self._yards:
            return self.say("no_yard")
        return self.say("of_customer", yard=self.yard(yard), customer=self.customer(yard))

    def device(self, uid: UUID | None) -> str:
        """A phone or tablet."""
        return self._devices.get(uid, self.say("no_device")) if uid else self.say("no_device")

    def site(self, uid: UUID) -> str:
        """A store or plant."""
        return self._sites.get(uid, self.say("plant_of"))

    def at_station(self, holder: str, told: Mapping[str, Any]) -> str:
        """Where in a plant something was told: the station and whose plant, or the plant alone."""
        plant = self.site(UUID(holder.partition(":")[2])) if holder else self.say("plant_of")
        station = reasons.station(str(told.get("station", "")), self.language)
        return self.say("at_station", station=station, plant=plant) if station else plant

    def when(self, at: datetime) -> str:
        """An instant, in the dealer's time zone."""
        return words.day_and_time(self.language, clock.local(at, self._zone))

    def time(self, at: datetime, beside: datetime) -> str:
        """An instant as its time alone, where it is of the same day as the one beside it."""
        here, there = clock.local(at, self._zone), clock.local(beside, self._zone)
        return f"{here:%H:%M}" if here.date() == there.date() else self.when(at)

    def holder(self, text: str) -> str:
        """Who has a casing: `person:`, `customer:`, `site:`, `plant:` or `road:` and an id; of what
        is no id nobody is known."""
        kind, _, key = text.partition(":")
        try:
            uid = UUID(key)
        except ValueError:
            return self.say("nobody")
        if kind == "person":
            return self.person(uid)
        if kind == "customer":
            return customers.names([uid]).get(uid) or self.say("no_customer")
        return self.say("road") if kind == "road" else self._sites.get(uid, self.say("no_place"))
