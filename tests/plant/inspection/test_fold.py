"""Where a casing stands inside a plant is a function of its events, whatever order they come in."""

from dataclasses import replace
from datetime import UTC, datetime
from uuid import UUID

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from plant.inspection.fold import Event, Inside, Order, Route, Stop, fold
from plant.inspection.ordering import Ordered
from plant.inspection.wire import Built, Finding, Lot, Measured
from tests.plant.inspection.insides import (
    CODES,
    DAY_MS,
    FOR_EVER,
    ROUTE,
    event,
    events,
    later,
)

patiently = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
"""On a machine that does much else."""


def folded(*told: Event, order: Order | None = None, route: Route = ROUTE) -> Inside:
    inside = fold(route, told, order)
    assert inside is not None
    return inside


# --- Order, repetition, split, clocks -----------------------------------------------------------


@patiently
@given(events(), st.data())
def test_any_order_repetition_and_split_gives_the_same(
    told: list[Event], data: st.DataObject
) -> None:
    shuffled = data.draw(st.permutations(told))
    again = data.draw(st.lists(st.sampled_from(told), max_size=4))
    cut = data.draw(st.integers(0, len(told)))
    assert fold(ROUTE, [*shuffled[:cut], *again, *shuffled[max(0, cut - 2) :]]) == fold(ROUTE, told)


def _rejected(told: list[Event]) -> bool:
    """Said once more, without the fold: a rejection that neither a withdrawal nor, where it may be
    released, a release undoes."""
    gone = {e.about for e in told if e.outcome == "withdrawn"}
    stand = [e for e in told if e.uid not in gone]
    free = {e.about for e in stand if e.outcome == "released"}
    return any(
        e.outcome == "rejected" and (e.told.reason == FOR_EVER or e.uid not in free) for e in stand
    )


@patiently
@given(events(), st.data())
def test_a_rejected_casing_is_never_shown_finished(told: list[Event], data: st.DataObject) -> None:
    jumped = [later(e, data.draw(st.integers(-3 * DAY_MS, 3 * DAY_MS))) for e in told]
    for one in (told, jumped, data.draw(st.permutations(jumped))):
        inside = fold(ROUTE, one)
        if inside is not None and _rejected(told):
            assert inside.stage in ("rejected", "shipped")
            assert inside.told["rejections"]
            assert inside.next == ""


@patiently
@given(events(reworks=False), st.data())
def test_clocks_that_jump_three_days_undo_no_rank(told: list[Event], data: st.DataObject) -> None:
    jumped = [later(e, data.draw(st.integers(-3 * DAY_MS, 3 * DAY_MS))) for e in told]
    before, after = fold(ROUTE, told), fold(ROUTE, jumped)
    ranks = ("shipped", "rejected", "on_hold", "finished")
    assert (before is None) == (after is None)
    if before is not None and after is not None:
        assert (before.stage in ranks, after.stage in ranks) in ((True, True), (False, False))
        assert before.stage not in ranks or before.stage == after.stage
        assert before.told["passed"] == after.told["passed"]
        assert before.told["not_scanned"] == after.told["not_scanned"]
        assert len(before.told["holds"]) == len(after.told["holds"])


# --- Stages and the route -----------------------------------------------------------------------


def test_a_later_scan_says_that_the_stations_before_it_were_passed() -> None:
    inside = folded(event(1, "received", "receiving"), event(2, "passed", "buffing", 3))
    assert (inside.stage, inside.station, inside.next) == ("in_work", "buffing", "cementing")
    assert inside.told["passed"] == ["receiving", "buffing"]
    between = ["cleaning", "initial-inspection", "electrical-test", "shearography"]
    assert inside.told["not_scanned"] == between


def test_next_is_a_station_that_scans() -> None:
    route = Route(tuple(Stop(code, scans=code != "cementing") for code in CODES
                        if code not in ("skiving", "repair")))  # fmt: skip
    inside = folded(event(1, "passed", "buffing"), route=route)
    assert inside.next == "cushion-gum"


def test_a_mark_for_repair_goes_along_the_route_to_where_it_is_repaired() -> None:
    nail = [Finding("crown", "nail hole", size_mm=6.0)]
    mark = event(1, "repair", "initial-inspection", 1, findings=nail)
    inside = folded(mark)
    assert (inside.stage, inside.next) == ("repair", "electrical-test")
    inside = folded(mark, event(2, "passed", "buffing", 2))
    assert (inside.stage, inside.next) == ("repair", "skiving")
    assert inside.told["findings"][0]["done"] is False
    inside = folded(mark, event(2, "passed", "buffing", 2), event(3, "passed", "repair", 3))
    assert (inside.stage, inside.told["findings"][0]["done"]) == ("in_work", True)
    missed = folded(mark, event(3, "passed", "building", 3))  # its repair was not scanned
    assert (missed.stage, missed.told["findings"][0]["done"]) == ("in_work", False)


def test_a_casing_sent_back_begins_again_there() -> None:
    told = [event(n, "passed", code, n) for n, code in enumerate(CODES[:15], 1)]
    back = event(30, "repair", "final-inspection", 40, again_at="buffing")
    inside = folded(*told, back)
    assert (inside.stage, inside.next, inside.reworks) == ("repair", "buffing", 1)
    assert inside.told["again_at"] == "buffing"
    assert inside.told["passed"][-1] == "shearography"
    inside = folded(*told, back, event(31, "passed", "buffing", 41))
    assert (inside.stage, inside.next, inside.told["again_at"]) == ("in_work", "cementing", "")


def test_what_is_late_of_an_earlier_step_takes_nothing_back() -> None:
    done = event(2, "finished", "paint", 20)
    late = event(3, "passed", "buffing", 25)
    inside = folded(done, late)
    assert (inside.stage, inside.next, inside.doubts) == ("finished", "shipping", {})
    assert "buffing" not in inside.told["not_scanned"]


def test_what_was_taken_back_was_never_told() -> None:
    wrong, right = event(1, "rejected", hour=2), event(2, "passed", hour=1)
    back = event(3, "withdrawn", hour=-50, about=1)
    assert fold(ROUTE, [wrong, right, back]) == fold(ROUTE, [right])
    assert fold(ROUTE, [wrong, back]) is None


def test_set_in_ties_load_and_envelope_until_the_casing_is_stripped() -> None:
    into = event(1, "passed", "enveloping", 1, load="L-7", envelope="E-3")
    inside = folded(into, event(2, "passed", "curing", 2))
    assert (inside.load, inside.envelope) == ("L-7", "E-3")
    inside = folded(into, event(3, "passed", "stripping", 3))
    assert (inside.load, inside.envelope, inside.told["loads"]) == ("", "", ["L-7"])


def test_figures_lots_and_machines_are_kept_the_last_of_each_figure() -> None:
    inside = folded(
        event(1, "passed", "buffing", 1, machine="b2", measured=Measured(3100.0, 220.0)),
        event(2, "passed", "buffing", 2, measured=Measured(3098.5)),
        event(3, "passed", "building", 3, lots=[Lot("tread", "T-9"), Lot("tread", "T-9")]),
    )
    assert inside.told["measured"] == {"circumference_mm": 3098.5, "crown_width_mm": 220.0}
    assert inside.told["machines"] == [{"station": "buffing", "machine": "b2"}]
    assert inside.told["lots"] == [{"kind": "tread", "number": "T-9", "station": "building"}]


@patiently
@given(events(), st.data())
def test_nothing_but_the_plants_own_pages_ends_their_hold(
    told: list[Event], data: st.DataObject
) -> None:
    hold = event(99, "hold", "curing", data.draw(st.integers(-48, 48)), inner=True)
    outcome = data.draw(st.sampled_from(["released", "withdrawn"]))
    undone = event(98, outcome, "curing", data.draw(st.integers(-48, 48)), about=99)
    inside = folded(*data.draw(st.permutations([*told, hold, undone])))
    assert str(hold.uid) in [one["event"] for one in inside.told["holds"]]
    assert inside.stage in ("on_hold", "rejected", "shipped")
    assert str(undone.uid) in inside.doubts["release_not_allowed"]
    ended = fold(ROUTE, [*told, hold, replace(undone, inner=True)])
    assert ended is None or str(hold.uid) not in [one["event"] for one in ended.told["holds"]]


@patiently
@given(events(), st.integers(-48, 48), st.sampled_from(CODES))
def test_that_a_casing_was_recognised_moves_it_nowhere(
    told: list[Event], hour: int, station: str
) -> None:
    """A label that starts a plain scan there ends nothing, mends nothing and passes nothing."""
    named = event(99, "passed", station, hour, inner=True, tag="K7000Y10")
    before, after = fold(ROUTE, told), folded(*told, named)
    if before is not None:
        same = ("stage", "next", "load", "envelope", "reworks", "doubts")
        assert [getattr(before, n) for n in same] == [getattr(after, n) for n in same]
        for name in ("passed", "findings", "holds", "rejections", "again_at"):
            assert before.told[name] == after.told[name]


def test_an_injury_found_behind_the_repair_is_open_until_it_is_repaired() -> None:
    cut = [Finding("crown", "cut", size_mm=9.0)]
    mark = event(2, "repair", "final-inspection", 20, findings=cut)
    told = [event(1, "passed", "stripping", 15), mark]
    assert (folded(*told).stage, folded(*told).next) == ("repair", "repair")
    painted = folded(*told, event(3, "passed", "paint", 21))
    assert (painted.stage, painted.next, painted.doubts) == ("repair", "repair", {})
    done = event(4, "finished", "paint", 22)
    finished = folded(*told, done)
    assert list(finished.doubts) == ["finished_not_repaired"]
    early = folded(*told, event(5, "passed", "repair", 10), done)
    assert list(early.doubts) == ["finished_not_repaired"]
    mended = folded(*told, event(5, "passed", "repair", 21), done)
    assert (mended.stage, mended.doubts) == ("finished", {})


def test_what_is_seen_long_after_it_was_shipped_is_a_doubt_and_undoes_nothing() -> None:
    gone = event(1, "shipped", "shipping", 10)
    for outcome in ("passed", "hold", "rejected", "received"):
        seen = folded(gone, event(2, outcome, "buffing", 12))
        assert seen.stage == "shipped"
        assert seen.doubts["seen_after_shipped"] == [str(UUID(int=1)), str(UUID(int=2))]
        assert folded(gone, event(2, outcome, "buffing", 10.5)).doubts == {}
        assert folded(gone, event(2, outcome, "buffing", 9)).doubts == {}


def test_what_was_brought_back_by_the_plants_own_word_is_here_again() -> None:
    gone, done = event(1, "shipped", "shipping", 10), event(2, "finished", "paint", 9)
    back = event(3, "received", "receiving", 30, inner=True)
    kept = event(4, "hold", "receiving", 31, inner=True)
    inside = folded(gone, done, back, kept)
    assert (inside.stage, inside.doubts) == ("on_hold", {})
    free = event(5, "released", "receiving", 32, about=4, inner=True)
    assert folded(gone, done, back, kept, free).stage == "finished"
    again = event(6, "shipped", "shipping", 40)
    assert folded(gone, done, back, kept, free, again).stage == "shipped"


# --- Doubts -------------------------------------------------------------------------------------


def test_what_may_never_be_released_is_not_undone_and_asked_about() -> None:
    told = (event(1, "rejected", reason=FOR_EVER), event(2, "released", hour=1, about=1))
    inside = folded(*told)
    assert inside.stage == "rejected"
    assert inside.told["rejections"][0]["releasable"] is False
    assert inside.doubts == {"release_not_allowed": [str(UUID(int=2))]}
    released = folded(event(1, "rejected"), told[1])
    assert (released.stage, released.doubts) == ("in_work", {})


def test_only_the_impossible_is_a_doubt() -> None:
    rejected = event(1, "rejected", "buffing", 5)
    assert folded(rejected, event(2, "passed", "buffing", 9)).doubts == {}
    assert folded(rejected, event(2, "passed", "curing", 4)).doubts == {}
    cured = folded(rejected, event(2, "passed", "curing", 9)).doubts
    assert list(cured) == ["worked_on_after_rejection"]
    assert "finished_and_rejected" in folded(rejected, event(2, "finished", "paint", 1)).doubts
    hold, done = event(1, "hold", "buffing", 5), event(2, "finished", "paint", 9)
    assert list(folded(hold, done).doubts) == ["finished_on_hold"]
    assert folded(hold, done, event(3, "released", "buffing", 6, about=1)).doubts == {}
    back = folded(done, event(3, "repair", "shipping", 10, again_at="buffing"))
    assert (back.stage, list(back.doubts)) == ("repair", ["sent_back_after_finish"])


def test_a_tire_that_is_not_as_ordered_says_so_until_that_is_released() -> None:
    order = Order(Ordered(tread_design="RD-240"), UTC)
    at = datetime(2025, 10, 9, tzinfo=UTC)
    seen = event(1, "passed", "final-inspection", 1, built=Built("RS-110", retread_tin=""))
    inside = folded(seen, order=order)
    fields = {d["field"]: (d["ordered"], d["found"]) for d in inside.told["differences"]}
    assert fields["tread_design"] == ("RD-240", "RS-110"), at
    assert inside.doubts == {}
    assert folded(seen).told["differences"] == []  # nobody knows yet what was ordered
    done = event(2, "finished", "paint", 2)
    assert list(folded(seen, done, order=order).doubts) == ["built_differs"]
    freed = folded(seen, done, event(3, "released", "final-inspection", 2, about=1), order=order)
    assert (freed.told["differences"], freed.doubts) == ([], {})
