"""Cure loads: looked at, told of, given their record, decided about."""

from datetime import datetime
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode

from pickups.kernel import clock, ids
from pickups.kernel.wire import Malformed, instant, read
from pickups.people.models import Site
from plant.curing import queries, services
from plant.curing.models import CureLoad
from plant.curing.series import MOST_BYTES, Fault, Unreadable
from plant.curing.wire import LoadPosted
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.queries import loads as said

FIELDS = ("number", "chamber", "started_at", "ended_at", "operator", "lots", "note")


@floor("GET")
def loads(request: HttpRequest, plant: Site) -> HttpResponse:
    """What is in the chambers and what came out lately."""
    return _list(request, plant, dict.fromkeys(FIELDS, ""), [])


def _list(
    request: HttpRequest,
    plant: Site,
    typed: dict[str, str],
    faults: list[str],
    *,
    status: int = 200,
    there: str = "",
) -> HttpResponse:
    return page(
        request, plant, "loads.html", status=status, here="plant-loads", there=there,
        chambers=said.rows(plant.uid, language(request), at=clock.now()),
        known=said.chambers(plant.uid), typed=typed, faults=faults,
    )  # fmt: skip


@floor("POST", decides=True)
def new(request: HttpRequest, plant: Site) -> HttpResponse:
    """A word about a load that is told here first; one that is known is told anew on its page."""
    typed = posted(request, FIELDS)
    told, faults = _read(typed, language(request))
    if told is None:
        return _list(request, plant, typed, faults, status=400)
    if queries.is_told(plant.uid, told.number):
        why = words.say(language(request), "load_there", number=told.number)
        return _list(request, plant, typed, [why], status=409, there=told.number)
    services.tell(plant=plant.uid, posted=told, by=_person(request))
    tell(request, "load_saved", number=told.number)
    if queries.load(plant.uid, told.number) is None:  # a casing of it is busy: it comes by itself
        return redirect("plant-loads")
    return redirect("plant-load", number=told.number)


@floor("GET")
def load(request: HttpRequest, plant: Site, number: str) -> HttpResponse:
    """One load: its record drawn, its casings, what is held."""
    one = _known(plant, number)
    return not_here(request, plant) if one is None else _one(request, plant, one)


def _one(
    request: HttpRequest,
    plant: Site,
    one: CureLoad,
    *,
    faults: list[str] | None = None,
    typed: dict[str, str] | None = None,
    decided: dict[str, object] | None = None,
    status: int = 200,
) -> HttpResponse:
    spoken = language(request)
    full, over = said.full(one, spoken)
    held = said.held(one, spoken)
    waiting = [h for h in held if not h.said]
    mine = services.qualified(plant=plant.uid, person=_person(request),
                              matter=queries.Matter.CURE)  # fmt: skip
    return page(
        request, plant, "load.html", status=status, here="plant-loads", one=one, full=full,
        over=over, state=words.say(spoken, f"load_state_{one.state}"),
        chamber=said.chambers(plant.uid).get(one.chamber, (one.chamber, None))[0],
        started=said.when(spoken, one.started_at), ended=said.when(spoken, one.ended_at),
        lots=said.lots(one, spoken), mates=said.mates(one, spoken),
        verdict=said.verdict(one, spoken),
        pictures=said.pictured(one, spoken), held=held, waiting=waiting, may=mine,
        whats=[(w, words.say(spoken, f"decide_{w}")) for w in queries.What.values],
        faults=faults or [], typed=typed or _typed(one), decided=decided or {},
        known=said.chambers(plant.uid),
        trace=f"{reverse('plant-trace')}?{urlencode({'load': one.number})}",
    )  # fmt: skip


@floor("POST", decides=True)
def retell(request: HttpRequest, plant: Site, number: str) -> HttpResponse:
    """The load said anew, whole."""
    one = _known(plant, number)
    if one is None:
        return not_here(request, plant)
    typed = posted(request, FIELDS) | {"number": number}
    told, faults = _read(typed, language(request))
    if told is None:
        return _one(request, plant, one, faults=faults, typed=typed, status=400)
    services.tell(plant=plant.uid, posted=told, by=_person(request))
    tell(request, "load_saved", number=number)
    return redirect("plant-load", number=number)


@floor("POST", decides=True)
def record(request: HttpRequest, plant: Site, number: str) -> HttpResponse:
    """A record from a file."""
    one = _known(plant, number)
    if one is None:
        return not_here(request, plant)
    spoken = language(request)
    file = request.FILES.get("file")
    if file is None or file.size is None or file.size > MOST_BYTES:
        key = "record_no_file" if file is None else "record_file_say"
        return _one(request, plant, one, faults=[words.say(spoken, key)], status=400)
    try:
        same = services.take_record(plant=plant.uid, number=number, raw=file.read(),
                                    form=queries.Form.TABLE, by=_person(request))  # fmt: skip
    except Unreadable as e:
        faults = [words.say(spoken, "record_wrong"), *(_fault(f, spoken) for f in e.faults)]
        return _one(request, plant, one, faults=faults, status=400)
    tell(request, "record_same" if same else "record_taken")
    return redirect("plant-load", number=number)


def _fault(f: Fault, spoken: str) -> str:
    allowed = words.say(spoken, f"wrong_{f.wrong}")
    if not f.row:
        return words.say(spoken, "record_fault_whole", value=f.value, allowed=allowed).strip()
    return words.say(spoken, "record_fault", row=f.row, column=f.column, value=f.value,
                     allowed=allowed)  # fmt: skip


@floor("POST", decides=True)
def decide(request: HttpRequest, plant: Site, number: str) -> HttpResponse:
    """What a qualified person decides about held casings."""
    one = _known(plant, number)
    if one is None:
        return not_here(request, plant)
    spoken = language(request)
    labels = request.POST.getlist("label")
    typed: dict[str, object] = {"labels": labels, "what": request.POST.get("what", ""),
                                "grounds": request.POST.get("grounds", "").strip()}  # fmt: skip
    try:
        done = services.decide(plant=plant.uid, number=number, labels=labels,
                               what=str(typed["what"]), grounds=str(typed["grounds"]),
                               by=_person(request))  # fmt: skip
    except services.NotQualified:
        return _one(request, plant, one, faults=[words.say(spoken, "held_you_not")], status=403)
    except Malformed as e:
        field = {"grounds": "decide_grounds", "what": "decide_what"}.get(e.fault.field)
        key = "decide_no_enveloping" if e.fault.field == "again" else "decide_no_labels"
        why = words.say(spoken, key) if field is None else words.say(
            spoken, "load_no", value=e.fault.value, field=words.say(spoken, field),
            allowed=words.say(spoken, "cure_allowed_words"))  # fmt: skip
        return _one(request, plant, one, faults=[why], decided=typed, status=400)
    tell(request, "decide_done", n=done)
    return redirect("plant-load", number=number)


def _known(plant: Site, number: str) -> CureLoad | None:
    return queries.load(plant.uid, number) if number.isprintable() else None


def _person(request: HttpRequest) -> UUID:
    by: UUID = request.user.uid  # type: ignore[union-attr]
    return by


def _typed(one: CureLoad) -> dict[str, str]:
    return {
        "number": one.number,
        "chamber": one.chamber,
        "started_at": _local(one.started_at),
        "ended_at": _local(one.ended_at),
        "operator": one.operator,
        "lots": "\n".join(f"{lot['kind']} {lot['number']}" for lot in one.lots),
        "note": one.note,
    }


def _local(at: datetime | None) -> str:
    return f"{clock.local(at, said.zone()):%Y-%m-%d %H:%M}" if at else ""


def _read(typed: dict[str, str], spoken: str) -> tuple[LoadPosted | None, list[str]]:
    """What was typed as a word about a load, or what is wrong with it."""
    faults = []
    moments: dict[str, str | None] = {}
    for name, term in (("started_at", "load_started"), ("ended_at", "load_ended")):
        try:
            at = _moment(typed[name], name)
        except (ValueError, Malformed):
            faults.append(_no(spoken, term, typed[name], "load_time_allowed"))
            continue
        moments[name] = clock.rfc3339(at) if at else None
    lots = []
    for line in filter(None, map(str.strip, typed["lots"].splitlines())):
        kind, _, number = line.partition(" ")
        lots.append({"kind": kind, "number": number.strip()})
    if faults:
        return None, faults
    told = {**typed, **moments, "lots": lots, "id": str(ids.uuid7()),
            "told_at": clock.rfc3339(clock.now())}  # fmt: skip
    try:
        return read(told, LoadPosted), []
    except Malformed as e:
        name = e.fault.field.partition("[")[0]
        allowed = {"lots": "load_lots_say", "number": "load_number_say"}.get(name)
        shown = typed.get(name, e.fault.value)
        if allowed:
            return None, [_no(spoken, f"load_{name}", shown, allowed)]
        term = {"ended_at": "load_ended", "operator": "load_operator"}.get(name, "load_note")
        return None, [words.say(spoken, "load_no", value=shown[:80], field=words.say(spoken, term),
                                allowed=e.fault.allowed)]  # fmt: skip


def _moment(text: str, field: str) -> datetime | None:
    """What was typed as a moment, in the dealer's time where it names no zone. Raises ValueError
    for what is none, Malformed for one that no calendar has."""
    if not text:
        return None
    at = datetime.fromisoformat(text)
    return instant(at if at.tzinfo else at.replace(tzinfo=said.zone()), field)


def _no(spoken: str, field: str, value: str, allowed: str) -> str:
    return words.say(spoken, "load_no", value=value[:80], field=words.say(spoken, field),
                     allowed=words.say(spoken, allowed))  # fmt: skip
