"""What the office sees of labels that were replaced, and how it takes a mistaken one back."""

import re
from uuid import uuid4

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from pickups.casings.models import WorkOrder
from pickups.custody.models import Fact
from pickups.custody.shown import shown
from pickups.desk import words
from pickups.questions.models import Question
from tests.pickups.desk.conftest import SignedIn
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def relabelled(phone: Phone, old: str, new: str, **more: str) -> None:
    phone.enter("custody.relabel", {"label": old, "now": new, "why": "spoiled", **more})
    assert phone.push().status == 200


def text(browser: Client, label: str) -> str:
    page = browser.get(f"/office/labels/{label}").content.decode()
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


@pytest.mark.parametrize(
    ("language", "void", "in_place", "spoiled", "known"),
    [
        ("en", "This label is void.", "In place of", "which was spoiled", "known by: “its TIN”"),
        ("es", "está anulada", "En lugar de", "que estaba estropeada", "por: «its TIN»"),
    ],
)
def test_both_labels_tell_the_whole_life_of_the_casing(
    world: World, phone: Phone, gateway: Gateway, signed_in: SignedIn, language: str, void: str,
    in_place: str, spoiled: str, known: str,
) -> None:  # fmt: skip
    old, new = world.a_label(), world.a_label()
    phone.pick_up(old, world.yard.uid, uuid4())
    relabelled(phone, old, new, known_by="its TIN")
    gateway.tell(old, "received", station="receiving")
    gateway.tell(new, "finished")
    office = signed_in(language=language)
    told = {label: text(office, label) for label in (old, new)}
    assert void in told[old]
    assert f"{new[:4]} {new[4:]}" in told[old]
    assert void not in told[new]
    assert in_place in told[new]
    for page in told.values():
        assert spoiled in page
        assert known in page
        assert words.say(language, "progress_finished") in page
        assert "North yard" in page


def test_a_relabelling_on_the_wrong_casing_is_taken_back_where_it_is_asked_about(
    world: World, phone: Phone, office: Client
) -> None:
    mine, others = world.a_label(), world.a_label()
    for label in (mine, others):
        phone.pick_up(label, world.yard.uid, uuid4())
    relabelled(phone, mine, others)
    question = Question.objects.get(kind="label_contested")
    page = office.get("/office/").content.decode()
    assert f"{words.grouped(others)} in place of {words.grouped(mine)}" in page
    swap = Fact.objects.get(kind="relabelled")
    door = f"/office/questions/{question.id}/label-back"
    unsaid = office.post(door, {"fact": str(swap.uid), "said": " "})
    assert unsaid.status_code == 400
    assert f'aria-describedby="w{swap.uid}"' in unsaid.content.decode()
    assert not Fact.objects.filter(kind="withdrawn").exists()
    body = {"fact": str(swap.uid), "said": "read its neighbour"}
    assert office.post(door, body).status_code == 302
    assert "Each casing keeps the label it had." in office.get("/office/").content.decode()
    assert set(WorkOrder.objects.values_list("label", "contested")) == {
        (mine, False),
        (others, False),
    }
    assert office.post(door, body).status_code == 302
    assert Fact.objects.filter(kind="withdrawn").count() == 1
    assert "read its neighbour" in text(office, mine)
    assert "took it back" in text(office, others)


def test_many_questions_about_replaced_labels_cost_no_more_reads(
    world: World, phone: Phone, office: Client
) -> None:
    def asked() -> int:
        label = world.a_label()
        phone.pick_up(label, world.yard.uid, uuid4())
        relabelled(phone, label, world.a_label())
        relabelled(phone, label, world.a_label())
        with CaptureQueriesContext(connection) as sent:
            page = office.get("/office/").content.decode()
        assert page.count(f"in place of {words.grouped(label)}") == 2
        return len(sent)

    asked()  # what is read once for a process is read
    assert len({asked() for _ in "abc"}) == 1


def test_only_a_relabelling_of_that_label_is_taken_back(
    world: World, phone: Phone, office: Client
) -> None:
    mine, others, far, away = (world.a_label() for _ in "abcd")
    for label in (mine, others, far):
        phone.pick_up(label, world.yard.uid, uuid4())
    relabelled(phone, mine, others)
    relabelled(phone, far, away)
    question = Question.objects.get(kind="label_contested").id
    sound = Fact.objects.get(kind="relabelled", label=far)
    body = {"fact": str(sound.uid), "said": "not this one"}
    assert office.post(f"/office/questions/{question}/label-back", body).status_code == 302
    assert not Fact.objects.filter(kind="withdrawn").exists()


@pytest.mark.parametrize("signed_first", [True, False])
def test_a_label_replaced_before_or_after_signing_is_no_corrected_list(
    world: World, phone: Phone, office: Client, signed_first: bool
) -> None:
    old, new = world.a_label(), world.a_label()
    op = phone.pick_up(old, world.yard.uid, uuid4())
    swap = {"label": old, "now": new, "why": "lost"}
    end = {k: op["payload"][k] for k in ("pickup", "yard")}
    end |= {"casings": [op["id"]], "signer": "Ada"}
    end |= {"shown": shown([(old if signed_first else new, "")])}
    if not signed_first:
        phone.enter("custody.relabel", swap)
    phone.enter("custody.finish_pickup", end, version=2)
    if signed_first:
        phone.enter("custody.relabel", swap)
    assert phone.push().status == 200
    assert "signed: Ada" in text(office, new)
    assert "corrected after signing" not in text(office, new)
