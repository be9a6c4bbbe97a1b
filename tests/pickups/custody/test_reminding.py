"""Steps about a casing that waits for its owner: what is proposed, and that nothing else moves."""

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import deciding, fold, reminding
from pickups.custody.fold import Fact, Kind
from pickups.custody.models import Fact as Row
from pickups.custody.reminding import Days, Decision, Next, Step, Told
from pickups.custody.wire.reminding import Remind1
from pickups.kernel.wire import Malformed, read
from tests.pickups.custody.histories import LABELS, histories, reminded, stamps, states
from tests.world import Phone, World
from tests.world.plant import Gateway

VECTORS = json.loads(Path("fixtures/vectors/unclaimed.json").read_text())
DAYS = Days(**VECTORS["days"])


def day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["why"])
def test_what_is_proposed_next(case: dict[str, Any]) -> None:
    told = [
        Told(Step(t["step"]), date.fromisoformat(t["on"]), day(t["until"]), t["decision"])
        for t in case["told"]
    ]
    since, today = date.fromisoformat(VECTORS["since"]), date.fromisoformat(case["today"])
    found = reminding.next_step(told, since=since, today=today, days=DAYS)
    assert found == (Next(case["next"]), day(case["until"]))


@given(histories(), st.lists(st.tuples(st.sampled_from(LABELS), stamps), max_size=4))
def test_no_step_changes_holder_or_progress_whenever_it_comes(
    facts: list[Fact], told: list[tuple[str, int]]
) -> None:
    steps = [reminded(UUID(int=2**101 + i), *one) for i, one in enumerate(told)]
    assert states([*steps, *facts]) == states(facts)
    views = fold.labels([*facts, *steps], LABELS)
    # Any order of arrival tells the same steps, in the order of their stamps.
    again = fold.labels([*reversed(steps), *facts], LABELS)
    for label in LABELS:
        mine = [f for f in views[label].facts if f.kind is Kind.REMINDED]
        assert mine == sorted(mine, key=lambda f: f.order)
        assert reminding.reminders(views[label].facts) == reminding.reminders(again[label].facts)


def waits(world: World, phone: Phone, gateway: Gateway) -> str:
    """A casing that was finished and has come to the store's rack; returns its label."""
    label, store = world.a_label(), f"site:{world.store.uid}"
    taken = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": label}
    phone.enter("custody.pick_up", taken | {"work": "retread", "back_to": "store"}, version=2)
    phone.push()
    gateway.tell(label, "received", station="receiving")
    gateway.tell(label, "finished")
    gateway.tell(label, "shipped")
    told = {"label": label, "way": "out", "giver": f"plant:{world.plant.uid}", "taker": store}
    phone.enter("custody.hand_over", told)
    assert phone.push().status == 200
    return label


def remind(phone: Phone, label: str, step: str, **more: Any) -> dict[str, Any]:
    """One step told and pushed; returns the operation."""
    op = phone.enter("custody.remind", {"label": label, "step": step, **more})
    reply = phone.push()
    assert reply.json["answers"][-1]["outcome"] == "accepted"
    return op


def order(label: str) -> WorkOrder:
    return WorkOrder.objects.get(label=label)


@pytest.mark.django_db
def test_steps_are_kept_for_every_device_and_move_nothing(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = waits(world, phone, gateway)
    before = order(label)
    here = before.told["here_since"]
    assert here == Row.objects.get(label=label, kind="handed_out").told["at"]
    called = remind(phone, label, "called", said="Ines: on Friday", until="2026-06-19")
    remind(phone, label, "written", until="2026-07-20")
    now = order(label)
    assert (now.holder, now.progress, now.customer) == (
        before.holder, before.progress, before.customer,
    )  # fmt: skip
    assert now.version > before.version
    body = casings.bodies([now.uid])[now.uid]
    assert body["here_since"] == here
    first, second = body["reminders"]
    assert first == {
        "step": "called",
        "at": called["happened_at"],
        "by": str(world.driver.uid),
        "said": "Ines: on Friday",
        "until": "2026-06-19",
    }
    assert (second["step"], second["until"]) == ("written", "2026-07-20")


@pytest.mark.django_db
def test_a_decision_comes_after_every_step_known_whatever_the_clocks_say(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = waits(world, phone, gateway)
    phone.ahead = timedelta(days=3)
    remind(phone, label, "called", said="nobody answers")
    noted = deciding.decide(
        labels=[label, world.a_label()],
        decision=Decision.KEEP,
        grounds="They move yards in June",
        until=date(2026, 9, 30),
        by=world.dispatcher.uid,
    )
    assert noted == 1
    assert [one["step"] for one in order(label).told["reminders"]] == ["called", "decided"]
    assert order(label).told["reminders"][1]["decision"] == "keep"
    assert order(label).holder == f"site:{world.store.uid}"


@pytest.mark.django_db
def test_a_step_told_before_the_pick_up_is_known_is_kept_and_meets_it(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    remind(phone, label, "called", said="early")
    phone.pick_up(label, world.yard.uid, uuid4())
    phone.push()
    body = casings.bodies([order(label).uid])[order(label).uid]
    assert [one["said"] for one in body["reminders"]] == ["early"]


@pytest.mark.django_db
@pytest.mark.parametrize("wrong", [{"step": "scrapped"}, {"step": "called", "until": "Friday"}],
                         ids=["step", "until"])  # fmt: skip
def test_what_is_no_step_is_refused_and_nothing_is_written(
    world: World, phone: Phone, wrong: dict[str, Any]
) -> None:
    phone.enter("custody.remind", {"label": world.a_label(), **wrong})
    reply = phone.push()
    assert reply.json["answers"][-1]["outcome"] in ("held", "refused")
    assert not Row.objects.filter(kind="reminded").exists()


@pytest.mark.django_db
@pytest.mark.parametrize(
    "wrong",
    [{"until": "2026-02-31"}, {"until": "0000-01-01"}, {"until": "9999-12-31"}, {"step": "hold"}],
    ids=["no such day", "no year", "for ever", "hold without a day"],
)
def test_a_day_that_no_calendar_has_or_nobody_lives_to_see_is_refused(
    world: World, phone: Phone, wrong: dict[str, Any]
) -> None:
    told = {"label": world.a_label(), "step": "called", **wrong}
    with pytest.raises(Malformed) as why:
        read(told, Remind1)
    assert why.value.fault.field == "until"
    phone.enter("custody.remind", told)
    assert phone.push().json["answers"][-1]["outcome"] in ("held", "refused")
    assert not Row.objects.filter(kind="reminded").exists()


def test_a_day_that_was_kept_and_no_calendar_has_is_none() -> None:
    assert reminding.day_of("2026-06-19") == date(2026, 6, 19)
    assert [reminding.day_of(text) for text in ("2026-02-31", "0000-01-01", "", None)] == [None] * 4


@pytest.mark.django_db
def test_a_decision_comes_after_what_was_told_under_an_earlier_label(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label, now = waits(world, phone, gateway), world.a_label()
    phone.ahead = timedelta(days=3)
    remind(phone, label, "called", said="nobody answers")
    phone.ahead = timedelta(0)
    phone.enter("custody.relabel", {"label": label, "now": now, "why": "spoiled"})
    phone.push()
    decided = {"decision": Decision.KEEP, "grounds": "They move yards", "until": date(2026, 9, 30)}
    assert deciding.decide(labels=[now], by=world.dispatcher.uid, **decided) == 1  # type: ignore[arg-type]
    assert [one["step"] for one in order(now).told["reminders"]] == ["called", "decided"]
