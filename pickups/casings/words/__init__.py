"""What was told of a casing, of scrap and of what stays, in sentences for paper, mails and pages.

Pure. It takes `told` as work orders and lines of a visit keep it, and says nothing of what was not
told; what people wrote is put in as it is, never read as a template. Casings that an app of an
earlier version told have no `line`, and then nothing is said of their kind.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from string import Template
from typing import Any

from pickups.casings import condition, tread
from pickups.casings.words.en import EN
from pickups.casings.words.es import ES
from pickups.kernel.languages import amount

Told = Mapping[str, Any]
WORKED_ON = frozenset({"", "retread", "repair", "wheel_tire"})
"""Lines that come back worked on: only of these a day is promised. A casing told by an app that
knew of no lines is one to retread or repair."""
WARNED = frozenset({condition.Condition.CORD, condition.Condition.SEPARATION,
                    condition.Condition.RUN_FLAT})  # fmt: skip
"""What an owner is warned of in writing where such a casing stays with him."""


def comes_back(told: Told) -> bool:
    """Whether a day may be promised for it."""
    return told.get("line", "") in WORKED_ON


def is_stopped(told: Told) -> bool:
    """Whether something was seen on it that stops a casing at once."""
    return any(condition.is_stop(f["kind"]) for f in told.get("findings", ()))


def is_unread(told: Told) -> bool:
    """Whether it was taken by label and size alone: nobody has read or checked it yet."""
    seen = ("tins", "treads_32nds", "check")
    return told.get("line", "wheel") != "wheel" and not any(told.get(key) for key in seen)


def is_warned(told: Told) -> bool:
    """Whether its owner is warned of it in writing where it stays with him."""
    return any(f["kind"] in WARNED for f in told.get("findings", ()))


def marks(told: Told) -> str:
    """Size, rating and brand, as they stand on it."""
    sized = " ".join(str(told[key]) for key in ("size", "rating") if told.get(key))
    return ", ".join(part for part in (sized, told.get("brand", "")) if part)


@dataclass(frozen=True, slots=True)
class Sayer:
    """Says it in a language, amounts in a currency (ISO 4217); office: to our own people."""

    language: str
    currency: str
    office: bool = False

    def say(self, key: str, **names: object) -> str:
        """One sentence, or a part of one."""
        words = ES if self.language == "es" else EN
        said = (words.get(f"{key}_office") if self.office else None) or words[key]
        return Template(said).substitute(names)

    def casing(self, told: Told) -> list[str]:
        """All that was told of a casing but its marks, terms and promise, a sentence each."""
        said = [*self.kind(told), self.tins(told), self.treads(told), self.ran(told)]
        said += [self.found(told), *self.checked(told)]
        return [sentence for sentence in said if sentence]

    def kind(self, told: Told) -> list[str]:
        """What kind of thing it is, with what that kind records."""
        line = told.get("line", "")
        if not line:
            return []
        design = told.get("tread_design", "") if line == "retread" else ""
        why = told.get("complaint", "") if line == "adjustment" else ""
        key = f"line_{line}" + ("_as" if design else "_why" if why else "")
        return [self.say(key, design=design, complaint=why), *self._offered(told), *self._of(told)]

    def _offered(self, told: Told) -> list[str]:
        sale = told.get("sale") or {}
        if told.get("line") != "sell":
            return []
        said = [self.say("grade", grade=sale["grade"])] if sale.get("grade") else []
        if (cents := sale.get("cents")) is not None:
            said.append(self.say(f"offered_{sale['pays']}", amount=amount(cents, self.currency)))
        return said

    def _of(self, told: Told) -> list[str]:
        """Of a wheel what it is of; what is branded on."""
        said = [self.say(f"rim_{told['rim']}")] if told.get("rim") else []
        said += [self.say("valve_out")] if told.get("valve_out") else []
        brand = told.get("fleet_brand")
        return said + ([self.say("fleet_brand", brand=brand)] if brand else [])

    def handling(self, told: Told) -> str:
        """What whoever lays a hand on it has to know before; empty for most."""
        wheel = told.get("line") == "wheel_tire"
        return self.say("valve_caution") if wheel else ""

    def tins(self, told: Told) -> str:
        """Every TIN, and whether it is of the tire's birth or of a retread."""
        tins = told.get("tins") or ([{"tin": told["tin"]}] if told.get("tin") else [])
        said = [
            self.say(f"tin_{t['made']}", tin=t["tin"]) if t.get("made") else t["tin"] for t in tins
        ]
        return self.say("tins", tins=", ".join(said)) if said else ""

    def treads(self, told: Told) -> str:
        """Depths by place and groove, the lowest and the mean; empty where none was read."""
        places = told.get("treads_32nds") or [told.get("tread_32nds", [])]
        found = tread.measure(places)
        if found.lowest is None or found.mean is None:
            return ""
        shown = " | ".join(
            " ".join("\N{EN DASH}" if depth is None else str(depth) for depth in place)
            for place in places
            if any(depth is not None for depth in place)
        )
        key = "tread_places" if "|" in shown else "tread"
        mean = f"{found.mean:.1f}".removesuffix(".0")
        return self.say(key, depths=shown, lowest=found.lowest, mean=mean)

    def ran(self, told: Told) -> str:
        """The vehicle and wheel that it came off, and why it was pulled, as the customer says."""
        where = [self.say("unit", number=told["unit"])] if told.get("unit") else []
        where += [self.say(f"position_{told['position']}")] if told.get("position") else []
        where += [told["wheel"]] if told.get("wheel") else []
        if told.get("odometer") is not None:
            distance, unit = f"{told['odometer']:,}", told.get("odometer_in", "mi")
            where.append(self.say("odometer", distance=distance, unit=unit))
        said = [self.say("ran", where=", ".join(where))] if where else []
        if told.get("pulled_for"):
            said.append(self.say("pulled", why=self.say(f"pulled_{told['pulled_for']}")))
        return " ".join(said)

    def found(self, told: Told) -> str:
        """What was seen on it: kind, zone and side, how often, how large."""
        said = "; ".join(self._finding(f) for f in told.get("findings", ()))
        return self.say("found", findings=said) if said else ""

    def _finding(self, f: Told) -> str:
        said = [condition.kind_in_words(f["kind"], self.language)]
        said.append(condition.zone_in_words(f["zone"], self.language))
        said += [condition.side_in_words(f["side"], self.language)] if f.get("side") else []
        said += [self.say("times", n=f["count"])] if f.get("count", 1) > 1 else []
        said += [f"{f['mm']} mm"] if f.get("mm") else []
        return ", ".join(said)

    def checked(self, told: Told) -> list[str]:
        """The spec check as it was shown, and why a person did otherwise. Where nothing spoke
        against it and the customer has no specification there is nothing to say."""
        check = told.get("check")
        if not check or (check["verdict"] == "take" and not check.get("number")):
            return []
        verdict = self.say(f"verdict_{check['verdict']}")
        if why := ", ".join(self.because(check.get("because", ()))):
            verdict = self.say("verdict_why", verdict=verdict, why=why)
        key = "check_by" if check.get("number") else "check"
        said = [self.say(key, number=check.get("number"), verdict=verdict)]
        if check.get("overruled"):
            whose = "overruled_store" if told.get("store") else "overruled_yard"
            said.append(self.say(whose, why=check["overruled"]))
        return said

    def because(self, codes: Iterable[str]) -> list[str]:
        """The rules of the spec check that spoke, in a few words each."""
        words = ES if self.language == "es" else EN
        return [words.get(f"because_{code}", code.replace("_", " ")) for code in codes]

    def cautions(self, told: Told) -> list[str]:
        """What has to be said where somebody may lay a hand on it, the gravest first."""
        seen = [_Seen(f["zone"], f["kind"]) for f in told.get("findings", ())]
        return [condition.caution_in_words(c, self.language) for c in condition.cautions_of(seen)]

    def unsigned(self, *, nobody_there: bool, refused: str, unsigned: str) -> str:
        """Why nobody signed for a visit, in a few words; empty where nothing was told of it."""
        key = "nobody_there" if nobody_there else f"refused_{refused}" if refused else ""
        return ": ".join(said for said in (self.say(key) if key else "", unsigned) if said)

    def scrap(self, told: Told) -> str:
        """How many, what each costs and all of them, and the paper that they travel under."""
        n, fee = told.get("count", 0), told.get("fee_cents")
        said = [self.say("scrap_one" if n == 1 else "scrap_n", n=n)]
        if fee:
            each, total = amount(fee, self.currency), amount(fee * n, self.currency)
            said.append(self.say("fee", each=each, total=total))
        elif fee == 0:
            said.append(self.say("fee_none"))
        said += [self.say("manifest", number=told["manifest"])] if told.get("manifest") else []
        return f"{', '.join(said)}."

    def left(self, told: Told) -> str:
        """Which casing stays."""
        return self.say("left", what=marks(told) or self.say("left_nameless"))

    def why_left(self, told: Told) -> list[str]:
        """What was read and seen of it, why it stays, and the warning that goes with it."""
        said = [self.tins(told), self.found(told), *self.checked(told)]
        return [sentence for sentence in (*said, self.warning(told)) if sentence]

    def warning(self, told: Told) -> str:
        """The written warning to its owner, with the cautions that it does not hold already."""
        if is_warned(told):
            held = (condition.Caution.DO_NOT_RUN, condition.Caution.NEVER_ADD_AIR)
            rest = [condition.caution_in_words(c, self.language) for c in held]
            return " ".join(
                [self.say("warning"), *(c for c in self.cautions(told) if c not in rest)]
            )
        return " ".join(self.cautions(told))


@dataclass(frozen=True, slots=True)
class _Seen:
    zone: str
    kind: str
