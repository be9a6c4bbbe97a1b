"""The pages of what each customer accepts: by customer, in words, changed, withdrawn, tried."""

import re
from typing import Any

import pytest
from django.test import Client

from pickups.casings.eligibility import Rule, Verdict
from pickups.customers import queries, services, specifying
from pickups.customers.models import Customer, SpecificationVersion, Yard
from pickups.customers.rules import REJECTS, REPAIRS, WHOLE, Terms, terms
from pickups.desk import words
from pickups.desk.queries.specifications import in_words
from pickups.kernel import clock
from tests.pickups.desk.conftest import SignedIn
from tests.world import World

pytestmark = pytest.mark.django_db

FULL = terms(
    {
        "oldest_years": 7,
        "most_caps": 2,
        "most_nail_holes": 4,
        "repairs": ["old_nail_repair"],
        "brands": ["Northroad"],
        "sizes": ["295/75R22.5", "11R22.5"],
        "designs": {"drive": "DL-41"},
        "fleet_brand": "TVH",
        "rejects": "return",
        "pull_32nds": 4,
    }
)


def stand(world: World, told: Terms = FULL, **more: Any) -> SpecificationVersion:
    asked = {"customer": world.customer.uid, "by": world.dispatcher.uid, "at": clock.now()}
    return specifying.specify(**{**asked, "terms": told, **more})


def address(world: World, yard: Yard | None = None) -> str:
    tail = f"{yard.uid}/" if yard else ""
    return f"/office/specifications/{world.customer.uid}/{tail}"


def form(**more: Any) -> dict[str, Any]:
    return {"knowing": "0", "any_repair": "yes", "rejects": "ask", **more}


def read(answer: Any) -> str:
    """A page as it is read."""
    text = re.sub(r"<[^>]+>", " ", answer.content.decode().split("<main")[1])
    return " ".join(text.split())


# --- The list -------------------------------------------------------------------------------------


def test_every_customer_stands_with_what_it_accepts_in_words(office: Client, world: World) -> None:
    stand(world)
    stand(world, Terms(most_caps=0), yard=world.yard.uid)
    page = read(office.get("/office/specifications/"))
    assert "Tarn Valley Haulage All yards Up to 7 years old; up to 2 retreads already" in page
    assert "sizes: 295/75R22.5, 11R22.5" in page
    assert "Tarn Valley Haulage Only North yard No retread yet" in page
    assert "Number 1, since" in page
    assert "by Odile Hart" in page
    assert "Reedbank Gravel All yards Nothing is asked" in page


def test_a_customer_is_found_by_a_part_of_its_name(office: Client, world: World) -> None:
    page = read(office.get("/office/specifications/?customer=reed"))
    assert "Reedbank" in page
    assert "Tarn" not in page
    assert "No customer has “zzz”" in read(office.get("/office/specifications/?customer=zzz"))


def test_where_no_customer_is_the_page_says_what_will_stand_there(
    signed_in: SignedIn, world: World
) -> None:
    client = signed_in()
    Yard.objects.all().delete()
    Customer.objects.all().delete()
    assert "Each one will stand here" in read(client.get("/office/specifications/"))


# --- Changing -------------------------------------------------------------------------------------


def test_what_is_typed_is_saved_whole_and_said_in_words(office: Client, world: World) -> None:
    sent = form(
        oldest_years=" 7 ",
        most_caps="2",
        most_nail_holes="4",
        pull_32nds="4",
        any_repair="no",
        repairs=["old_nail_repair"],
        brands="Northroad\r\n",
        sizes="295/75 r 22.5, 11R22.5",
        drive="DL-41",
        fleet_brand=" TVH",
        rejects="return",
    )
    answer = office.post(address(world) + "specify", sent, follow=True)
    assert answer.redirect_chain == [(address(world), 302)]
    assert "Saved as number 1: up to 7 years old" in read(answer)
    (stands,) = queries.specifications_standing()
    assert (stands.terms, stands.by, stands.yard) == (FULL, world.dispatcher.uid, None)


def test_the_form_comes_back_with_what_stands(office: Client, world: World) -> None:
    stand(world)
    page = office.get(address(world)).content.decode()
    assert 'name="knowing" value="1"' in page
    assert re.search('name="oldest_years" value="7"', page)
    assert "295/75R22.5\n11R22.5</textarea>" in page
    assert 'value="old_nail_repair" checked' in page
    assert 'value="no" checked' in page
    assert '<option value="return" selected>' in page


def test_an_empty_form_asks_nothing_and_the_same_again_is_no_new_number(
    office: Client, world: World
) -> None:
    page = read(office.post(address(world) + "specify", form(), follow=True))
    assert "Saved as number 1: anything that no damage and no law stops." in page
    again = office.post(address(world) + "specify", form(knowing="1"), follow=True)
    assert "Nothing was changed; number 1 stands." in read(again)
    assert SpecificationVersion.objects.count() == 1


def test_it_can_be_seen_in_words_before_it_is_saved(office: Client, world: World) -> None:
    sent = form(oldest_years="5", look="1")
    answer = office.post(address(world) + "specify", sent)
    assert answer.status_code == 200
    assert "It would say: up to 5 years old." in read(answer)
    assert 'name="oldest_years" value="5"' in answer.content.decode()
    assert not SpecificationVersion.objects.exists()


def test_a_yard_has_a_page_of_its_own(office: Client, world: World) -> None:
    stand(world)
    assert "what Tarn Valley Haulage accepts everywhere holds here" in read(
        office.get(address(world, world.yard))
    )
    sent = form(oldest_years="3")
    page = office.post(address(world, world.yard) + "specify", sent, follow=True)
    assert "Up to 3 years old" in read(page)
    assert {s.yard for s in queries.specifications_standing()} == {None, world.yard.uid}


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("oldest_years", "0", "“0” cannot be kept: a whole number from 1 to 30, or empty."),
        ("oldest_years", "seven", "“seven” cannot be kept"),
        ("oldest_years", "\u0667", "cannot be kept"),
        ("most_caps", "21", "a whole number from 0 to 20"),
        ("most_nail_holes", "-1", "“-1” cannot be kept"),
        ("pull_32nds", "31", "a whole number from 0 to 30"),
        ("brands", "Northroad\nNORTHROAD", "“NORTHROAD” stands there twice"),
        ("brands", "x" * 41, "is too long: at most 40 characters"),
        ("brands", "\n".join(f"b{n}" for n in range(41)), "“b40” and what follows are too many"),
        ("sizes", "11R22.5\n11 r 22.5", "“11 r 22.5” stands there twice"),
        ("sizes", "29575225", "“29575225” does not read as a size. Meant: 295/75R22.5"),
        ("sizes", "big one", "“big one” does not read as a size: write it as 295/75R22.5"),
        ("drive", "y" * 41, "is too long: at most 40 characters"),
        ("fleet_brand", "a\x00b", "holds signs that cannot be kept"),
        ("rejects", "burn", "“burn” is not to be chosen here"),
    ],
)
def test_what_cannot_be_kept_is_said_beside_its_field_and_nothing_typed_is_lost(
    office: Client, world: World, name: str, value: str, said: str
) -> None:
    sent = form(steer="ST-9", most_caps="3") | {name: value}
    answer = office.post(address(world) + "specify", sent)
    page = answer.content.decode()
    assert answer.status_code == 400
    assert said in read(answer)
    assert "fields to mend: 1." in read(answer)
    assert 'aria-invalid="true"' in page.split(f'id="{name}"')[1].split(">")[0]
    assert 'name="steer" value="ST-9"' in page
    assert not SpecificationVersion.objects.exists()


def test_a_ticked_repair_is_not_passed_over_where_any_is_accepted(
    office: Client, world: World
) -> None:
    sent = form(repairs=["old_nail_repair", "old_bead_repair"])
    answer = office.post(address(world) + "specify", sent)
    assert answer.status_code == 400
    assert "yet “nail holes, beads” is ticked: choose “Only these”" in read(answer)
    assert 'value="old_bead_repair" checked' in answer.content.decode()
    assert not SpecificationVersion.objects.exists()


def test_all_faults_are_said_at_once(office: Client, world: World) -> None:
    answer = office.post(
        address(world) + "specify", form(oldest_years="x", sizes="y", steer="z" * 50)
    )
    assert "fields to mend: 3." in read(answer)
    page = answer.content.decode()
    assert page.count(" autofocus") == 1
    assert " autofocus" in page.split('id="oldest_years"')[1].split(">")[0]


def test_who_saves_over_what_another_saved_is_shown_it_and_keeps_what_was_typed(
    signed_in: SignedIn, world: World
) -> None:
    client = signed_in("admin")
    stand(world, Terms(oldest_years=5))
    answer = client.post(address(world) + "specify", form(oldest_years="9"))
    assert answer.status_code == 409
    assert "Odile Hart has saved number 1 in the meantime. It says: up to 5 years old." in read(
        answer
    )
    page = answer.content.decode()
    assert 'name="oldest_years" value="9"' in page
    assert 'name="knowing" value="1"' in page
    client.post(address(world) + "specify", form(oldest_years="9", knowing="1"))
    assert [s.terms.oldest_years for s in queries.specifications_standing()] == [9]


# --- Withdrawing, earlier versions ----------------------------------------------------------------


def test_it_is_asked_before_it_is_withdrawn_and_what_stood_stays_readable(
    office: Client, world: World
) -> None:
    stand(world)
    asked = office.get(address(world) + "withdraw")
    assert "Withdraw what Tarn Valley Haulage accepts?" in read(asked)
    sent = {"knowing": "1"}
    page = read(office.post(address(world) + "withdraw", sent, follow=True))
    assert "Withdrawn." in page
    assert "Nothing is asked" in page
    earlier = page.split("Earlier versions")[1]
    assert re.search("2 .* Odile Hart Withdrawn 1 .* Odile Hart Up to 7 years old", earlier)
    again = read(office.post(address(world) + "withdraw", sent, follow=True))
    assert "It was withdrawn already." in again
    put_back = office.post(address(world) + "specify", form(knowing="0", oldest_years="9"))
    assert "Odile Hart has withdrawn it in the meantime" in read(put_back)


def test_what_another_saved_meanwhile_is_shown_before_it_is_withdrawn(
    office: Client, world: World
) -> None:
    stand(world)
    asked = office.get(address(world) + "withdraw").content.decode()
    assert 'name="knowing" value="1"' in asked
    stand(world, Terms(oldest_years=5))
    answer = office.post(address(world) + "withdraw", {"knowing": "1"})
    assert answer.status_code == 409
    assert "saved number 2 in the meantime. It says: up to 5 years old." in read(answer)
    assert 'name="knowing" value="2"' in answer.content.decode()
    assert [s.terms.oldest_years for s in queries.specifications_standing()] == [5]
    office.post(address(world) + "withdraw", {"knowing": "2"})
    assert queries.specifications_standing() == []


# --- Who may --------------------------------------------------------------------------------------


def test_a_sales_manager_looks_and_tries_and_changes_nothing(
    signed_in: SignedIn, world: World
) -> None:
    stand(world)
    sales = signed_in("sales")
    page = sales.get(address(world)).content.decode().split("<main")[1]
    assert 'method="post"' not in page
    assert "withdraw" not in page
    assert "Up to 7 years old" in page
    for tail in ("specify", "withdraw"):
        assert sales.post(address(world) + tail, form()).status_code == 403
    assert SpecificationVersion.objects.count() == 1


def test_what_is_no_customer_or_not_its_yard_is_not_here(office: Client, world: World) -> None:
    nobody = world.yard.uid
    for at in (f"/office/specifications/{nobody}/", address(world, world.other_yard)):
        assert office.get(at).status_code == 404
        assert office.post(at + "specify", form()).status_code == 404
        assert office.get(at + "withdraw").status_code == 404
    assert not SpecificationVersion.objects.exists()


# --- Trying ---------------------------------------------------------------------------------------


def test_a_casing_is_tried_by_what_stands(office: Client, world: World) -> None:
    stand(world)
    casing = {"try": "1", "size": "295/75R22.5", "brand": "northroad", "holes": "5"}
    page = read(office.get(address(world), {**casing, "tin": "4B08 4DHR 1214", "retreads": "2318"}))
    assert "Leave it there" in page
    assert "Past the age in years that this customer takes: 7." in page
    assert "Nail holes: 5. This customer takes up to 4." in page
    good = {**casing, "holes": "4", "tin": "1B3 ABCDEF " + recent()}
    assert "Take it Nothing speaks against it." in read(office.get(address(world), good))
    bare = read(office.get(address(world), {"try": "1"}))
    assert "Let the plant decide" in bare
    assert "No DOT code" in bare


def recent() -> str:
    """A week of last year."""
    return f"10{(clock.now().year - 1) % 100:02}"


def test_a_yard_without_its_own_is_tried_by_its_customers(office: Client, world: World) -> None:
    stand(world, Terms(most_caps=0))
    south = services.open_yard(customer=world.customer, name="South yard")
    casing = {"try": "1", "tin": recent(), "retreads": f"{recent()}, 0120"}
    page = read(office.get(address(world, south), casing))
    assert "Retreads already: 2. This customer takes up to 0." in page


# --- Words ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("language", words.LANGUAGES)
def test_everything_that_can_be_said_has_words(language: str) -> None:
    known = words.of(language)
    wanted = [f"ground_{rule}" for rule in Rule] + [f"spec_{verdict}" for verdict in Verdict]
    wanted += [f"repair_{kind}" for kind in REPAIRS] + [f"spec_rejects_{r}" for r in REJECTS]
    wanted += [f"spec_{name}{tail}" for name in WHOLE for tail in ("", "_hint")]
    assert [key for key in wanted if key not in known] == []


def test_terms_are_said_in_both_languages() -> None:
    assert in_words(FULL, "en") == (
        "up to 7 years old; up to 2 retreads already; up to 4 nail holes; old repairs: nail holes; "
        "brands: Northroad; sizes: 295/75R22.5, 11R22.5; tread: DL-41 (drive); branded TVH; "
        "pulled at 4/32 in; rejects: bring it back"
    )
    assert in_words(Terms(oldest_years=1, most_caps=0, repairs=[]), "es") == (
        "hasta 1 año; ningún reencauche previo; ninguna reparación anterior"
    )
    assert in_words(Terms(), "en") == "anything that no damage and no law stops"
