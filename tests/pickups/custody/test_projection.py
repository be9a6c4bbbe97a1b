"""What stands in the tables is what the fold makes of all facts, whatever way they came in.

Random histories are recorded in any order, in any split, with repetitions, against the real
database; then every row is held against the fold of the whole.
"""

from datetime import datetime
from uuid import UUID

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pickups.casings.models import WorkOrder
from pickups.custody import fold, services
from pickups.custody.fold import Fact, Kind
from pickups.custody.models import Fact as Row
from pickups.kernel import clock
from pickups.questions.models import Question
from pickups.sync.models import Feed
from tests.pickups.custody.histories import LABELS, SECOND_VERSION, histories, states, told
from tests.world import World

pytestmark = pytest.mark.django_db


def record(facts: list[Fact], site: UUID) -> None:
    services.record([told(f) for f in facts], site=site, at=clock.now())


def projection() -> dict[UUID, tuple[object, ...]]:
    """What the tables say of each work order."""
    return {
        w.uid: (w.label, w.withdrawn, w.contested, w.progress, w.station, w.reason, w.on_hold,
                w.holder, w.told, w.casing_id, w.picked_up_at)
        for w in WorkOrder.objects.all()
    }  # fmt: skip


def folded(facts: list[Fact]) -> dict[UUID, tuple[object, ...]]:
    """What the fold says of each work order."""
    views, by_uid = fold.labels(facts, LABELS), states(facts)
    first = {f.uid: f for f in facts if f.kind is Kind.PICKED_UP and f.corrects is None}
    found: dict[UUID, tuple[object, ...]] = {}
    for claim in fold.claims(facts):
        state = by_uid[claim.uid]
        view = views[claim.fact.label]
        contested = view.contested and not claim.withdrawn
        kept: dict[str, object] = {
            k: v for k, v in claim.fact.told.items() if k in {"size", *SECOND_VERSION}
        }
        label = claim.fact.label if claim.withdrawn else view.label
        if view.names.void and not claim.withdrawn:
            kept["void_labels"] = list(view.names.void)
        if label != claim.fact.label:
            kept["picked_up_under"] = claim.fact.label
        found[claim.uid] = (
            label, claim.withdrawn, contested, state.progress, state.station,
            state.reason, state.on_hold, state.holder, kept, claim.uid,
            datetime.fromisoformat(first[claim.uid].told["at"]),
        )  # fmt: skip
    return found


def belongings(facts: list[Fact]) -> dict[UUID, UUID | None]:
    """Whose fact each one is: a pick_up's own, a station's the only claim's, else nobody's."""
    whose: dict[UUID, UUID | None] = {f.uid: None for f in facts}
    whose.update({c.uid: c.uid for c in fold.claims(facts)})
    for view in fold.each(fold.labels(facts, LABELS)):
        if len(view.claims) == 1:
            whose.update({f.uid: view.claims[0].uid for f in view.facts})
    return whose


def replaced_oddly(facts: list[Fact]) -> set[str]:
    """Labels of which relabellings do not say what their casing wears."""
    views = fold.each(fold.labels(facts, LABELS))
    return {f"label:{label}" for v in views for label in v.names.doubts}


def open_subjects(kind: str) -> set[str]:
    return set(
        Question.objects.filter(kind=kind, settled_at=None).values_list("subject", flat=True)
    )


def conflicting(facts: list[Fact]) -> set[str]:
    """Labels with one claim whose facts cannot all be true."""
    return {
        f"label:{v.label}"
        for v in fold.labels(facts, LABELS).values()
        if len(v.claims) == 1 and fold.progress(v.claims[0].fact, v.facts).conflicts
    }


@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(histories(), st.data())
def test_every_row_is_what_the_fold_makes_of_all_facts(
    world: World, facts: list[Fact], data: st.DataObject
) -> None:
    shuffled = data.draw(st.permutations(facts))
    cuts = sorted(data.draw(st.lists(st.integers(0, len(facts)), max_size=5)))
    again = [data.draw(st.integers(0, 2)) for _ in range(len(cuts) + 1)]
    with transaction.atomic():
        for begin, end, more in zip([0, *cuts], [*cuts, len(facts)], again, strict=True):
            record(shuffled[max(0, begin - more) : end], world.store.uid)
        assert projection() == folded(facts)
        assert dict(Row.objects.values_list("uid", "work_order")) == belongings(facts)
        contested = {f"label:{v.label}" for v in fold.labels(facts, LABELS).values() if v.contested}
        assert open_subjects("label_contested") == contested
        assert open_subjects("impossible_order") == conflicting(facts)
        assert open_subjects("label_replaced") == replaced_oddly(facts)
        assert open_rivals() == rivals(facts)
        seen = Feed.objects.filter(entity="work_order").values_list("uid", "version")
        assert dict(seen) == dict(WorkOrder.objects.values_list("uid", "version"))
        transaction.set_rollback(True)


def open_rivals() -> dict[str, list[str]]:
    """What the open questions say of who claims a contested label."""
    rows = Question.objects.filter(kind="label_contested", settled_at=None)
    return {q.subject: q.facts["work_orders"] for q in rows}


def rivals(facts: list[Fact]) -> dict[str, list[str]]:
    return {
        f"label:{v.label}": [str(c.uid) for c in v.claims]
        for v in fold.labels(facts, LABELS).values()
        if v.contested
    }
