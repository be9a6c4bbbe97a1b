"""What one phone's driver enters of casings: visits, corrections, hand-overs, deliveries, trailers
that are emptied. Pure. It knows the phone by its number alone, and no fault of the schedule."""

from tests.sim.draft import Draft, Step

MOST_LINES = 14
MOST_DELIVERED = 10
KEY_SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Crockford's base 32, as phones write a receipt's key of 128 bits: the first sign is below 8."""


class Hand:
    """One driver's work as he has it in mind; `lines` are (operation, label) of what he took.
    Phones of even numbers are of the first store, the others of the second."""

    def __init__(self, draft: Draft, phone: int) -> None:
        self.draft, self.phone, self.store = draft, phone, phone % 2
        self.rng = draft.rng
        self.visit, self.emptying = draft.new("v"), False
        self.lines: list[tuple[str, str]] = []
        self.scrap: list[str] = []
        self.left: list[str] = []
        self.aboard: list[str] = []
        self.racked: list[str] = []
        self.delivery = ""
        self.delivered: list[str] = []

    def work(self) -> None:
        """The next operation."""
        roll = self.rng.random()
        if len(self.lines) >= MOST_LINES or (self.lines and roll < 0.02):
            self.finish_pickup()
        elif len(self.delivered) >= MOST_DELIVERED:
            self.finish_delivery()
        elif not self._begun() and roll < 0.25:
            self._swap_trailer()
        elif roll < 0.5 or not self.lines:
            self._pick_up()
        elif roll < 0.57:
            self._correct()
        elif roll < 0.60:
            self._withdraw()
        elif roll < 0.63:
            self._relabel()
        elif roll < 0.69:
            self._scrap()
        elif roll < 0.74:
            self._leave()
        elif roll < 0.88:
            self._hand_over()
        elif roll < 0.91:
            self._remind()
        else:
            self._deliver()

    def end(self) -> None:
        """What is open is finished."""
        self.finish_pickup()
        self.finish_delivery()

    def _tell(self, kind: str, payload: Step, *, photo: float = 0.0, drawn: bool = False) -> str:
        return self.draft.tell(self.phone, f"custody.{kind}", payload, photo=photo, drawn=drawn)

    def _begun(self) -> bool:
        return bool(self.lines or self.scrap or self.left)

    def _pick_up(self) -> None:
        label = self.draft.label()
        told = self._place() | {"label": label} | self._seen()
        self.lines.append((self._tell("pick_up", told, photo=0.05), label))

    def _place(self) -> Step:
        """A trailer is emptied at the store."""
        place = {"pickup": self.visit, "yard": f"@yard{self.store}"}
        return place | ({"store": f"@site{self.store}"} if self.emptying else {})

    def _seen(self) -> Step:
        rng = self.rng
        told: Step = {"treads_32nds": [[rng.randrange(30) for _ in range(rng.randrange(1, 6))]]}
        if rng.random() < 0.5:
            size = rng.choice(["11R22.5", "295/75R22.5"])
            told |= {"size": size, "unit": f"T{rng.randrange(99)}"}
        if rng.random() < 0.2:
            nails = {"zone": "crown", "kind": "nail_hole", "count": rng.randrange(1, 4)}
            told["findings"] = [nails]
        return told

    def _correct(self) -> None:
        uid, told_under = self.rng.choice(self.lines)
        label = self.draft.label() if self.rng.random() < 0.3 else told_under
        told = self._place() | {"label": label} | self._seen()
        self._tell("pick_up", told | {"corrects": {"fact": uid, "label": told_under}})

    def _withdraw(self) -> None:
        uid, label = self.lines.pop(self.rng.randrange(len(self.lines)))
        original = {"fact": uid, "label": label}
        told = {"pickup": self.visit, "withdraws": original, "reason": "wrong pile"}
        self._tell("withdraw", told)

    def _relabel(self) -> None:
        _, label = self.rng.choice(self.lines)
        now = self.draft.new("l")
        self.draft.used.append(now)
        why = self.rng.choice(["lost", "spoiled"])
        self._tell("relabel", {"label": label, "now": now, "why": why}, photo=0.1)

    def _scrap(self) -> None:
        told = self._place() | {"count": self.rng.randrange(9)}
        if self.scrap and self.rng.random() < 0.4:
            self._tell("count_scrap", told | {"corrects": self.rng.choice(self.scrap)})
        else:
            self.scrap.append(self._tell("count_scrap", told, photo=0.05))

    def _leave(self) -> None:
        told = self._place() | {"note": "cord shows", "brand": "Marlow"}
        if self.left and self.rng.random() < 0.3:
            again = {"corrects": self.rng.choice(self.left), "taken": self.rng.random() < 0.5}
            self._tell("leave_here", told | again)
        else:
            self.left.append(self._tell("leave_here", told, photo=0.3))

    def _hand_over(self) -> None:
        """From the truck to the rack, from the rack to the plant or out again."""
        rng, person, site = self.rng, f"person:@person{self.phone}", f"site:@site{self.store}"
        if self.racked and rng.random() < 0.5:
            label = self.racked.pop(rng.randrange(len(self.racked)))
            if rng.random() < 0.5:
                told = {"way": "in", "giver": site, "taker": "plant:@plant"}
            else:
                told = {"way": "out", "giver": site, "taker": person}
                self.aboard.append(label)
        elif self.aboard:
            label = self.aboard.pop(rng.randrange(len(self.aboard)))
            told = {"way": "in", "giver": person, "taker": site}
            self.racked.append(label)
        else:
            self._pick_up()
            return
        self._tell("hand_over", told | {"label": label}, photo=0.02)

    def _remind(self) -> None:
        if not self.racked:
            self._hand_over()
            return
        told = {
            "label": self.rng.choice(self.racked),
            "step": self.rng.choice(["called", "written"]),
        }
        if self.rng.random() < 0.3:
            told |= {"step": "hold", "until": f"2098-0{self.rng.randrange(1, 10)}-15"}
        elif told["step"] == "called":
            told |= {"said": "comes on Friday"}
        self._tell("remind", told)

    def _deliver(self) -> None:
        if not self.aboard:
            self._pick_up()
            return
        self.delivery = self.delivery or self.draft.new("v")
        label = self.aboard.pop(self.rng.randrange(len(self.aboard)))
        told = {"delivery": self.delivery, "yard": f"@yard{self.store}", "label": label}
        self.delivered.append(self._tell("deliver", told, photo=0.03))

    def finish_pickup(self) -> None:
        """The end of the visit, or of what came out of a trailer; an empty visit has none."""
        listed = {"casings": [uid for uid, _ in self.lines], "scrap": self.scrap, "left": self.left}
        labels = [label for _, label in self.lines]
        if self._begun() and self.emptying:
            seal = self.rng.choice([{}, {"seal": "4417", "seal_state": "whole"},
                                    {"seal": "", "seal_state": "missing"}])  # fmt: skip
            told = self._place() | listed | seal | {"counted": len(labels)}
            self._tell("empty_trailer", told, photo=0.1)
            self.racked += labels
        elif self._begun():
            told = self._place() | listed | self._signed() | {"receipt_key": self._key()}
            if self.rng.random() < 0.5:
                told["customer_count"] = len(labels)
            self._tell("finish_pickup", told, photo=0.1, drawn="signer" in told)
            self.aboard += labels
        else:
            return
        self._next_visit()

    def _next_visit(self) -> None:
        """Another yard, or a trailer that somebody of the store has brought."""
        shut = self.draft.shut[self.store]
        self.emptying = bool(shut) and self.rng.random() < 0.5
        self.visit = shut.pop(0) if self.emptying else self.draft.new("v")
        self.lines, self.scrap, self.left = [], [], []

    def _swap_trailer(self) -> None:
        """A whole trailer is taken closed; nobody has looked into it. One that stands open already
        is emptied first."""
        if self.emptying:
            self._pick_up()
            return
        trailer = {"number": f"TR{self.rng.randrange(100)}", "seal": "4417"}
        told = self._place() | {"casings": [], "trailer": trailer} | self._signed()
        if self.rng.random() < 0.8:
            told["customer_count"] = self.rng.randrange(1, 80)
        self._tell("finish_pickup", told, photo=0.3)
        self.draft.shut[self.store].append(self.visit)
        self._next_visit()

    def finish_delivery(self) -> None:
        """The end of a delivery, if one is begun."""
        if self.delivered:
            told = {"delivery": self.delivery, "yard": f"@yard{self.store}",
                    "casings": self.delivered, **self._signed()}  # fmt: skip
            self._tell("finish_delivery", told, photo=0.1)
        self.delivery, self.delivered = "", []

    def _signed(self) -> Step:
        roll = self.rng.random()
        if roll < 0.3:
            return {"nobody_there": True, "unsigned": "nobody at the gate"}
        if roll < 0.4:
            return {"refused": "count", "unsigned": "says it were fifteen"}
        return {"signer": "R. Amsel", "signed_in": self.rng.choice(["en", "es"])}

    def _key(self) -> str:
        return "7" + "".join(self.rng.choice(KEY_SIGNS) for _ in range(25))
