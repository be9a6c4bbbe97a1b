"""What the plant enters for its cures, and whom it names as qualified to decide."""

from dataclasses import dataclass
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.people import queries as people
from pickups.people.models import Site
from plant.curing import equivalent, queries, series, services, units
from plant.curing.equivalent import Law
from plant.curing.record import Terms
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.queries import cure as said
from plant.floor.queries import loads

FIELDS = ("chamber", "unit", "low", "most", "minutes", "gap", "pressure_unit", "low_kpa",
          "most_kpa", "reference", "energy", "source")  # fmt: skip
EMPTY = dict.fromkeys(FIELDS, "") | {"unit": "c", "pressure_unit": "kpa"}


@floor("GET")
def cure(request: HttpRequest, plant: Site) -> HttpResponse:
    """What stands for each chamber, what stood before, and who decides."""
    return _page(request, plant, EMPTY, [])


def _page(
    request: HttpRequest, plant: Site, typed: dict[str, str], faults: list[str], status: int = 200
) -> HttpResponse:
    spoken = language(request)
    return page(
        request, plant, "cure.html", status=status, here="plant-loads", typed=typed, faults=faults,
        entered=said.entered(plant.uid, spoken), known=loads.chambers(plant.uid),
        numbers=said.numbers(plant.uid), qualified=said.qualified(plant.uid, spoken),
        names=request.user.role == "admin",  # type: ignore[union-attr]
        people=people.working(["plant", "admin"]),
        matters=[(m, words.say(spoken, f"matter_{m}")) for m in queries.Matter.values],
    )  # fmt: skip


@floor("POST", decides=True)
def specify(request: HttpRequest, plant: Site) -> HttpResponse:
    """Enter what is asked of a cure, or end it."""
    spoken = language(request)
    typed = posted(request, FIELDS)
    typed["chamber"] = typed["chamber"] if typed["chamber"] in loads.chambers(plant.uid) else ""
    knowing = request.POST.get(f"knowing-{typed['chamber']}", "0")
    read = _Read(typed, spoken)
    ends = "end" in request.POST
    terms = None if ends else read.terms()
    law = None if ends else read.law()
    source = typed["source"][:200] or ("-" if ends else read.no("cure_source", "", "words"))
    if read.faults:
        return _page(request, plant, typed, read.faults, status=400)
    try:
        services.specify(plant=plant.uid, chamber=typed["chamber"], terms=terms, law=law,
                         source=source, by=_person(request),
                         knowing=int(knowing) if knowing.isdecimal() and len(knowing) < 9
                         else 0)  # fmt: skip
    except services.Outdated as e:
        why = words.say(spoken, "cure_outdated", number=e.number)
        return _page(request, plant, typed, [why], status=409)
    tell(request, "cure_saved")
    return redirect("plant-cure")


@floor("POST", decides=True)
def name(request: HttpRequest, plant: Site) -> HttpResponse:
    """An administrator names a person qualified."""
    spoken = language(request)
    if request.user.role != "admin":  # type: ignore[union-attr]
        return _page(request, plant, EMPTY, [words.say(spoken, "qualified_say")], status=403)
    person = next((p for p in people.working(["plant", "admin"])
                   if str(p.uid) == request.POST.get("person")), None)  # fmt: skip
    grounds = request.POST.get("grounds", "").strip()
    matter = request.POST.get("matter", "")
    if person is None or not grounds or matter not in queries.Matter.values:
        why = words.say(spoken, "load_no", value=grounds,
                        allowed=words.say(spoken, "cure_allowed_words"),
                        field=words.say(spoken, "qualified_grounds"))  # fmt: skip
        return _page(request, plant, EMPTY, [why], status=400)
    if person.uid == _person(request):
        why = words.say(spoken, "qualified_not_self", name=person)
        return _page(request, plant, EMPTY, [why], status=400)
    services.name_qualified(plant=plant.uid, person=person.uid, matter=matter, grounds=grounds,
                            by=_person(request))  # fmt: skip
    tell(request, "qualified_named", name=person)
    return redirect("plant-cure")


@floor("POST", decides=True)
def end(request: HttpRequest, plant: Site, qualified: int) -> HttpResponse:
    """An administrator ends it."""
    if request.user.role != "admin":  # type: ignore[union-attr]
        why = words.say(language(request), "qualified_say")
        return _page(request, plant, EMPTY, [why], status=403)
    if not services.end_qualified(plant=plant.uid, qualified=qualified, by=_person(request)):
        return not_here(request, plant)
    tell(request, "qualified_ended")
    return redirect("plant-cure")


def _person(request: HttpRequest) -> UUID:
    by: UUID = request.user.uid  # type: ignore[union-attr]
    return by


@dataclass
class _Read:
    """The form as figures; what is wrong gathers in `faults`."""

    typed: dict[str, str]
    spoken: str

    def __post_init__(self) -> None:
        self.faults: list[str] = []

    def terms(self) -> Terms | None:
        """The band in °C and kPa, minutes, seconds."""
        unit = "f" if self.typed["unit"] == "f" else "c"
        force = self.typed["pressure_unit"]
        force = force if force in units.PRESSURES else "kpa"
        low = self._heat("cure_low", "low", unit, wanted=True)
        most = self._heat("cure_most", "most", unit)
        minutes = self._number("cure_minutes", "minutes", 1, 10_000, wanted=True)
        gap = self._number("cure_gap", "gap", 0.01, 600, wanted=True)
        low_kpa = self._force("cure_low_kpa", "low_kpa", force)
        most_kpa = self._force("cure_most_kpa", "most_kpa", force)
        for term, name, one, two in (("cure_most", "most", low, most),
                                     ("cure_most_kpa", "most_kpa", low_kpa, most_kpa)):  # fmt: skip
            if one is not None and two is not None and two <= one:
                self.no(term, self.typed[name], "above")
        if self.faults or low is None or minutes is None or gap is None:
            return None
        return Terms(low, minutes, gap * 60, most, low_kpa, most_kpa)

    def law(self) -> Law | None:
        """Reference and energy, or neither."""
        reference = self._heat("cure_reference", "reference", self.typed["unit"] or "c")
        energy = self._number("cure_energy", "energy", equivalent.LEAST_KJ, equivalent.MOST_KJ)
        if (reference is None) != (energy is None) and not self.faults:
            self.no("cure_energy", self.typed["energy"], "both")
        return Law(reference, energy) if reference is not None and energy is not None else None

    def no(self, field: str, value: str, allowed: str, **values: object) -> str:
        """One thing that is wrong."""
        self.faults.append(words.say(
            self.spoken, "load_no", value=value[:40], field=words.say(self.spoken, field),
            allowed=words.say(self.spoken, f"cure_allowed_{allowed}", **values),
        ))  # fmt: skip
        return ""

    def _heat(self, field: str, name: str, unit: str, *, wanted: bool = False) -> float | None:
        low, most = series.COLDEST_C, series.HOTTEST_C
        if unit == "f":
            low, most = units.fahrenheit(low), units.fahrenheit(most)
        value = self._number(field, name, low, most, wanted=wanted)
        return None if value is None else units.celsius(value, unit)

    def _force(self, field: str, name: str, unit: str) -> float | None:
        value = self._number(field, name, 0, series.HIGHEST_KPA / units.kpa(1, unit))
        return None if value is None else units.kpa(value, unit)

    def _number(
        self, field: str, name: str, low: float, most: float, *, wanted: bool = False
    ) -> float | None:
        text = self.typed[name].replace(",", ".", 1)
        if not text:
            if wanted:
                self.no(field, "", "number")
            return None
        plain = text.isascii() and text.removeprefix("-").replace(".", "", 1).isdecimal()
        value = float(text) if plain and len(text) < 12 else None
        if value is None or not low <= value <= most:
            self.no(field, self.typed[name], "range", low=f"{low:g}", high=f"{most:g}")
            return None
        return value
