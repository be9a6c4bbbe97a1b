"""The plant's forms with what no table keeps, with figures beyond all measure, and while somebody
else works on the same label: refused in words, nothing written, and what was typed stays."""

from collections.abc import Iterator
from contextlib import contextmanager
from uuid import uuid4

import psycopg
import pytest
from django.conf import settings
from django.db import connection

from pickups.kernel.locks import label_key
from plant.adjustments.models import Claim
from plant.curing.models import LoadWord
from tests.plant.curing.plant_day import NUMBER, drain, entered, load, set_in
from tests.plant.floor.conftest import SignedIn
from tests.world import World
from tests.world.plant import Gateway
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db

ONE = str(uuid4())
LONG = "9" * 5_000
LOAD = {"number": "14-2", "chamber": "", "started_at": "", "ended_at": "", "operator": "",
        "lots": "", "note": ""}  # fmt: skip
CURE = {"chamber": "", "unit": "c", "low": "95", "minutes": "60", "gap": "5", "source": "sheet 4"}
FORMS: tuple[tuple[str, dict[str, str]], ...] = (
    ("/plant/unlabelled/find", {"size": "11R22.5\0", "note": "kept as typed"}),
    (f"/plant/unlabelled/{ONE}/rack", {"rack": "B\0"}),
    (f"/plant/unlabelled/{ONE}/recognise", {"told_by": "a cut\0"}),
    (f"/plant/adjustments/owed/{ONE}/settle", {"said": "from rack\0"}),
    ("/plant/adjustments/claims", {"complaint": "tread came off\0"}),
    (f"/plant/adjustments/claims/{ONE}/decide", {"grounds": "let go\0"}),
    ("/plant/cure/specify", CURE | {"source": "sheet\0"}),
    ("/plant/cure/qualified", {"grounds": "course\0"}),
    ("/plant/loads/new", LOAD | {"note": "\0"}),
    ("/plant/loads/14-2/decide", {"label": "K7Q4\0"}),
    ("/plant/limits/enter", {"zone": "\0"}),
    ("/plant/targets/enter", {"tread_design": "DL\0"}),
    ("/plant/stop-use/new?load=14-2", {"why_en": "short\0"}),
    ("/plant/choose", {"plant": "\0"}),
)


@pytest.mark.parametrize(("address", "typed"), FORMS, ids=[a.replace(ONE, "one") for a, _ in FORMS])
@pytest.mark.parametrize("language", ["en", "es"])
def test_what_no_table_keeps_is_refused_in_words_and_the_rest_stays(
    world: World, signed_in: SignedIn, address: str, typed: dict[str, str], language: str
) -> None:
    desk = signed_in("admin", language)
    with nothing_written():
        answer = desk.post(address, typed)
    assert answer.status_code == 400
    page = answer.content.decode()
    assert "\0" not in page
    assert ("cannot be kept" if language == "en" else "no se puede guardar") in page
    assert all(value.replace("\0", "") in page for value in typed.values())


@pytest.mark.parametrize(
    ("address", "typed"),
    [
        ("/plant/unlabelled/find", {"size": "11R22.5", "tread": LONG}),
        ("/plant/cure/specify", CURE | {"low": "--5"}),
        ("/plant/cure/specify", CURE | {"low": "-"}),
        ("/plant/cure/specify", CURE | {"low": "."}),
        ("/plant/loads/new", LOAD | {"started_at": "9999-12-31T23:59"}),
        ("/plant/loads/new", LOAD | {"ended_at": "0001-01-01T00:00+14:00"}),
    ],
    ids=["tread", "two-minus", "minus", "point", "last-year", "first-year"],
)  # fmt: skip
def test_a_figure_beyond_all_measure_is_refused_in_words(
    world: World, signed_in: SignedIn, address: str, typed: dict[str, str]
) -> None:
    desk = signed_in("admin")
    with nothing_written():
        answer = desk.post(address, typed)
    assert answer.status_code == 400
    assert 'role="alert"' in answer.content.decode()


def test_what_was_seen_of_a_specification_is_a_number_or_nothing(
    world: World, signed_in: SignedIn
) -> None:
    answer = signed_in("admin").post("/plant/cure/specify", CURE | {"knowing-": LONG})
    assert answer.status_code == 302


@contextmanager
def busy(label: str) -> Iterator[None]:
    """Somebody else holds a label until the end of the block, and nobody waits long for it."""
    database = settings.DATABASES["default"]
    host, user, name = (str(database[key]) for key in ("HOST", "USER", "NAME"))
    with connection.cursor() as c:
        c.execute("SET lock_timeout = '200ms'")
    try:
        with psycopg.connect(host=host, user=user, dbname=name) as other:
            other.execute("SELECT pg_advisory_xact_lock(%s)", [label_key(label)])
            yield
    finally:
        with connection.cursor() as c:
            c.execute("SET lock_timeout = '3s'")


@pytest.fixture
def tagged(world: World, gateway: Gateway) -> tuple[str, str]:
    """A casing that wears a tag: its first label and the tag."""
    label, tag = world.a_label(), world.a_label()
    set_in(gateway, [label])
    gateway.tell(label, "passed", station="paint", tag=tag)
    return label, tag


@pytest.mark.django_db(transaction=True)  # what the test itself has locked has to be gone
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_busy_label_is_said_and_what_was_typed_is_sent_again_with_one_key(
    world: World, signed_in: SignedIn, tagged: tuple[str, str], language: str
) -> None:
    typed = {"q": tagged[0], "complaint": "tread came off", "tread": "12 13"}
    desk = signed_in("admin", language)
    with busy(tagged[0]), nothing_written():
        answer = desk.post("/plant/adjustments/claims", typed)
    page = answer.content.decode()
    assert answer.status_code == 503
    assert ("Nothing was changed" if language == "en" else "No se cambió nada") in page
    assert 'action="/plant/adjustments/claims"' in page
    for name, value in typed.items():
        assert f'name="{name}" value="{value}"' in page
    assert not Claim.objects.exists()
    assert desk.post("/plant/adjustments/claims", typed).status_code == 302


@pytest.mark.django_db(transaction=True)
def test_a_word_about_a_load_is_told_once_however_busy_its_casings_are(
    world: World, gateway: Gateway, signed_in: SignedIn, tagged: tuple[str, str]
) -> None:
    entered(world)
    desk, typed = signed_in("admin"), LOAD | {"number": NUMBER, "note": "gauge changed"}
    with busy(tagged[0]):
        answer = desk.post("/plant/loads/new", typed)
    assert answer.status_code == 302
    assert desk.get(answer["Location"]).status_code == 200
    assert LoadWord.objects.count() == 1
    drain()
    assert load(world).note == "gauge changed"


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_number_that_is_known_leads_to_its_load_and_overwrites_nothing(
    world: World, signed_in: SignedIn, language: str
) -> None:
    desk, typed = signed_in("admin", language), LOAD | {"lots": "cushion_gum CG-1"}
    assert desk.post("/plant/loads/new", typed).status_code == 302
    with nothing_written():
        answer = desk.post("/plant/loads/new", typed | {"lots": "", "note": "second thoughts"})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert 'href="/plant/loads/14-2/"' in page
    assert 'value="second thoughts"' in page
    assert load(world, "14-2").lots == [{"kind": "cushion_gum", "number": "CG-1"}]
