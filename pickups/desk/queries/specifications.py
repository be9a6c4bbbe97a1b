"""What each customer accepts of a casing, as the office reads it; what a phone would say by it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

import msgspec

from pickups.casings import condition, eligibility
from pickups.casings.eligibility import NAIL_HOLE_MM, Finding, Ground, Looked, Tin
from pickups.customers import queries as customers
from pickups.customers.models import Customer, SpecificationVersion, Yard
from pickups.customers.queries import Specified
from pickups.customers.rules import PLACES, Terms
from pickups.desk import words
from pickups.desk.queries.names import Names


@dataclass(frozen=True)
class Line:
    """What holds at one place of a customer: all of its yards, or one with its own."""

    customer: UUID
    yard: UUID | None
    name: str
    where: str
    accepts: str
    stands: str


@dataclass(frozen=True)
class Version:
    """One word about a specification as it was said."""

    number: int
    when: str
    who: str
    accepts: str


@dataclass(frozen=True)
class Place:
    """A customer, all of its yards or one; what stands there, and every word that was said."""

    customer: Customer
    yard: Yard | None
    yards: Sequence[Yard]
    number: int
    terms: Terms | None
    said: str
    stands: str
    versions: Sequence[Version]

    @property
    def title(self) -> str:
        """Whose page it is."""
        return str(self.yard or self.customer)


def listed(language: str, text: str) -> list[Line]:
    """Every customer whose name holds a text, each with what holds at all yards and at some."""
    found = [c for c in customers.every_customer() if text.casefold() in c.name.casefold()]
    standing = customers.specifications_standing(customers=[c.uid for c in found])
    names = _names(language, standing)
    lines: list[Line] = []
    for customer in found:
        own = [s for s in standing if s.customer == customer.uid]
        general = next((s for s in own if s.yard is None), None)
        lines.append(_line(customer, general, names))
        lines += [_line(customer, s, names) for s in own if s.yard is not None]
    return lines


def _line(customer: Customer, stands: Specified | None, names: Names) -> Line:
    yard = stands.yard if stands else None
    return Line(
        customer=customer.uid,
        yard=yard,
        name=customer.name,
        where=names.say("spec_at", yard=names.yard(yard)) if yard else names.say("spec_everywhere"),
        accepts=in_words(stands.terms, names.language) if stands else names.say("spec_nothing"),
        stands=_stands(stands, names) if stands else "",
    )


def _names(language: str, standing: Iterable[Specified]) -> Names:
    told = list(standing)
    persons = {s.by for s in told if s.by}
    return Names(language, persons=persons, yards=[s.yard for s in told if s.yard])


def _stands(stands: Specified, names: Names) -> str:
    who = names.person(stands.by) if stands.by else names.say("spec_by_program")
    return names.say("spec_numbered", number=stands.number, when=names.when(stands.at), who=who)


def place(language: str, customer: UUID, yard: UUID | None) -> Place | None:
    """The page of a customer or of one of its yards; None where there is none such."""
    owner = customers.customer(customer)
    if owner is None:
        return None
    yards = list(owner.yards.order_by("name", "uid"))
    own = next((y for y in yards if y.uid == yard), None)
    if yard is not None and own is None:
        return None
    said = customers.specification_versions(customer, yard)
    names = Names(language, persons={v.by for v in said if v.by})
    last = said[0] if said else None
    terms = msgspec.convert(last.terms, Terms) if last and last.terms is not None else None
    versions = [_version(v, names) for v in said]
    return Place(
        customer=owner,
        yard=own,
        yards=yards,
        number=last.number if last else 0,
        terms=terms,
        said=_said(terms, owner, own, names),
        stands=_numbered(versions[0], names) if terms else "",
        versions=versions[1 if terms else 0 :],
    )


def _said(terms: Terms | None, owner: Customer, yard: Yard | None, names: Names) -> str:
    if terms is not None:
        return in_words(terms, names.language)
    everywhere = customers.specifications_standing(customers=[owner.uid]) if yard else []
    if any(s.yard is None for s in everywhere):
        return names.say("spec_of_customer", customer=owner.name)
    return names.say("spec_nothing")


def _version(v: SpecificationVersion, names: Names) -> Version:
    terms = None if v.terms is None else msgspec.convert(v.terms, Terms)
    return Version(
        number=v.number,
        when=names.when(v.at),
        who=names.person(v.by) if v.by else names.say("spec_by_program"),
        accepts=in_words(terms, names.language) if terms else names.say("spec_was_withdrawn"),
    )


def _numbered(version: Version, names: Names) -> str:
    told = {"number": version.number, "when": version.when, "who": version.who}
    return names.say("spec_numbered", **told)


def who_said(language: str, customer: UUID, yard: UUID | None) -> Version:
    """The last word about a specification: there has been one."""
    (last, *_) = customers.specification_versions(customer, yard)
    return _version(last, Names(language, persons={last.by} if last.by else ()))


def in_words(terms: Terms, language: str) -> str:
    """What is accepted, in a line; a field that asks nothing is not said."""

    def say(key: str, **values: object) -> str:
        return words.say(language, key, **values)

    def up_to(key: str, n: int | None) -> list[str]:
        if n is None:
            return []
        of_few = {0: "_none", 1: "_one"}.get(n, "")
        return [say(f"says_{key}{of_few}", n=n)]

    def listed_as(key: str, told: Sequence[str] | None) -> list[str]:
        return [say(f"says_{key}", which=", ".join(told))] if told else []

    designs = [
        say("says_design", position=say(f"position_{where}"), design=getattr(terms.designs, where))
        for where in PLACES
        if getattr(terms.designs, where)
    ]
    repairs = [say(f"repair_{kind}") for kind in terms.repairs or ()]
    parts = [
        *up_to("years", terms.oldest_years),
        *up_to("caps", terms.most_caps),
        *up_to("holes", terms.most_nail_holes),
        *([say("says_repairs_none")] if terms.repairs == [] else listed_as("repairs", repairs)),
        *listed_as("brands", terms.brands),
        *listed_as("sizes", terms.sizes),
        *listed_as("designs", designs),
        *([say("says_fleet_brand", brand=terms.fleet_brand)] if terms.fleet_brand else []),
        *([say("says_pull", n=terms.pull_32nds)] if terms.pull_32nds is not None else []),
    ]
    if terms.rejects != "ask":
        parts.append(say("says_rejects", what=say(f"spec_rejects_{terms.rejects}")))
    return "; ".join(parts) or say("spec_asks_nothing")


# --- What a phone would say -----------------------------------------------------------------------


@dataclass(frozen=True)
class Tried:
    """What a phone would say of a casing: the verdict, and each reason as a sentence."""

    verdict: str
    said: str
    why: Sequence[str]


def tried(
    language: str, terms: Terms | None, typed: dict[str, str], holes: int, today: date
) -> Tried:
    """Hold a casing that was typed in against what stands."""
    retreads = [Tin(one.strip(), "retread") for one in typed["retreads"].split(",") if one.strip()]
    birth = [Tin(typed["tin"], "new")] if typed["tin"].strip() else []
    looked = Looked(
        line="retread",
        tins=[*birth, *retreads],
        size=typed["size"],
        brand=typed["brand"],
        findings=[Finding("crown", "nail_hole", holes, NAIL_HOLE_MM)] if holes else [],
    )
    result = eligibility.check(terms, looked, today)
    return Tried(
        verdict=result.verdict,
        said=words.say(language, f"spec_{result.verdict}"),
        why=[_ground(language, ground) for ground in result.grounds],
    )


def _ground(language: str, ground: Ground) -> str:
    facts = dict(ground.facts)
    if "kind" in facts:
        kind = condition.kind_in_words(str(facts["kind"]), language)
        facts["kind"] = kind[:1].upper() + kind[1:]
        facts["zone"] = condition.zone_in_words(str(facts["zone"]), language)
    return words.say(language, f"ground_{ground.rule}", **facts)


def terms_at(customer: UUID, yard: UUID | None) -> Terms | None:
    """What holds at a place: a yard's own, or else its customer's."""
    found = customers.specifications_standing(customers=[customer])
    own = [s for s in found if s.yard == yard] or [s for s in found if s.yard is None]
    return own[0].terms if own else None
