"""What facts cannot mean all at once, as questions for a person; and which of those are answered.

Nothing here refuses a fact. A fact that raised a question carries the question's kind as its code.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from uuid import UUID

from pickups.custody import fold, handing
from pickups.custody.fold import Fact, Kind, LabelView
from pickups.custody.ledger import Told
from pickups.custody.names import joined
from pickups.custody.owning import DEALER
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.labels import queries as labels
from pickups.people import queries as people
from pickups.questions import queries as asked
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask

AHEAD = timedelta(minutes=5)
"""How far ahead of our clock a fact may be, its sender's skew taken off, before we ask."""

Owners = Mapping[UUID, tuple[UUID, UUID]]


def raise_all(
    new: Sequence[Told],
    views: Mapping[str, LabelView],
    owners: Owners,
    strayed: Mapping[UUID, Ask],
    originals: Mapping[UUID, Kind],
    sites: Mapping[UUID, UUID],
    site: UUID,
    at: datetime,
) -> dict[UUID, str]:
    """Open what a person has to decide; returns, for each fact in doubt, its first question.

    strayed: what `astray` found. originals: the kind of every fact known that a correction may
    name. sites: the store where each work order was seen until now. site: the sender's.
    """
    if not new:
        return {}
    asks = list(_about_labels(fold.each(views)))
    codes: dict[UUID, str] = {}
    swapped = {t.fact.uid for t in new if t.fact.kind is Kind.RELABELLED}
    for view in fold.each(views) if swapped else ():
        doubtful = list(_about_names(view, swapped))
        asks += doubtful
        if doubtful:
            of_view = [f.uid for f in view.facts if f.uid in swapped]
            codes |= dict.fromkeys(of_view, Question.LABEL_REPLACED.value)
    stuck_on = {label for t in new for label in _stuck_on(t.fact)}
    printed = labels.printed(stuck_on) if stuck_on else set()
    void = labels.voided(stuck_on) if stuck_on else set()
    strangers = people.unknown_people({t.by for t in new if t.by is not None})
    nowhere = _unknown({t.fact.holder for t in new if _names_another(t)})
    for t in new:
        view = views[t.fact.label]
        if view.contested:
            codes[t.fact.uid] = Question.LABEL_CONTESTED.value
        elif conflicts(view):
            codes[t.fact.uid] = Question.IMPOSSIBLE_ORDER.value
        if t.fact.uid in strayed:
            codes.setdefault(t.fact.uid, Question.WRONG_OWNER.value)
        found = [*_about(t, view, owners, printed, void, strangers, at)]
        if t.fact.corrects is not None:
            found += _about_correction(t, originals, sites, site)
        if _names_another(t) and t.fact.holder in nowhere:
            said = {"fact": str(t.fact.uid), "taker": t.fact.holder}
            found.append(Ask(Question.HOLDER_UNKNOWN, t.fact.holder, said))
        for ask in found:
            codes.setdefault(t.fact.uid, ask.kind.value)
            asks.append(ask)
    questions.ask(asks, at=at)
    return codes


def astray(
    views: Mapping[str, LabelView],
    owners: Owners,
    yards: Mapping[UUID, UUID],
    dealers: Collection[UUID],
) -> dict[UUID, Ask]:
    """The question of every fact that says a casing was handed to a customer whose it is not, as
    all stands now, whatever came last. yards: where each claim came from; dealers: the claims
    whose casing is the dealer's."""
    found = {}
    for view in fold.each(views):
        back = [f for f in view.facts if f.kind is Kind.RETURNED]
        if not back or len(view.claims) != 1:
            continue  # a contested label's are nobody's
        claim = view.claims[0].uid
        # Whose it is nobody knows where its yard is not known: that is a question of its own.
        home = owners.get(yards[claim])
        owner = DEALER if claim in dealers else str(home[0]) if home else ""
        for f in back:
            if owner and f.holder != f"customer:{owner}":
                named = {"fact": str(f.uid), "holder": f.holder, "owner": owner}
                found[f.uid] = Ask(Question.WRONG_OWNER, f"label:{f.label}", named)
    return found


def settle_strayed(
    strayed: Mapping[UUID, Ask], views: Mapping[str, LabelView], at: datetime
) -> None:
    """Ask what `astray` found, and close what was asked and holds no longer since an owner or a
    label changed. What a person has decided about the same is not asked again."""
    calm = {
        f"label:{fact.label}"
        for view in fold.each(views)
        for fact in view.facts
        if fact.kind is Kind.RETURNED and not view.contested
    }
    calm -= {ask.subject for ask in strayed.values()}
    if calm:
        how = "settled by a later fact"
        questions.settle(kinds=[Question.WRONG_OWNER], subjects=calm, how=how, at=at)
    asks = strayed.values()
    questions.ask([a for a in asks if not asked.was_decided(a.kind, a.subject, a.facts)], at=at)


def _stuck_on(fact: Fact) -> list[str]:
    """The label that a casing wears by this fact: one that we should have printed."""
    if fact.kind is Kind.RELABELLED:
        return [fact.told["now"]]
    return [fact.label] if fact.kind is Kind.PICKED_UP else []


def _names_another(t: Told) -> bool:
    """Whether a device says that somebody else has it than who is unlocked; of an owner who is
    not known it says so by the yard."""
    another = t.device is not None and t.fact.holder not in ("", f"person:{t.by}")
    return another and t.fact.kind is not Kind.RETURNED


def _unknown(holders: set[str]) -> set[str]:
    """Which of these are no person, place or customer of ours."""
    if not holders:
        return set()
    pairs = [h.partition(":") for h in holders]
    persons = {UUID(uid) for kind, _, uid in pairs if kind == "person"}
    owners = {UUID(uid) for kind, _, uid in pairs if kind == "customer"}
    found = {f"person:{uid}" for uid in people.unknown_people(persons)}
    found |= {f"customer:{uid}" for uid in owners - set(customers.names(owners))}
    places = {str(s.uid) for s in people.sites()}
    return found | {
        f"{kind}:{uid}" for kind, _, uid in pairs if kind in ("site", "plant") and uid not in places
    }


def settle_told_by_one(views: Mapping[str, LabelView], new: Sequence[Told], at: datetime) -> None:
    """Hand-overs that only one side had told and that are answered now."""
    if all(t.fact.kind is Kind.PICKED_UP for t in new):
        return  # the common case in a yard
    subjects: list[str] = []
    for view in fold.each(views):
        told = {f.uid for f in view.facts if handing.is_told_by_one(f)}
        if told:
            told -= {f.uid for h in handing.one_sided(view.facts) for f in h.witnesses}
        subjects += [f"fact:{uid}" for uid in told]
    if subjects:
        how = "the other side has told of it"
        questions.settle(kinds=[Question.ONE_SIDE_ONLY], subjects=subjects, how=how, at=at)


def settle_parked(facts: Sequence[Fact], new: Sequence[Told], at: datetime) -> None:
    """Corrections that waited for an original that is here now are in doubt no longer."""
    came = {t.fact.uid: t.fact.kind for t in new if not t.fact.corrects}
    subjects = [
        f"fact:{f.uid}" for f in facts if f.corrects and _may_correct(f, came.get(f.corrects))
    ]
    if subjects:
        how = "what it corrects has arrived"
        questions.settle(kinds=[Question.CORRECTION_PARKED], subjects=subjects, how=how, at=at)


def settle_relabelled(
    new: Sequence[Told],
    originals: Mapping[UUID, Kind],
    views: Mapping[str, LabelView],
    at: datetime,
) -> None:
    """Doubts about relabellings that are none since one of them was taken back."""
    named = [t.fact.corrects for t in new if t.fact.kind is Kind.WITHDRAWN and t.fact.corrects]
    back = any(originals.get(uid) is Kind.RELABELLED for uid in named)
    clear = [f"label:{label}" for label, view in views.items() if label not in view.names.doubts]
    if back and clear:
        how = "a relabelling was taken back"
        questions.settle(kinds=[Question.LABEL_REPLACED], subjects=clear, how=how, at=at)


def conflicts(view: LabelView) -> tuple[str, ...]:
    """What the fold of an uncontested label says cannot be true."""
    if len(view.claims) != 1 or not view.facts:
        return ()
    return fold.progress(view.claims[0].fact, view.facts).conflicts


def settle(cleared: Iterable[str], views: Mapping[str, LabelView], at: datetime) -> None:
    """Close the questions that later facts have answered; `cleared` are labels once contested."""
    how = "settled by a later fact"
    subjects = [f"label:{label}" for label in cleared]
    if subjects:
        questions.settle(kinds=[Question.LABEL_CONTESTED], subjects=subjects, how=how, at=at)
    calm = {f"label:{label}" for label, v in views.items() if v.facts}
    calm -= {f"label:{v.label}" for v in fold.each(views) if conflicts(v)}
    if calm:
        questions.settle(kinds=[Question.IMPOSSIBLE_ORDER], subjects=calm, how=how, at=at)


def ahead(t: Told, at: datetime) -> bool:
    """Whether it is told of a time that has not come yet, its sender's skew taken off."""
    return clock.to_ms(t.happened_at) - (t.skew_ms or 0) > clock.to_ms(at + AHEAD)


def about_teller(t: Told, at: datetime) -> Iterator[Ask]:
    """What is in doubt about a fact under no label: who told it, and when."""
    if t.by is not None and people.unknown_people([t.by]):
        yield Ask(Question.PERSON_UNKNOWN, f"person:{t.by}", {"fact": str(t.fact.uid)})
    if ahead(t, at):
        facts = {"happened_at": t.happened_at.isoformat(), "device": str(t.device)}
        yield Ask(Question.FROM_THE_FUTURE, f"fact:{t.fact.uid}", facts)


def _about_labels(views: Iterable[LabelView]) -> Iterator[Ask]:
    for view in views:
        subject = f"label:{view.label}"
        if view.contested:
            rivals = {"work_orders": [str(c.uid) for c in view.claims]}
            yield Ask(Question.LABEL_CONTESTED, subject, rivals)
        for conflict in conflicts(view):
            named = {"conflict": conflict, "label": view.label}
            yield Ask(Question.IMPOSSIBLE_ORDER, subject, named)


def _about_names(view: LabelView, swapped: set[UUID]) -> Iterator[Ask]:
    """Labels of which nobody can say what their casing wears since these relabellings came."""
    told = {f.uid: f for f in view.facts if f.kind is Kind.RELABELLED}
    before = joined(fold.swap(f) for f in told.values() if f.uid not in swapped)
    for label, doubt in view.names.doubts.items():
        if label not in before or label not in before[label].doubts:
            last = [f for f in told.values() if f.label == label][-1]
            named = {"fact": str(last.uid), "doubt": doubt.value}
            yield Ask(Question.LABEL_REPLACED, f"label:{label}", named)


def _about_correction(
    t: Told, originals: Mapping[UUID, Kind], sites: Mapping[UUID, UUID], site: UUID
) -> Iterator[Ask]:
    """A correction of nothing that is here, of what is no pick_up, or from another store."""
    named = {"fact": str(t.fact.uid), "corrects": str(t.fact.corrects)}
    if t.fact.corrects is None or not _may_correct(t.fact, originals.get(t.fact.corrects)):
        yield Ask(Question.CORRECTION_PARKED, f"fact:{t.fact.uid}", named)
    elif sites.get(t.fact.corrects, site) != site:
        yield Ask(Question.OTHER_STORE, f"fact:{t.fact.uid}", {**named, "site": str(site)})


def _may_correct(correction: Fact, original: Kind | None) -> bool:
    """A pick_up may be told again or taken back; a relabelling, and by a plant what a station of
    it has told, only taken back."""
    if original is Kind.PICKED_UP or original is None:
        return original is not None
    stations = fold.TOLD_AT_STATIONS if correction.told.get("plant") else frozenset()
    return correction.kind is Kind.WITHDRAWN and original in stations | {Kind.RELABELLED}


def _about(
    t: Told,
    view: LabelView,
    owners: Owners,
    printed: set[str],
    void: set[str],
    strangers: set[UUID],
    at: datetime,
) -> Iterator[Ask]:
    fact, uid = t.fact, str(t.fact.uid)
    for label in _stuck_on(fact):
        told = "fact" if fact.kind is Kind.RELABELLED else "work_order"
        said = {told: str(fact.corrects or uid)}
        if label not in printed:
            yield Ask(Question.LABEL_NOT_PRINTED, f"label:{label}", said)
        if label in void:
            yield Ask(Question.LABEL_VOID, f"label:{label}", said)
    if fact.kind is Kind.PICKED_UP:
        yard = fact.told["yard"]
        parked = fact.corrects is not None and all(c.uid != fact.corrects for c in view.claims)
        if not parked and UUID(yard) not in owners:
            yield Ask(Question.YARD_UNKNOWN, f"yard:{yard}", {"fact": uid})
    if t.by in strangers:
        yield Ask(Question.PERSON_UNKNOWN, f"person:{t.by}", {"fact": uid})
    if ahead(t, at):
        said = {"happened_at": t.happened_at.isoformat(), "device": str(t.device)}
        yield Ask(Question.FROM_THE_FUTURE, f"fact:{uid}", said)
