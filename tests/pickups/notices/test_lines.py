"""A receipt of every kind of line: what each records, what stands apart, what is left with whom."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from pytest_django import Settings

from pickups.casings.models import WorkOrder
from pickups.custody.shown import shown
from pickups.customers.models import Contact
from pickups.kernel.clock import rfc3339
from pickups.questions.models import Question
from tests.pickups.notices.visits import drain_all, promised, pushed
from tests.pickups.notices.visits import shown as grouped
from tests.world import Phone, World
from tests.world.mail import MailServer, text_of

pytestmark = pytest.mark.django_db

TIRE: dict[str, Any] = {"size": "295/75R22.5", "brand": "Corvane"}
CORD = {"zone": "sidewall", "kind": "cord", "side": "other", "mm": 60}
STOP = {"verdict": "leave", "because": ["stop_condition"]}


def take(phone: Phone, world: World, pickup: UUID, **more: Any) -> dict[str, Any]:
    """One thing as the third version tells it; not pushed."""
    at = phone.clock() + timedelta(seconds=phone.sequence)  # two of one millisecond: in any order
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), "label": world.a_label()}
    return phone.enter("custody.pick_up", payload | more, version=3, happened_at=rfc3339(at))


def over(
    phone: Phone,
    world: World,
    pickup: UUID,
    customer_count: int | None = None,
    **lists: list[dict[str, Any]],
) -> None:
    """The end of it, pushed."""
    ids = {k: [op["id"] for op in ops] for k, ops in lists.items()}
    payload = {"pickup": str(pickup), "yard": str(world.yard.uid), **ids}
    signed = {"signer": "R. Amsel", "shown": hashed(lists), "customer_count": customer_count}
    phone.enter("custody.finish_pickup", payload | signed, version=3)
    pushed(phone)
    drain_all()


def hashed(lists: dict[str, list[dict[str, Any]]]) -> str:
    told = [op["payload"] for op in lists.get("casings", [])]
    lines = [(p["label"], (p.get("promised") or {}).get("on", "")) for p in told]
    scrap = sum(op["payload"]["count"] for op in lists.get("scrap", []))
    return shown(lines, scrap=scrap, left=len(lists.get("left", [])))


def block(number: int, op: dict[str, Any], marks: str, *said: str) -> str:
    first = f"  {number}.  {grouped(op['payload']['label'])}"
    first += f"   {marks}" if marks else ""
    return "\n      ".join([first, *said])


def test_every_kind_of_line_says_what_it_is_and_what_it_records(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    ops = [
        take(phone, world, pickup, **TIRE, treads_32nds=[[6, 7]], **promised("2026-04-28")),
        take(phone, world, pickup, line="repair", purchase_order="PO 4471"),
        take(phone, world, pickup, line="sell",
             sale={"grade": "B", "cents": 4500, "pays": "credit"}),
        take(phone, world, pickup, line="adjustment", complaint="tread came off at 2 months"),
        take(phone, world, pickup, line="wheel_tire", rim="steel", valve_out=True),
        take(phone, world, pickup, line="wheel", rim="aluminum"),
    ]  # fmt: skip
    over(phone, world, pickup, casings=ops)
    (receipt,) = mail.mails
    assert receipt["Subject"] == "Receipt: 5 casings and 1 loose wheel picked up at North yard"
    assert "\n".join(
        [
            block(1, ops[0], "295/75R22.5, Corvane", "Casing to retread.",
                  "Tread: 6 7 /32 in; lowest 6, mean 6.5.",
                  "Promised for Tue 28 Apr 2026, standard time."),
            block(2, ops[1], "", "Casing for repair only.", "Your purchase order: PO 4471.",
                  "No day was promised for it."),
            block(3, ops[2], "", "Offered to us for sale; condition and price after inspection."
                  " It stays yours until somebody entitled to sell it accepts.",
                  "Grade offered: B.", "Casing credit offered: $45.00."),
            block(4, ops[3], "", "Adjustment claim for a retread that failed."
                  " Complaint: tread came off at 2 months"),
            block(5, ops[4], "", "Wheel with its tire; the wheel is yours too.", "Steel rim.",
                  "The valve core is out.", "Work wanted: retread.",
                  "No day was promised for it."),
            block(6, ops[5], "", "Loose wheel; it is yours.", "Aluminum rim."),
        ]
    ) in text_of(receipt)  # fmt: skip
    assert "put right" not in text_of(receipt)
    assert "Counted; condition subject to plant inspection." in text_of(receipt)


def test_scrap_and_what_stays_stand_on_lines_of_their_own_with_the_written_warning(
    world: World, phone: Phone, mail: MailServer, settings: Settings
) -> None:
    settings.DEALER_CURRENCY = "CAD"
    pickup = uuid4()
    op = take(phone, world, pickup)
    scrap = phone.count_scrap(pickup, world.yard.uid, 6, fee_cents=350, manifest="SM-20418")
    left = phone.leave_here(pickup, world.yard.uid, **TIRE, findings=[CORD], check=STOP)
    over(phone, world, pickup, casings=[op], scrap=[scrap], left=[left])
    text = text_of(mail.mails[1])  # the warning went before
    assert "we picked up 1 casing and 6 scrap tires of Tarn Valley Haulage" in text
    assert (
        "\n\nScrap:\n      6 scrap tires, counted and not labelled, fee 3.50 CAD each,"
        " 21.00 CAD in total, manifest SM-20418.\n\n"
        "Left with you, not taken:\n"
        "  1.  295/75R22.5, Corvane\n"
        "      Seen on it: cord showing, sidewall, other side, 60 mm.\n"
        "      Spec check: it should stay, for damage that stops a casing.\n"
        "      WARNING: do not run this tire and do not inflate it. It may burst."
    ) in text
    assert "put right" not in text


def test_what_is_rejected_or_stopped_stands_apart_with_its_caution(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    check = STOP | {"overruled": "the plant shall look at it"}
    bad = take(phone, world, pickup, findings=[CORD], check=check)
    good = take(phone, world, pickup)
    gone = take(phone, world, pickup)
    pushed(phone)
    WorkOrder.objects.filter(uid=gone["id"]).update(reason="AGE_POLICY")  # the receipt came late
    over(phone, world, pickup, casings=[bad, good, gone])
    text = text_of(mail.mails[0])
    caution = "With damage that stops a casing: do not mount or inflate:"
    plain, stopped = text.index(grouped(good["payload"]["label"])), text.index(caution)
    rejected = text.index("Rejected; the tag on each says REJECTED")
    assert plain < rejected < stopped < text.index(grouped(bad["payload"]["label"]))
    assert rejected < text.index("Why: older than your own age limit for casings.") < stopped
    assert "The driver took it all the same: the plant shall look at it" in text
    assert "Never add air. The sidewall may burst along its cords." in text
    for number, op in enumerate((bad, good, gone), 1):  # as in the list that was signed
        assert f"  {number}.  {grouped(op['payload']['label'])}" in text


def test_a_stopped_casings_day_hangs_on_the_plant_and_a_rejected_one_has_none(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup, day = uuid4(), promised("2026-05-05")
    more = {"line": "retread", "work": "retread", "basis": "own", "back_to": "yard"} | day
    check = STOP | {"overruled": "the plant shall look at it"}
    ops = [
        take(phone, world, pickup, **more, findings=[CORD], check=check),
        take(phone, world, pickup, **more | promised("2026-04-28")),
        take(phone, world, pickup, **more | promised("2026-06-30")),
    ]
    scrap = phone.count_scrap(pickup, world.yard.uid, 2)
    pushed(phone)
    WorkOrder.objects.filter(uid=ops[2]["id"]).update(reason="AGE_POLICY")  # the receipt came late
    over(phone, world, pickup, casings=ops, scrap=[scrap])
    text = text_of(mail.mails[0])
    assert "Promised for Tue 5 May 2026, if the plant accepts it; standard time." in text
    assert "Promised for Tue 28 Apr 2026, standard time." in text
    assert "30 Jun 2026" not in text
    assert "All of them" not in text
    days = text.index("The last of those with a promised day is promised for Tue 5 May 2026.")
    assert max(text.index(grouped(op["payload"]["label"])) for op in ops) < days
    assert days < text.index("Scrap:")


def test_a_visit_in_which_nothing_was_taken_tells_what_was_left_in_the_language_spoken(
    world: World, phone: Phone, mail: MailServer
) -> None:
    Contact.objects.filter(customer=world.customer).update(language="es")
    pickup = uuid4()
    left = phone.leave_here(pickup, world.yard.uid, findings=[CORD])
    over(phone, world, pickup, left=[left])
    receipt = mail.mails[1]  # the warning went before
    assert receipt["Subject"] == "Recibo: recogimos nada en North yard"
    text = text_of(receipt)
    assert "miramos carcasas de Tarn Valley Haulage en North yard y no llevamos ninguna." in text
    assert "ADVERTENCIA: no ruede con esta llanta y no la infle." in text
    assert "Contadas" not in text


def test_a_visit_with_nothing_in_it_yields_no_receipt(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    scrap = phone.count_scrap(pickup, world.yard.uid, 6)
    phone.count_scrap(pickup, world.yard.uid, 0, corrects=scrap["id"])
    over(phone, world, pickup)
    assert mail.mails == []


def test_a_receipt_waits_while_a_line_is_in_question_and_tells_what_stands_then(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    op = take(phone, world, pickup)
    scrap = phone.count_scrap(pickup, world.yard.uid, 6)
    over(phone, world, pickup, casings=[op])
    assert mail.mails == []
    phone.count_scrap(pickup, world.yard.uid, 0, corrects=scrap["id"])
    pushed(phone)
    drain_all()
    (receipt,) = mail.mails
    assert "scrap" not in text_of(receipt)


def test_a_count_that_was_told_again_after_the_signature_is_said_to_be_put_right(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    scrap = phone.count_scrap(pickup, world.yard.uid, 6)
    again = phone.count_scrap(pickup, world.yard.uid, 7, corrects=scrap["id"])
    over(phone, world, pickup, scrap=[scrap])
    text = text_of(mail.mails[0])
    assert again["payload"]["count"] == 7
    assert "7 scrap tires" in text
    assert "The list was put right after it was signed" in text


def test_lines_of_another_customer_are_on_nobodys_receipt(
    world: World, phone: Phone, mail: MailServer
) -> None:
    pickup = uuid4()
    op = take(phone, world, pickup)
    scrap = phone.count_scrap(pickup, world.other_yard.uid, 6, manifest="SECRET-1")
    over(phone, world, pickup, casings=[op], scrap=[scrap])
    assert mail.mails == []
    Question.objects.update(settled_at=phone.clock())  # a person let it go
    phone.count_scrap(pickup, world.other_yard.uid, 7, manifest="SECRET-1", corrects=scrap["id"])
    pushed(phone)
    drain_all()
    assert not any("SECRET" in text_of(m) for m in mail.mails)


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize(("theirs", "differs"), [(2, False), (3, True)])
def test_a_customer_counts_casings_and_no_loose_wheels(
    world: World, phone: Phone, mail: MailServer, theirs: int, differs: bool, language: str
) -> None:
    Contact.objects.filter(customer=world.customer).update(language=language)
    pickup = uuid4()
    ops = [take(phone, world, pickup, line=line) for line in ("retread", "wheel_tire", "wheel")]
    over(phone, world, pickup, casings=ops, customer_count=theirs)
    kinds = set(Question.objects.values_list("kind", flat=True))
    assert ("count_differs" in kinds) is differs
    said = {"en": "Your count was 3, ours is 2.", "es": "Su cuenta fue 3, la nuestra es 2."}
    assert (said[language] in text_of(mail.mails[0])) is differs
