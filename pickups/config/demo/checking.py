"""The spec check of the demo's phones, as a phone makes it: what is told is what was shown.

A casing that should stay and is taken all the same has a reason; in the demo it is always this.
"""

from collections.abc import Mapping
from datetime import date
from typing import Any

from pickups.casings import eligibility
from pickups.casings.eligibility import Finding, Looked, Tin, Verdict
from pickups.customers.rules import Terms

ASKED_FOR = "The customer asks for it"


def checked(
    told: Mapping[str, Any], terms: Terms | None, *, uid: str | None, number: int | None, day: date
) -> dict[str, Any]:
    """The check of a thing as it is told; terms, uid, number: of the specification in force."""
    looked = Looked(
        line=told.get("line", "retread"),
        tins=[Tin(one["tin"], one["made"]) for one in told.get("tins", ())],
        size=told.get("size", ""),
        brand=told.get("brand", ""),
        findings=[
            Finding(one["zone"], one["kind"], one.get("count", 1), one.get("mm"))
            for one in told.get("findings", ())
        ],
        position=told.get("position", ""),
        work=told.get("work", "retread"),
    )
    result = eligibility.check(terms, looked, day)
    return {
        "verdict": result.verdict.value,
        "specification": uid,
        "number": number,
        "because": result.because,
        "overruled": ASKED_FOR if result.verdict is Verdict.LEAVE else "",
    }
