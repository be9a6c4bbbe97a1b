"""A receipt whose casings turn out to be mixed up after it was signed: mail, page and paper say
what was corrected, each customer reads of their own alone, the signature stays as it was given."""

from uuid import UUID, uuid4

import pytest

from pickups.custody import ownership
from pickups.custody.models import Signature
from pickups.custody.shown import shown
from tests.conftest import Enrol
from tests.pickups.notices.conftest import mail  # noqa: F401
from tests.pickups.notices.visits import drain_all, pushed
from tests.pickups.portal.conftest import Opened, text
from tests.pickups.portal.test_receipt import words_of
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of

pytestmark = pytest.mark.django_db


def grouped(label: str) -> str:
    return f"{label[:4]} {label[4:]}"


def signed(phone: Phone, world: World, yard: UUID, n: int) -> tuple[UUID, list[UUID], list[str]]:
    """A pickup of so many casings, signed: the visit, the casings and their labels."""
    visit, labels = uuid4(), [world.a_label() for _ in range(n)]
    made = [phone.pick_up(label, yard, visit)["id"] for label in labels]
    payload = {"pickup": str(visit), "yard": str(yard), "casings": made, "signer": "R. Amsel"}
    payload |= {"shown": shown([(label, "") for label in labels])}
    phone.enter("custody.finish_pickup", payload, version=5)
    pushed(phone)
    return visit, [UUID(uid) for uid in made], labels


def test_a_settled_mix_up_is_told_to_both_and_undone_again(
    world: World,
    phone: Phone,
    enrol: Enrol,
    opened: Opened,
    mail: MailServer,  # noqa: F811
) -> None:
    ours, our_casings, our_labels = signed(phone, world, world.yard.uid, 2)
    other = enrol(world.other_driver)
    theirs, their_casings, their_labels = signed(other, world, world.other_yard.uid, 1)
    drain_all()
    assert len(mail.mails) == 2
    assert all("Corrected" not in text_of(m) for m in mail.mails)
    hashes = set(Signature.objects.values_list("visit", "shown"))
    mail.mails.clear()

    change = ownership.settle(
        work_order=our_casings[0], other=their_casings[0], reason="swapped",
        by=world.dispatcher.uid,
    )  # fmt: skip
    drain_all()
    drain_all()
    out, back = grouped(our_labels[0]), grouped(their_labels[0])
    mine, others = opened(), opened(world.other_customer)
    page = text(mine.get(f"/casings/receipts/{ours}"))
    said = f"Corrected after signing: casing {out} was mixed up with another one; yours is {back}."
    assert said in page
    assert "Signed by R. Amsel." in page
    assert "Picked up: 2 casings" in page
    assert their_labels[0] in page, "in the list, beside where it is said"
    assert our_labels[0] not in page, "only where it is said"
    paper = words_of(mine.get(f"/casings/receipts/{ours}.pdf").content)
    assert said in paper[0]
    assert f"Corregido después de la firma: la carcasa {out} se confundió con otra;" in paper[1]
    page = text(others.get(f"/casings/receipts/{theirs}"))
    assert f"la carcasa {back} se confundió con otra; la suya es {out}." in page
    assert world.customer.name not in page
    sent = {m["To"]: m for m in mail.mails if str(m["Subject"]).startswith("Correct")}
    spanish = {m["To"]: m for m in mail.mails if str(m["Subject"]).startswith("Correg")}
    (english,) = sent.values()
    assert said in text_of(english)
    assert str(english["Subject"]) == "Corrected: Receipt: 2 casings picked up at North yard"
    assert len(spanish) == 1
    assert set(Signature.objects.values_list("visit", "shown")) == hashes

    mail.mails.clear()
    ownership.undo(change=change, reason="no mix-up", by=world.dispatcher.uid)
    drain_all()
    page = text(mine.get(f"/casings/receipts/{ours}"))
    assert "Corrected" not in page
    assert our_labels[0] in page
    assert back not in page
    assert their_labels[0] not in page
    again = [m for m in mail.mails if str(m["Subject"]).startswith("Corrected: Receipt")]
    assert len(again) == 1
    assert "An earlier correction was a mistake" in text_of(again[0])


def test_who_has_had_no_receipt_yet_hears_of_the_correction_with_the_first(
    world: World,
    phone: Phone,
    enrol: Enrol,
    mail: MailServer,  # noqa: F811
) -> None:
    _, (mine,), _ = signed(phone, world, world.yard.uid, 1)
    _, (other,), _ = signed(enrol(world.other_driver), world, world.other_yard.uid, 1)
    ownership.settle(work_order=mine, other=other, reason="swapped", by=world.dispatcher.uid)
    drain_all()
    receipts = [m for m in mail.mails if "picked up at" in str(m["Subject"])]
    (told,) = receipts
    assert str(told["Subject"]) == "Receipt: 1 casing picked up at North yard"
    assert "Corrected after signing: casing" in text_of(told)


def test_a_casing_that_was_sold_corrects_no_receipt(
    world: World,
    phone: Phone,
    mail: MailServer,  # noqa: F811
) -> None:
    from tests.pickups.notices.test_owned import sold

    _, (uid,), _ = signed(phone, world, world.yard.uid, 1)
    drain_all()
    mail.mails.clear()
    sold(world, str(uid))
    drain_all()
    assert [m for m in mail.mails if "Receipt" in str(m["Subject"])] == []
