"""Repair limits on their page: entered from a chart, taken out, never a permission."""

import re

import pytest
from django.test import Client

from pickups.people.models import User
from plant.dock.models import RepairLimit
from plant.inspection import limiting
from plant.inspection.limits import Limit, Says, verdict
from plant.inspection.rules import NEVER_RELEASED
from tests.conftest import Enrol
from tests.plant.floor.conftest import SignedIn
from tests.world import World

LINE = {
    "zone": "crown",
    "kind": "nail_hole",
    "size_class": "medium",
    "most_mm": "9,5",
    "most_count": "",
    "chart": "Supplier's chart of March",
}


def enter(client: Client, **other: str) -> tuple[int, str]:
    answer = client.post("/plant/limits/enter", LINE | other, follow=True)
    return answer.status_code, answer.content.decode()


def entered(world: World) -> list[Limit]:
    """What the plant's devices are told that it has entered."""
    told = limiting.bodies([world.plant.uid])[world.plant.uid]["limits"]
    own = [{k: v for k, v in one.items() if k != "entered_by"} for one in told if one["active"]]
    return [Limit(**one) for one in own]


def test_before_anything_is_entered_published_figures_are_shown_and_none_counts(
    world: World, operator: Client
) -> None:
    page = operator.get("/plant/limits").content.decode()
    assert "for every find the tablets say “no limit entered”" in page
    assert "49 CFR 570.62(d)" in page
    assert page.count("told by another, the source was not seen") == 3
    assert entered(world) == []
    body = limiting.bodies([world.plant.uid])[world.plant.uid]
    assert body["limits"]
    assert {one["active"] for one in body["limits"]} == {False}
    assert set(body["never_released"]) == NEVER_RELEASED


def test_an_entered_line_counts_and_says_who_when_and_which_chart(
    world: World, operator: Client
) -> None:
    status, page = enter(operator)
    assert status == 200
    assert "Entered: crown, nail hole, 9.5 mm." in page
    assert "Supplier&#x27;s chart of March" in page
    assert "Ivor Tamm, " in page
    (limit,) = entered(world)
    said = [verdict("crown", "nail_hole", mm, 1, "11R22.5", [limit]).says for mm in (9.5, 10)]
    assert said == [Says.NOT_BEYOND, Says.BEYOND]
    # The next line of the chart needs its name no second time.
    assert 'name="chart" value="Supplier&#x27;s chart of March"' in page


def test_a_line_entered_again_takes_the_place_of_the_old_one_which_stays_in_its_history(
    operator: Client,
) -> None:
    enter(operator)
    enter(operator, most_mm="6", most_count="2", chart="Supplier's chart of May")
    row = RepairLimit.objects.get()
    assert (row.most_mm, row.most_count, row.chart) == (6, 2, "Supplier's chart of May")
    assert [one.most_mm for one in row.history.order_by("history_id")] == [9.5, 6]


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("zone", "", "Zone: “” is none"),
        ("zone", "tread", "Zone: “tread” is none"),
        ("kind", "separation", "Kind: “separation” is none for a limit"),
        ("size_class", "x" * 25, "24 characters at most"),
        ("most_mm", "ten", "Longest: “ten” is no length; a number of mm from 0 to 1000."),
        ("most_mm", "-1", "Longest: “-1” is no length"),
        ("most_mm", "nan", "Longest: “nan” is no length"),
        ("most_mm", "1001", "Longest: “1001” is no length"),
        ("most_mm", "", "a limit has to say something"),
        ("most_count", "2.5", "How many: “2.5” is no count; a whole number from 0 to 50."),
        ("most_count", "51", "How many: “51” is no count"),
        ("chart", "", "Chart: “”; name it"),
    ],
)
def test_a_wrong_line_names_the_field_keeps_what_was_typed_and_writes_nothing(
    operator: Client, field: str, value: str, said: str
) -> None:
    typed = LINE | {"most_count": "3" if field != "most_mm" else "", field: value}
    status, page = enter(operator, **typed)
    assert status == 400
    assert said in page
    assert re.search(rf'name="{field}"[^>]*aria-invalid="true"[^>]*autofocus', page)
    for name in ("most_mm", "most_count", "size_class"):
        assert f'name="{name}" value="{typed[name]}"' in page
    assert not RepairLimit.objects.exists()


def test_a_line_is_taken_out_and_counts_no_longer(world: World, operator: Client) -> None:
    enter(operator)
    row = RepairLimit.objects.get()
    answer = operator.post(f"/plant/limits/{row.pk}/back", follow=True)
    assert "Taken out: crown, nail hole." in answer.content.decode()
    assert entered(world) == []
    assert RepairLimit.history.filter(id=row.pk, history_type="-").count() == 1
    assert operator.post(f"/plant/limits/{row.pk}/back").status_code == 404


def test_the_office_reads_limits_and_has_no_form(signed_in: SignedIn) -> None:
    enter(signed_in())
    page = signed_in("dispatcher").get("/plant/limits").content.decode()
    assert "9.5 mm" in page
    assert "most_mm" not in page


def test_no_word_of_the_page_is_a_permission(signed_in: SignedIn) -> None:
    for language in ("en", "es"):
        client = signed_in(language=language)
        enter(client)
        page = client.get("/plant/limits").content.decode().lower()
        assert not re.search(r"within (the )?limit|dentro del límite|may be repaired if", page)


@pytest.mark.django_db(transaction=True)  # a feed shows what is committed
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_a_tablet_of_the_plant_hears_of_each_change(
    world: World, operator: Client, enrol: Enrol
) -> None:
    tablet = enrol(world.operator)

    def active() -> list[tuple[str, float, str]]:
        tablet.pull_all()
        (row,) = [row for key, row in tablet.rows.items() if key[1] == "repair_limits"]
        limits = [one for one in row["body"]["limits"] if one["active"]]
        return [(one["source"], one["most_mm"], one["entered_by"]) for one in limits]

    assert active() == []
    enter(operator)
    assert active() == [("Supplier's chart of March", 9.5, "Ivor Tamm")]
    operator.post(f"/plant/limits/{RepairLimit.objects.get().pk}/back")
    assert active() == []


def test_the_records_show_what_stood_before_and_change_nothing(
    world: World, operator: Client
) -> None:
    enter(operator)
    enter(operator, most_mm="6", chart="Supplier's chart of May")
    row = RepairLimit.objects.get()
    root = User.objects.create_user("root", role="admin", is_staff=True, is_superuser=True)
    records = Client()
    records.force_login(root)
    address = f"/admin/dock/repairlimit/{row.pk}/"
    assert records.get(f"{address}change/").status_code == 200
    history = records.get(f"{address}history/")
    assert history.status_code == 200
    assert history.content.decode().count("Changed") >= 1
    assert records.post(f"{address}change/", {"most_mm": "99"}).status_code == 403
    assert records.get(f"{address}delete/").status_code == 403
    row.refresh_from_db()
    assert row.most_mm == 6
