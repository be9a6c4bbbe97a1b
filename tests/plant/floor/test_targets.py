"""What a plant wants of tread designs: entered from a sheet, told to its tablets, taken out again;
nothing is wanted by itself."""

import pytest
from django.test import Client

from plant.dock import queries as dock
from plant.dock.models import TreadTarget
from plant.dock.rules import FIGURES
from tests.conftest import Enrol
from tests.plant.floor.conftest import SignedIn
from tests.world import World
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db
LINE = {"tread_design": "DL-41", "size": "", "pitch_mm": "76,2", "sheet": "Maker's sheet of March"}


def enter(client: Client, **other: str) -> tuple[int, str]:
    answer = client.post("/plant/targets/enter", LINE | other, follow=True)
    return answer.status_code, answer.content.decode()


def test_before_anything_is_entered_nothing_is_wanted(world: World, operator: Client) -> None:
    assert "no figure entered" in operator.get("/plant/targets").content.decode()
    body = dock.target_bodies([world.plant.uid])[world.plant.uid]
    assert body["targets"] == []


def test_an_entered_line_says_who_when_and_which_sheet_and_what_is_missing(
    world: World, operator: Client
) -> None:
    status, page = enter(operator, radius_mm="560", radius_off_mm="3")
    assert status == 200
    assert "Entered: DL-41." in page
    assert "Maker&#x27;s sheet of March" in page
    assert "Ivor Tamm, " in page
    missing = page.split("No figure entered: ")[1].split("<")[0]
    assert "Texture, at least" in missing
    assert "Pitch" not in missing
    (told,) = dock.target_bodies([world.plant.uid])[world.plant.uid]["targets"]
    figures = {name: told[name] for name in FIGURES if told[name] is not None}
    assert figures == {"pitch_mm": 76.2, "radius_mm": 560, "radius_off_mm": 3}
    # The next line of the sheet needs its name no second time.
    assert 'name="sheet" value="Maker&#x27;s sheet of March"' in page


def test_the_same_design_and_size_take_the_place_of_the_old_line_whose_history_stays(
    world: World, operator: Client
) -> None:
    enter(operator, gum_mm="1.5")
    enter(operator, tread_design="dl-41", pitch_mm="75", sheet="Sheet of May")
    enter(operator, size="11R22.5", pitch_mm="74")
    row = TreadTarget.objects.get(size="")
    assert (row.tread_design, row.pitch_mm, row.gum_mm, row.sheet) == (
        "dl-41", 75, None, "Sheet of May")  # fmt: skip
    assert [one.pitch_mm for one in row.history.order_by("history_id")] == [76.2, 75]
    body = dock.target_bodies([world.plant.uid])[world.plant.uid]
    assert [t["pitch_mm"] for t in body["targets"]] == [74, 75]  # DL-41 11R22.5, dl-41
    assert body["version"] == 4  # one for the laying out of the route


def test_a_line_is_taken_out_and_only_by_its_own_plant(world: World, operator: Client) -> None:
    enter(operator)
    row = TreadTarget.objects.get()
    assert operator.post(f"/plant/targets/{row.pk + 1}/back").status_code == 404
    assert operator.post(f"/plant/targets/{row.pk}/back").status_code == 302
    assert not TreadTarget.objects.exists()
    assert TreadTarget.history.filter(id=row.pk).count() == 2
    assert dock.target_bodies([world.plant.uid])[world.plant.uid]["targets"] == []


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize(
    ("field", "value"),
    [("tread_design", ""), ("tread_design", "x" * 61), ("size", "x" * 25), ("sheet", ""),
     ("sheet", "two\nlines"), ("pitch_mm", "0"), ("pitch_mm", "about 76"), ("pitch_mm", "76.255"),
     ("pitch_mm", "1e3"), ("pitch_mm", "٧٦"), ("pitch_mm", ""), ("radius_mm", "9999"),
     ("texture_most", "1")],
    ids=["no-design", "long-design", "long-size", "no-sheet", "two-lines", "zero", "words",
         "decimals", "power", "digits", "nothing", "beyond", "texture"],
)  # fmt: skip
def test_a_line_that_is_not_allowed_comes_back_as_typed(
    world: World, signed_in: SignedIn, field: str, value: str, language: str
) -> None:
    desk = signed_in("admin", language)
    typed = LINE | ({"texture_least": "2"} if field == "texture_most" else {}) | {field: value}
    with nothing_written():
        answer = desk.post("/plant/targets/enter", typed)
    assert answer.status_code == 400
    page = answer.content.decode()
    assert 'role="alert"' in page
    assert page.count('aria-invalid="true"') == 1


@pytest.mark.django_db(transaction=True)  # a feed shows what is committed
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_the_plants_tablets_hear_of_each_change_and_a_store_does_not(
    world: World, enrol: Enrol, operator: Client
) -> None:
    tablet, phone = enrol(world.operator), enrol()

    def pitches() -> list[float]:
        tablet.pull_all()
        rows = [row for key, row in tablet.rows.items() if key[1] == "tread_targets"]
        return [one["pitch_mm"] for row in rows for one in row["body"]["targets"]]

    assert pitches() == []
    enter(operator)
    assert pitches() == [76.2]
    enter(operator, pitch_mm="75")
    assert pitches() == [75]
    operator.post(f"/plant/targets/{TreadTarget.objects.get().pk}/back")
    assert pitches() == []
    phone.pull_all()
    assert [key for key in phone.rows if key[1] == "tread_targets"] == []
