"""The account of promises kept, over HTTP: what counts, by month, customer, plant and basis, in
both languages, and the picture of stated probabilities."""

import html
import re
from datetime import date, timedelta
from itertools import pairwise
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.desk import figures
from pickups.kernel import clock
from pickups.promises import queries, watching
from pickups.promises.accounting import Bin, Share
from pickups.promises.watching import NewDay
from tests.conftest import Enrol
from tests.pickups.promises.history import DAY, delivered, finished, promised
from tests.pickups.promises.promising import by_hand, noon, sent, taken, today, told_again
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def page(client: Client, language: str = "en", months: int = 12) -> str:
    answer = client.get(
        f"/office/promises/kept?months={months}", headers={"Accept-Language": language}
    )
    assert answer.status_code == 200
    return html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode())))


def lead(client: Client) -> tuple[int, int]:
    """How many of how many, by the first sentence."""
    found = re.search(
        r"Of (\d+) promises whose day came in the last 12 months, (\d+)", page(client)
    )
    return (int(found[2]), int(found[1])) if found else (0, 0)


def due() -> date:
    """A promised day that is over."""
    return today() - 5 * DAY


def test_what_was_back_in_time_is_kept_what_was_late_or_is_missing_is_not(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    on = due()
    ops = [promised(phone, world, on=on, taken_on=on - 9 * DAY) for _ in range(4)]
    sent(phone)
    for op in ops[:3]:
        finished(gateway, op, on - 2 * DAY)
    delivered(phone, world, ops[0], on)
    delivered(phone, world, ops[1], on - DAY)
    delivered(phone, world, ops[2], on + DAY)
    sent(phone)
    text = page(office)
    assert "Of 4 promises whose day came in the last 12 months, 2 were kept: 50 %" in text
    # Wilson's interval of 2 of 4.
    assert "Tarn Valley Haulage 2 of 4, 50 % (15 to 85)" in text
    assert f"{world.plant.name} 2 of 3" in text
    assert "no plant has told of it 0 of 1" in text
    assert "by hand 2 of 4" in text
    assert "no probability" not in text.split("What counts")[0].split("Did the")[0]
    assert "No promise that the forecast made has had its day yet" in text


def test_a_day_that_is_not_over_counts_for_nothing_however_early_it_came(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    op = promised(phone, world, on=today(), taken_on=today() - 9 * DAY)
    sent(phone)
    finished(gateway, op, today() - 3 * DAY)
    delivered(phone, world, op, today() - 2 * DAY)
    sent(phone)
    assert "No promise had its day in the last 12 months" in page(office)
    assert lead(office) == (0, 0)


def test_a_new_day_told_before_the_old_one_is_the_last_and_one_told_after_it_mends_nothing(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    on = due() - 5 * DAY
    ops = [promised(phone, world, on=on, taken_on=on - 9 * DAY) for _ in range(2)]
    sent(phone)
    for op, told_on in zip(ops, (on - DAY, on + DAY), strict=True):
        named = {"corrects": {"fact": op["id"], "label": op["payload"]["label"]}}
        again = op["payload"] | named | {"promised": by_hand(on + 3 * DAY)}
        at = clock.rfc3339(noon(told_on))
        phone.enter("custody.pick_up", again, version=2, happened_at=at)
        sent(phone)
        finished(gateway, op, on + DAY)
        delivered(phone, world, op, on + 2 * DAY)
    sent(phone)
    text = page(office)
    assert "Of 2 promises whose day came in the last 12 months, 0 were kept: 0 %" in text
    assert "Told a new day in time: 1. By what was told last in time, 1 of 2 were kept" in text


def test_a_new_day_told_at_once_is_no_first_one_and_a_casing_told_again_takes_none_back(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    on = due() - 5 * DAY
    op = promised(phone, world, on=on, taken_on=on - 9 * DAY)
    sent(phone)
    uid = UUID(op["id"])
    new = NewDay(queries.standing([uid])[uid].uid, on + 3 * DAY, "by_hand")
    at = noon(on - 9 * DAY) + timedelta(hours=2)
    assert watching.revise(new_days={uid: new}, by=world.dispatcher.uid, at=at) == {uid}
    told_again(phone, op, unit="T-114")
    sent(phone)
    finished(gateway, op, on + DAY)
    delivered(phone, world, op, on + 2 * DAY)
    sent(phone)
    text = page(office)
    assert "Of 1 promises whose day came in the last 12 months, 0 were kept: 0 %" in text
    assert "Told a new day in time: 1. By what was told last in time, 1 of 1 were kept" in text


def test_what_is_fetched_is_kept_once_it_lies_at_the_store(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    on, rack = due(), f"site:{world.store.uid}"
    op = promised(phone, world, on=on, taken_on=on - 9 * DAY, back_to="store")
    sent(phone)
    finished(gateway, op, on - DAY)
    assert lead(office) == (0, 1)
    told = {"label": op["payload"]["label"], "way": "out"}
    told |= {"giver": f"plant:{world.plant.uid}", "taker": rack}
    phone.enter("custody.hand_over", told, happened_at=f"{on}T17:00:00.000Z")
    sent(phone)
    assert lead(office) == (1, 1)


@pytest.mark.parametrize(
    ("cause", "counted", "said"),
    [("casing", (0, 0), "comes back as it was: 1."), ("plant", (0, 1), "0 of 1")],
)
def test_a_rejected_casing_counts_where_the_plant_spoiled_it(
    world: World,
    phone: Phone,
    gateway: Gateway,
    office: Client,
    cause: str,
    counted: tuple[int, int],
    said: str,
) -> None:
    on = due()
    op = promised(phone, world, on=on, taken_on=on - 9 * DAY)
    sent(phone)
    reason = "SW_CUT" if cause == "casing" else "CURED_DEFECT"
    label = op["payload"]["label"]
    gateway.tell(label, "rejected", cause=cause, reason=reason)
    delivered(phone, world, op, on - DAY)
    sent(phone)
    assert lead(office) == counted
    assert said in page(office)


@pytest.mark.parametrize("basis", ["pool", "exchange"])
def test_another_casing_that_is_to_come_back_says_nothing_of_the_promise(
    world: World, phone: Phone, office: Client, basis: str
) -> None:
    promised(phone, world, on=due(), taken_on=due() - 9 * DAY)
    taken(phone, world, due(), on=due() - 9 * DAY, basis=basis)
    sent(phone)
    assert lead(office) == (0, 1)
    assert "Another casing than the one handed over is to come back: 1." in page(office)


def test_a_label_in_question_and_a_promise_taken_back_count_nowhere(
    world: World, phone: Phone, enrol: Enrol, office: Client
) -> None:
    on = due()
    contested, back = (promised(phone, world, on=on, taken_on=on - 9 * DAY) for _ in range(2))
    sent(phone)
    assert lead(office) == (0, 2)
    told_again(phone, back, promised=None)
    other = enrol(world.other_driver)
    other.pick_up(contested["payload"]["label"], world.other_yard.uid, uuid4())
    sent(phone)
    sent(other)
    assert lead(office) == (0, 0)


# --- Stated probabilities -------------------------------------------------------------------------


def foretold(
    world: World, phone: Phone, gateway: Gateway, *, sure: int, kept: int, of: int
) -> None:
    on = due()
    ops = [promised(phone, world, on=on, taken_on=on - 9 * DAY, sure=sure) for _ in range(of)]
    sent(phone)
    for op in ops[:kept]:
        finished(gateway, op, on - 2 * DAY)
        delivered(phone, world, op, on)
    sent(phone)


def test_stated_probabilities_are_held_against_what_was_kept_apart_from_other_bases(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    promised(phone, world, on=due(), taken_on=due() - 9 * DAY)
    foretold(world, phone, gateway, sure=90, kept=4, of=5)
    foretold(world, phone, gateway, sure=75, kept=2, of=2)
    text = page(office)
    assert "90 to 94 %, on the mean 90 % 4 of 5 80 % (38 to 96)" in text
    assert "75 to 79 %, on the mean 75 % 2 of 2 100 % (34 to 100)" in text
    assert "forecast 6 of 7, 86 %" in text
    assert "by hand 0 of 1, 0 %" in text
    assert "Of 8 promises" in text


def drawn(client: Client, language: str) -> list[list[float]]:
    """The figures of every shape of every picture; anything that is no figure is an error."""
    answer = client.get("/office/promises/kept", headers={"Accept-Language": language})
    pictures = re.findall(r"<svg.*?</svg>", answer.content.decode(), flags=re.DOTALL)
    told = r'\b(?:x|y|x1|x2|y1|y2|cx|cy|d)="([^"]+)"'
    return [
        [
            float(one)
            for value in re.findall(told, picture)
            for one in re.split("[MV ]", value)
            if one
        ]
        for picture in pictures
    ]


def test_a_picture_is_the_same_drawing_in_both_languages_and_lies_inside_its_frame(
    world: World, phone: Phone, gateway: Gateway, office: Client
) -> None:
    foretold(world, phone, gateway, sure=90, kept=4, of=5)
    months, stated = drawn(office, "en")
    assert drawn(office, "es") == [months, stated]
    assert months
    assert all(0 <= figure <= 360 for figure in [*months, *stated])


def test_the_point_lies_where_its_share_and_what_was_stated_say() -> None:
    """On the diagonal where they agree; higher where more were kept."""
    stated = [figures.reliability([Bin(90, 94, 90.0, Share(kept, 10))]) for kept in (9, 10, 5)]
    (agrees, better, worse) = (one.points[0] for one in stated)
    for one in stated:
        x1, y1, x2, y2 = one.diagonal or (0, 0, 0, 0)
        assert (x1, y1) == (figures.LEFT, figures.HIGH - figures.BOTTOM)
        assert (x2, y2) == (figures.WIDE - figures.RIGHT, figures.TOP)
    x1, y1, x2, y2 = stated[0].diagonal or (0, 0, 0, 0)
    along = (agrees.x - x1) / (x2 - x1)
    assert agrees.y == pytest.approx(y1 + along * (y2 - y1), abs=0.2)
    assert agrees.high < agrees.y < agrees.low
    assert better.y < agrees.y
    assert worse.y > agrees.y, "and what is kept less often than half widens the frame"
    assert next(tick.said for tick in stated[2].across) == "20"


@pytest.mark.parametrize("columns", [1, 6, 10, 11, 13, 25])
@pytest.mark.parametrize("begins", [1, 3, 11])
def test_months_are_named_where_their_names_have_room_and_marks_stand_apart(
    columns: int, begins: int
) -> None:
    """A name is at most six signs, some 36 units; three signs some 18."""
    numbers = [(begins - 1 + i) % 12 + 1 for i in range(columns)]
    told = [(n, "Jan 26" if n == 1 else f"M{n:02}", Share(8, 10), Share(9, 10)) for n in numbers]
    drawn = figures.by_month(told)
    named = drawn.along
    assert [tick.said for tick in named if tick.said == "Jan 26"] == ["Jan 26"] * numbers.count(1)
    for before, after in pairwise(named):
        assert after.at - before.at >= 3 * (len(before.said) + len(after.said)) + 3
    assert columns > 9 or len(named) == columns
    marks = [
        edge
        for seen, other in zip(drawn.points, drawn.others, strict=True)
        for edge in (seen.x - seen.radius, other.x + other.side / 2)
    ]
    assert marks == sorted(marks), "the marks of a month touch none of the next one's"
    assert all(a.x + a.radius / 2 < b.x for a, b in zip(drawn.points, drawn.others, strict=True))
