"""What the demo's people did with casings in three weeks, told as it would have been recorded.

Phones tell by their commands, the plant by its events, each at the time of the plan and recorded
a moment later.
"""

from datetime import datetime
from itertools import groupby
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.config.demo import afterwards, data, happenings, plan, this_morning
from pickups.config.demo.dealer import Dealer
from pickups.config.demo.happenings import HAND_OVERS, History
from pickups.config.demo.plan import Act
from pickups.config.demo.telling import Phones, gateway

AFTERWARDS = {
    "emptied": afterwards.empty,
    "otherwise": afterwards.say_otherwise,
    "new_day": afterwards.tell_new_day,
}


def tell(dealer: Dealer, *, at: datetime) -> None:
    """All of it; `at` is now."""
    told, zone = data("history"), ZoneInfo(settings.DEALER_TIME_ZONE)
    shared = dealer.labels["Marrowgate store"].pop(0)  # the one label that two casings wear
    history = History(dealer, at, told["pickups"], Phones(dealer), shared)
    acts = plan.acts(told, today=at.astimezone(zone).date(), zone=zone)
    for _, together in groupby(acts, key=lambda act: act.together):
        _do(history, list(together))
    this_morning.push_some(dealer, at)


def _do(history: History, acts: list[Act]) -> None:
    """Whatever happens in one moment, by kind; a visit's acts come alone."""
    if acts[0].what in {"deliver", "fetch"}:
        return happenings.deliver(history, acts)
    for act in acts:
        if act.what == "pick up":
            closed = "trailer" in history.pickups[act.pickup]
            (afterwards.take_closed if closed else happenings.pick_up)(history, act)
        elif act.what in AFTERWARDS or act.what.startswith("remind "):
            AFTERWARDS.get(act.what, afterwards.remind)(history, act)
    moved = [act for act in acts if act.what in HAND_OVERS]
    if moved:
        happenings.hand_overs(history, moved)
    stations = []
    for act in acts:
        told_above = act.what in {"pick up", *HAND_OVERS, *AFTERWARDS}
        if not told_above and not act.what.startswith("remind "):
            station, _, outcome = act.what.partition(" ")
            label = happenings.casing(history, act).label
            stations.append((label, station, outcome, act.more or {}))
    if stations:
        gateway(history.dealer.key, stations, at=acts[0].at)
    return None
