"""Whether a casing is worth hauling for its customer: take it, let the plant decide, leave it.

Pure. Each rule that speaks is a ground: a code, the verdict that it asks for, and the facts that
its sentence needs. The verdict is that of the gravest ground. What was not read or not told stays
open and goes to the plant; nothing is guessed. The check advises: a person may overrule it, and
why is kept. frontend/src/domain/eligibility.ts is the twin; fixtures/vectors/eligibility.json
holds both to the same answers.

General rules: the stops of `condition`; a casing whose DOT code was cut or branded off may not be
retreaded, one without a code goes to the plant (trade press, moderntiredealer.com 25714, 2006);
49 CFR 393.75(d), no retread on the front wheel of a bus. All other limits are the customer's.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from pickups.casings import size as sizes
from pickups.casings import tin
from pickups.casings.condition import OLD_REPAIRS, STOPS, Condition, Zone
from pickups.casings.tin import DateCode, Kind
from pickups.customers.rules import Terms

NAIL_HOLE_MM = 10
"""A wider hole in the crown, or one whose width was not told, goes to the plant: 3/8 inch, which
is 9.525 mm, rounded to the whole millimetres that are told (common practice, secondary sources)."""
BUS_FRONT = "49 CFR 393.75(d)"


class Verdict(StrEnum):
    """What to do with it, the mildest first."""

    TAKE = "take"
    PLANT = "plant"
    LEAVE = "leave"


class Rule(StrEnum):
    """Every rule that can speak, in the order in which grounds of one verdict are told."""

    STOP_CONDITION = "stop_condition"
    DOT_REMOVED = "dot_removed"
    TOO_OLD = "too_old"
    TOO_MANY_CAPS = "too_many_caps"
    TOO_MANY_NAIL_HOLES = "too_many_nail_holes"
    REPAIR_NOT_ACCEPTED = "repair_not_accepted"
    BRAND_NOT_ACCEPTED = "brand_not_accepted"
    SIZE_NOT_ACCEPTED = "size_not_accepted"
    NO_TIN = "no_tin"
    MILEAGE_CONTRACT = "mileage_contract"
    DATE_UNREAD = "date_unread"
    DECADE_OPEN = "decade_open"
    BIRTH_OPEN = "birth_open"
    CAPS_OPEN = "caps_open"
    PLANT_JUDGES = "plant_judges"
    BRAND_OPEN = "brand_open"
    SIZE_OPEN = "size_open"
    BUS_FRONT_WHEEL = "bus_front_wheel"


Facts = Mapping[str, int | str]


@dataclass(frozen=True, slots=True)
class Ground:
    """One rule that spoke."""

    rule: Rule
    verdict: Verdict
    facts: Facts = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Result:
    """What to do, and why: the gravest ground first."""

    verdict: Verdict
    grounds: tuple[Ground, ...]

    @property
    def because(self) -> list[str]:
        """The rules that spoke, each once: what is told with the casing."""
        return list(dict.fromkeys(ground.rule.value for ground in self.grounds))


@dataclass(frozen=True, slots=True)
class Tin:
    """A TIN as typed; made: "new", "retread", or empty where nobody looked for the R mark."""

    tin: str
    made: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing seen; mm: its greatest length, count: how many alike in this zone."""

    zone: str
    kind: str
    count: int = 1
    mm: int | None = None


@dataclass(frozen=True, slots=True)
class Looked:
    """What was seen and told of one thing that is to be picked up."""

    line: str
    tins: Sequence[Tin] = ()
    size: str = ""
    brand: str = ""
    findings: Sequence[Finding] = ()
    position: str = ""
    work: str = "retread"


def check(terms: Terms | None, looked: Looked, today: date) -> Result:
    """Hold a casing against what its customer accepts. today: for ages."""
    if looked.line == "wheel":  # a loose wheel: nothing of this is about it
        return Result(Verdict.TAKE, ())
    wanted = looked.work if looked.line == "wheel_tire" else looked.line
    tins = _tins(looked.tins, today)
    grounds = [*_seen(wanted, looked, tins)]
    if terms is not None and wanted in ("retread", "repair"):
        grounds += _asked(terms, wanted, looked, tins, today)
    if wanted == "adjustment":  # a claim's evidence is always taken
        grounds = [_eased(ground) for ground in grounds]
    grounds.sort(key=_gravity)
    return Result(grounds[0].verdict if grounds else Verdict.TAKE, tuple(grounds))


def _eased(ground: Ground) -> Ground:
    return Ground(ground.rule, Verdict.PLANT, ground.facts)


_GRAVEST_FIRST = list(reversed(Verdict))
_RULES, _ZONES, _KINDS = list(Rule), list(Zone), list(Condition)


def _gravity(ground: Ground) -> tuple[int, int, int, int]:
    zone, kind = str(ground.facts.get("zone", "")), str(ground.facts.get("kind", ""))
    return (
        _GRAVEST_FIRST.index(ground.verdict),
        _RULES.index(ground.rule),
        _KINDS.index(Condition(kind)) if kind else 0,
        _ZONES.index(Zone(zone)) if zone else 0,
    )


# --- What is asked of any casing ----------------------------------------------------------------


def _seen(wanted: str, looked: Looked, tins: "Sequence[_Tin]") -> Iterator[Ground]:
    findings = _merged(looked.findings)
    for (kind, zone), facts in findings.items():
        if kind in STOPS:
            yield Ground(Rule.STOP_CONDITION, Verdict.LEAVE, facts)
        elif _plant_judges(kind, zone, looked.findings):
            yield Ground(Rule.PLANT_JUDGES, Verdict.PLANT, facts)
    removed = any(kind == Condition.DOT_REMOVED for kind, _ in findings)
    if removed:
        verdict = Verdict.PLANT if wanted == "repair" else Verdict.LEAVE
        yield Ground(Rule.DOT_REMOVED, verdict)
    if any(one.mileage for one in tins):
        yield Ground(Rule.MILEAGE_CONTRACT, Verdict.PLANT)
    if not tins and not removed and wanted != "repair":
        yield Ground(Rule.NO_TIN, Verdict.PLANT)
    if wanted == "retread" and looked.position == "bus_front":
        yield Ground(Rule.BUS_FRONT_WHEEL, Verdict.PLANT, {"section": BUS_FRONT})


def _merged(findings: Iterable[Finding]) -> dict[tuple[str, str], dict[str, int | str]]:
    """By kind and zone: how many alike, and the greatest length where one was told."""
    merged: dict[tuple[str, str], dict[str, int | str]] = {}
    for one in findings:
        blank: dict[str, int | str] = {"kind": one.kind, "zone": one.zone, "count": 0}
        facts = merged.setdefault((one.kind, one.zone), blank)
        facts["count"] = int(facts["count"]) + one.count
        if one.mm is not None:
            facts["mm"] = max(int(facts.get("mm", 0)), one.mm)
    return merged


def _plant_judges(kind: str, zone: str, findings: Iterable[Finding]) -> bool:
    """Whether only the plant can tell. A narrow nail hole in the crown is a matter of counting."""
    if kind == Condition.NAIL_HOLE:
        alike = [one for one in findings if (one.kind, one.zone) == (kind, zone)]
        return zone != Zone.CROWN or any(one.mm is None or one.mm > NAIL_HOLE_MM for one in alike)
    return kind not in OLD_REPAIRS and kind != Condition.DOT_REMOVED


# --- What this customer asks --------------------------------------------------------------------


def _asked(
    terms: Terms, wanted: str, looked: Looked, tins: "Sequence[_Tin]", today: date
) -> Iterator[Ground]:
    read = [one for one in tins if not one.mileage]
    if terms.oldest_years is not None and (tins or wanted == "repair"):
        yield from _age(terms.oldest_years, read, today)
    if terms.most_caps is not None and wanted == "retread":
        yield from _caps(terms.most_caps, read)
    yield from _repairs(terms, looked.findings)
    yield from _brand(terms.brands, looked.brand)
    yield from _size(terms.sizes, looked.size)


@dataclass(frozen=True, slots=True)
class _Tin:
    """A TIN read. kinds: as what it may have been made, none where that does not show; weeks:
    those that its date may mean, oldest first, none that is still to come."""

    tin: str
    mileage: bool
    kinds: frozenset[Kind]
    digits: str
    weeks: tuple[DateCode, ...]


def _tins(told: Iterable[Tin], today: date) -> list[_Tin]:
    return [one for each in told if (one := _tin(each, today)) is not None]


def _tin(told: Tin, today: date) -> _Tin | None:
    """None where nothing was typed. Of several ways to read the date the likeliest is taken:
    three digits behind a fourth are a tire of before 2000, and the field asks about them."""
    reading = tin.read(told.tin, today)
    mileage = any(c.layout is tin.Layout.MILEAGE_CONTRACT for c in reading.candidates)
    if not reading.tin and not mileage:
        return None
    kinds = frozenset([Kind(told.made)] if told.made else reading.kinds)
    fitting = [c for c in reading.candidates if c.kind is None or c.kind in kinds]
    likeliest = next(iter(fitting or reading.candidates), None)
    if likeliest is None:
        return _Tin(reading.tin, mileage, kinds, "", ())
    weeks = tuple(week for week in likeliest.dates if week.first <= today)
    return _Tin(reading.tin, mileage, kinds, likeliest.digits, weeks)


_BIRTH, _RETREAD = frozenset([Kind.NEW]), frozenset([Kind.RETREAD])


def _age(limit: int, tins: Sequence[_Tin], today: date) -> Iterator[Ground]:
    """The oldest birth counts. A retread's date is never the birth, but the birth was before it:
    where that date alone is too old the casing is, whether anybody looked for the R mark or not."""

    def too_old(week: DateCode) -> bool:
        return tin.older_than(week, limit, today)

    dated = [one for one in tins if one.weeks]
    old = [one for one in dated if too_old(one.weeks[-1])]
    births = [one for one in tins if one.kinds == _BIRTH]
    # Where a birth is dated, whatever else is told is a retread and younger.
    asked = [one for one in dated if one.kinds == _BIRTH] or dated
    torn = [one.digits for one in asked if too_old(one.weeks[0]) != too_old(one.weeks[-1])]
    looking = [one.digits for one in dated if len(one.kinds) > 1]
    if old:
        first = min(old, key=lambda one: (one.weeks[-1].first, _made(one)))
        found = tin.age_years(first.weeks[-1], today)
        facts: Facts = {"limit": limit, "found": found, "by": _made(first)}
        yield Ground(Rule.TOO_OLD, Verdict.LEAVE, facts)
    elif torn:
        yield Ground(Rule.DECADE_OPEN, Verdict.PLANT, {"limit": limit, "digits": min(torn)})
    elif any(one.weeks for one in births):
        return
    elif looking and not births:
        yield Ground(Rule.BIRTH_OPEN, Verdict.PLANT, {"limit": limit, "digits": min(looking)})
    else:
        yield Ground(Rule.DATE_UNREAD, Verdict.PLANT, {"limit": limit})


def _made(one: _Tin) -> str:
    """As what it is known to have been made; empty where that is open."""
    return next(iter(one.kinds)).value if len(one.kinds) == 1 else ""


def _caps(limit: int, tins: Sequence[_Tin]) -> Iterator[Ground]:
    """One retread a TIN with the R mark; the same TIN read on both sides is one, and what is left
    of a TIN may be another's that was read better."""
    marked = {one.tin for one in tins if one.kinds == _RETREAD}
    births = {one.tin for one in tins if one.kinds == _BIRTH}
    open_ones = {one.tin for one in tins} - marked - births
    least, most = len(_apart(marked)), len(marked) + len(open_ones)
    if least > limit:
        yield Ground(Rule.TOO_MANY_CAPS, Verdict.LEAVE, {"limit": limit, "found": least})
    elif most > limit:
        facts = {"limit": limit, "least": least, "most": most}
        yield Ground(Rule.CAPS_OPEN, Verdict.PLANT, facts)


def _apart(tins: Iterable[str]) -> list[str]:
    """Those of which no two can be one TIN, the best read first."""
    apart: list[str] = []
    for each in sorted(tins, key=lambda text: (text.count(tin.UNREAD) - len(text), text)):
        if not any(_may_be_one(each, other) for other in apart):
            apart.append(each)
    return apart


def _may_be_one(a: str, b: str) -> bool:
    """Whether both may be readings of one TIN: from the date backwards no symbol differs."""
    return all(
        x == y or tin.UNREAD in (x, y) for x, y in zip(reversed(a), reversed(b), strict=False)
    )


def _repairs(terms: Terms, findings: Sequence[Finding]) -> Iterator[Ground]:
    holes = sum(one.count for one in findings if one.kind == Condition.NAIL_HOLE)
    if terms.most_nail_holes is not None and holes > terms.most_nail_holes:
        facts = {"limit": terms.most_nail_holes, "found": holes}
        yield Ground(Rule.TOO_MANY_NAIL_HOLES, Verdict.LEAVE, facts)
    if terms.repairs is not None:
        for (kind, _), told in _merged(findings).items():
            if kind in OLD_REPAIRS and kind not in terms.repairs:
                yield Ground(Rule.REPAIR_NOT_ACCEPTED, Verdict.LEAVE, told)


def _brand(accepted: Sequence[str] | None, brand: str) -> Iterator[Ground]:
    if accepted is None:
        return
    if not tidied(brand):
        yield Ground(Rule.BRAND_OPEN, Verdict.PLANT)
    elif tidied(brand) not in map(tidied, accepted):
        yield Ground(Rule.BRAND_NOT_ACCEPTED, Verdict.LEAVE, {"brand": brand.strip(" ")})


def _size(accepted: Sequence[str] | None, size: str) -> Iterator[Ground]:
    """Two sizes are one where they read alike: 295/75 R 22.5 is 295/75R22.5."""
    if accepted is None or _as_read(size) in map(_as_read, accepted):
        return
    if sizes.read(size).size is None:
        told = {"size": size.strip(" ")} if tidied(size) else {}
        yield Ground(Rule.SIZE_OPEN, Verdict.PLANT, told)
    else:
        yield Ground(Rule.SIZE_NOT_ACCEPTED, Verdict.LEAVE, {"size": size.strip(" ")})


def _as_read(text: str) -> str:
    size = sizes.read(text).size
    return size.shown if size else tidied(text)


def tidied(text: str) -> str:
    """As two texts are compared: capitals, without blanks."""
    return text.replace(" ", "").upper()
