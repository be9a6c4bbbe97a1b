"""A dispatcher at work on load sheets, as the pages' tests use it."""

import html
import re
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any
from uuid import UUID, uuid4

from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.desk.queries.loose import today_of
from pickups.kernel import clock
from pickups.promises.models import Promise
from pickups.runs import services as runs
from pickups.runs.models import Drop, Run
from pickups.runs.rules import Head
from tests.world import World


def today(days: int = 0) -> date:
    """The dealer's day, or one so many days later."""
    return today_of(clock.now()) + timedelta(days=days)


def draw_up(world: World, *, on: date | None = None, **more: Any) -> Run:
    """A sheet of the store for today, with its driver."""
    told = {"driver": world.driver.uid, "vehicle": "truck 4", **more}
    return runs.draw_up(
        site=world.store.uid, head=Head(start=world.store.uid, on=on or today(), **told)
    )


def promise(work_order: UUID, on: date) -> None:
    """A day promised for a casing, which its work order tells of."""
    at = clock.now()
    order = WorkOrder.objects.get(uid=work_order)
    order.told["promised"] = {"on": on.isoformat(), "basis": "by_hand"}
    order.save()
    Promise.objects.create(
        uid=uuid4(),
        work_order=work_order,
        stamp=1,
        on=on,
        basis="by_hand",
        back_to="yard",
        told_at=at,
        recorded_at=at,
    )


@dataclass
class Desk:
    """One sheet in one browser."""

    client: Client
    run: Run

    @property
    def address(self) -> str:
        return f"/office/sheets/{self.run.uid}/"

    def version(self) -> int:
        return Run.objects.get(uid=self.run.uid).version

    def do(self, verb: str, *, seen: int | None = None, **form: Any) -> tuple[int, str]:
        """Send one of the page's forms as it stands; the status and the page that follows, in
        plain text."""
        told = {"seen": self.version() if seen is None else seen, **form}
        answer = self.client.post(self.address + verb, told, follow=True)
        status = answer.redirect_chain[0][1] if answer.redirect_chain else answer.status_code
        return status, text(answer.content.decode())

    def page(self) -> str:
        """The sheet's page in plain text."""
        return text(self.client.get(self.address).content.decode())

    def drops(self) -> set[UUID]:
        found = Drop.objects.filter(stop__run=self.run, active=True)
        return set(found.values_list("work_order", flat=True))

    def stops(self) -> list[UUID]:
        return list(self.run.stops.order_by("place").values_list("uid", flat=True))


def text(page: str) -> str:
    """What a page says on the screen, without the paper that only a printer shows."""
    page = page.partition('<div class="paper">')[0]
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).split())
