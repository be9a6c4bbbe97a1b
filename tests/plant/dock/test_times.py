"""What a plant enters about its days and its work is published down into promises."""

from datetime import date
from typing import Any, get_args

import pytest
from django.test import Client

from pickups.custody.wire import Work
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.people.models import User
from pickups.promises.models import PlantCalendar
from pickups.promises.models import StandardTime as Published
from plant.dock import services
from plant.dock.models import Calendar, Holiday, StandardTime
from tests.pickups.promises.promising import drained, table
from tests.pickups.promises.trucks import timetable
from tests.world import World
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db

HOLIDAY = date(2026, 12, 25)


@pytest.fixture
def records(world: World) -> Client:
    """An administrator at the administration pages."""
    client = Client()
    client.force_login(
        User.objects.create_user("root", role="admin", is_staff=True, is_superuser=True)
    )
    return client


def page(
    *times: tuple[str, object],
    weekdays: tuple[int, ...] = (0, 1, 2, 3, 4),
    holidays: tuple[str, ...] = (),
    calendar: Calendar | None = None,
    **more: str,
) -> dict[str, Any]:
    """What the page of a plant's calendar sends; rows that are there already come first."""
    form: dict[str, Any] = {"weekdays": [str(day) for day in weekdays], **more}
    rows = {
        "times": [{"work": work, "working_days": str(days)} for work, days in times],
        "holidays": [{"on": on, "name": "closed"} for on in holidays],
    }
    form |= {"shifts-TOTAL_FORMS": 0, "shifts-INITIAL_FORMS": 0}
    for name, entered in rows.items():
        kept = list(getattr(calendar, name).values_list("pk", flat=True)) if calendar else []
        form[f"{name}-TOTAL_FORMS"], form[f"{name}-INITIAL_FORMS"] = len(entered), len(kept)
        for n, row in enumerate(entered):
            if n < len(kept):
                row |= {"id": str(kept[n]), "calendar": str(calendar.pk if calendar else "")}
            form |= {f"{name}-{n}-{field}": value for field, value in row.items()}
    return form


def published() -> tuple[dict[str, int], list[int], list[str]]:
    times = {t.work: t.working_days for t in Published.objects.all()}
    calendar = PlantCalendar.objects.get()
    return times, calendar.weekdays, calendar.holidays


def test_a_plant_has_no_standard_time_until_it_enters_one(world: World) -> None:
    """The figure is the plant's own: none is invented, and nothing is offered without it."""
    timetable(world)
    services.publish(plant=world.plant.uid, at=clock.now())
    drained()
    assert not Calendar.objects.exists()
    assert published() == ({}, [], [])
    assert table(world).places == {"store": {}, str(world.yard.uid): {}}


def test_what_is_saved_in_the_records_is_what_devices_offer(world: World, records: Client) -> None:
    timetable(world)
    form = page(("retread", 5), ("repair", 2), holidays=(str(HOLIDAY),), plant=str(world.plant.uid))
    assert records.post("/admin/dock/calendar/add/", form).status_code == 302
    assert published() == ({"retread": 5, "repair": 2}, [0, 1, 2, 3, 4], [str(HOLIDAY)])
    drained()
    first = table(world)
    assert set(first.places["store"]) == {"retread", "repair"}
    assert None not in first.places["store"]["retread"]
    calendar = Calendar.objects.get()
    form = page(("repair", 2), ("retread", 9), weekdays=(0, 1), holidays=(str(HOLIDAY),),
                calendar=calendar)  # fmt: skip
    assert records.post(f"/admin/dock/calendar/{calendar.pk}/change/", form).status_code == 302
    assert published() == ({"retread": 9, "repair": 2}, [0, 1], [str(HOLIDAY)])
    drained()
    assert table(world).version > first.version
    assert table(world).places["store"]["retread"] > first.places["store"]["retread"]


def test_a_standard_time_that_is_taken_out_is_offered_no_longer(
    world: World, records: Client
) -> None:
    timetable(world)
    enter(world, {"retread": 5, "repair": 2})
    calendar = Calendar.objects.get()
    form = page(("repair", 2), ("retread", 5), calendar=calendar) | {"times-1-DELETE": "on"}
    assert records.post(f"/admin/dock/calendar/{calendar.pk}/change/", form).status_code == 302
    drained()
    assert set(table(world).places["store"]) == {"repair"}


def enter(world: World, times: dict[str, int], **more: Any) -> None:
    told: dict[str, Any] = {"weekdays": range(5), "holidays": {}, "at": clock.now()}
    services.enter_times(plant=world.plant, times=times, **told | more)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"times": (("retread", 0),)}, "greater than or equal to 1"),
        ({"times": (("retread", 61),)}, "less than or equal to 60"),
        ({"times": (("retread", ""),)}, "This field is required"),
        ({"times": (("wash", 3),)}, "not one of the available choices"),
        ({"times": (("retread", 3), ("retread", 4))}, "duplicate data for work"),
        ({"weekdays": ()}, "This field is required"),
        ({"weekdays": (0, 7)}, "7 is not one of the available choices"),
        ({"holidays": ("2026-02-30",)}, "Enter a valid date"),
        ({"store": True}, "not one of the available choices"),
    ],
)
def test_a_wrong_entry_is_told_and_nothing_is_written(
    world: World, records: Client, wrong: dict[str, Any], said: str
) -> None:
    asked = dict(wrong)
    site = world.store if asked.pop("store", False) else world.plant
    form = page(*asked.pop("times", ()), plant=str(site.uid), **asked)
    with nothing_written():
        answer = records.post("/admin/dock/calendar/add/", form)
    assert answer.status_code == 200
    assert said in answer.content.decode()


def test_an_earlier_state_that_is_put_back_is_published(world: World, records: Client) -> None:
    enter(world, {"retread": 5}, weekdays=[0, 1])
    enter(world, {"retread": 5}, weekdays=[0, 1, 2])
    earlier = Calendar.history.earliest("history_date")
    address = f"/admin/dock/calendar/{world.plant.uid}/history/{earlier.history_id}/"
    assert records.post(address, {"weekdays": ["0", "1"]}).status_code == 302
    assert published() == ({"retread": 5}, [0, 1], [])


def test_to_enter_times_replaces_them_and_keeps_what_they_were(world: World) -> None:
    enter(world, {"retread": 5, "repair": 2}, holidays={HOLIDAY: "Christmas"})
    enter(world, {"retread": 7}, weekdays=[4, 3, 3], holidays={})
    assert published() == ({"retread": 7}, [3, 4], [])
    assert list(StandardTime.objects.values_list("work", "working_days")) == [("retread", 7)]
    assert not Holiday.objects.exists()
    told = list(StandardTime.history.order_by("history_id").values_list("work", "working_days"))
    assert told == [("retread", 5), ("repair", 2), ("repair", 2), ("retread", 7)]
    assert Holiday.history.filter(history_type="-").get().name == "Christmas"


def test_a_refused_time_leaves_what_was_entered_and_published(world: World) -> None:
    enter(world, {"retread": 5})
    with nothing_written(), pytest.raises(ValueError, match="one working day or more"):
        enter(world, {"retread": 0})


def test_to_publish_again_changes_nothing_but_is_told(world: World) -> None:
    enter(world, {"retread": 5})
    before = published()
    services.publish(plant=world.plant.uid, at=clock.now())
    assert published() == before
    assert Entry.objects.filter(kind="standard_times.published").count() == 2


def test_the_works_of_a_plant_are_those_that_a_pick_up_may_want() -> None:
    assert set(StandardTime.Work.values) == set(get_args(Work))
