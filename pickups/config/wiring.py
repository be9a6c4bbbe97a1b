"""Who answers what: four literal tables, the only place where areas and apps meet.

COMMANDS: an operation's kind and version to its command. REACTIONS: a journal entry's kind to the
functions owed to it, each with the name under which the delivery row keeps it (never rename one).
BODIES: an entity of the feed to the function that reads its bodies. SCOPES: a device to its scope
keys. checks.py fails at start-up where a table names something missing or twice.
"""

from pickups.config import celery  # noqa: F401 - shared tasks belong to whichever application is there
from pickups.custody import commands as custody
from pickups.custody import reactions as custody_reactions
from pickups.custody import visit_lines, visits
from pickups.customers import queries as customers
from pickups.exchange import reactions as exchange
from pickups.journal import services as journal
from pickups.journal import tasks as journal_tasks
from pickups.kernel import openapi
from pickups.labels import queries as labels
from pickups.labels import reactions as labels_reactions
from pickups.notices import reactions as notices
from pickups.notices import revised
from pickups.people import queries as people
from pickups.promises import queries as promises
from pickups.promises import reactions as promises_reactions
from pickups.questions import reactions as questions
from pickups.runs import commands as runs_told
from pickups.runs import queries as runs
from pickups.runs import reactions as runs_reactions
from pickups.sync import registry
from pickups.sync import services as sync
from pickups.sync.rules import Bodies, Commands
from pickups.sync.wire import Envelope
from plant.adjustments import reactions as adjustments
from plant.curing import commands as curing_told
from plant.curing import queries as curing
from plant.curing import reactions as curing_reactions
from plant.dock import commands as dock_told
from plant.dock import consignments
from plant.dock import queries as dock
from plant.dock import reactions as dock_reactions
from plant.inspection import closing, limiting
from plant.inspection import commands as inspection_told
from plant.inspection import queries as inspection
from plant.inspection import reactions as inspection_reactions

COMMANDS: Commands = {
    ("custody.pick_up", 1): custody.PICK_UP_1,
    ("custody.pick_up", 2): custody.PICK_UP_2,
    ("custody.pick_up", 3): custody.PICK_UP_3,
    ("custody.pick_up", 4): custody.PICK_UP_4,
    ("custody.withdraw", 1): custody.WITHDRAW_1,
    ("custody.relabel", 1): custody.RELABEL_1,
    ("custody.remind", 1): custody.REMIND_1,
    ("custody.finish_pickup", 1): custody.FINISH_PICKUP_1,
    ("custody.finish_pickup", 2): custody.FINISH_PICKUP_2,
    ("custody.finish_pickup", 3): custody.FINISH_PICKUP_3,
    ("custody.finish_pickup", 4): custody.FINISH_PICKUP_4,
    ("custody.finish_pickup", 5): custody.FINISH_PICKUP_5,
    ("custody.empty_trailer", 1): custody.EMPTY_TRAILER_1,
    ("custody.count_scrap", 1): custody.COUNT_SCRAP_1,
    ("custody.leave_here", 1): custody.LEAVE_HERE_1,
    ("custody.hand_over", 1): custody.HAND_OVER_1,
    ("custody.deliver", 1): custody.DELIVER_1,
    ("custody.deliver", 2): custody.DELIVER_2,
    ("custody.finish_delivery", 1): custody.FINISH_DELIVERY_1,
    ("custody.finish_delivery", 2): custody.FINISH_DELIVERY_2,
    ("custody.finish_delivery", 3): custody.FINISH_DELIVERY_3,
    ("custody.finish_delivery", 4): custody.FINISH_DELIVERY_4,
    ("custody.finish_delivery", 5): custody.FINISH_DELIVERY_5,
    ("runs.arrive", 1): runs_told.ARRIVE_1,
    ("runs.skip", 1): runs_told.SKIP_1,
    ("runs.resume", 1): runs_told.RESUME_1,
    ("runs.add_stop", 1): runs_told.ADD_STOP_1,
    ("runs.count_load", 1): runs_told.COUNT_LOAD_1,
    ("curing.load", 1): curing_told.CURE_LOAD_1,
    ("dock.count_in", 1): dock_told.COUNT_IN_1,
    ("inspection.tell", 1): inspection_told.TELL_1,
}

REACTIONS: dict[str, dict[str, journal.Reaction]] = {
    "pickup.finished": {"receipt": notices.receipt},
    "pickup.cleared": {"receipt": notices.receipt},
    "pickup.emptied": {"receipt": notices.receipt},
    "delivery.finished": {"receipt": notices.delivery},
    "delivery.cleared": {"receipt": notices.delivery},
    "pickup.left": {"warning": notices.warning},
    "dispute.opened": {"dispute": notices.dispute},
    "dispute.settled": {"dispute": notices.dispute},
    "casing.picked_up": {
        "lists": dock_reactions.casings_moved,
        "promise": promises_reactions.promise,
        "accepted": custody_reactions.accepted,
        "progress": notices.told_again,
        "inside": inspection_reactions.named,
    },
    "casing.relabelled": {"inside": inspection_reactions.named},
    "casing.reminded": {"unclaimed": notices.unclaimed},
    "casing.withdrawn": {
        "progress": notices.progress,
        "lists": dock_reactions.casings_moved,
        "owed": adjustments.owed,
        "promise": promises_reactions.promise,
        "accepted": custody_reactions.accepted,
        "inside": inspection_reactions.named,
    },
    "casing.repair": {
        "rework": adjustments.reworked,
        "promise": promises_reactions.sent_back,
    },
    "rework.decided": {"go_on": adjustments.decided},
    "casing.finished": {"progress": notices.progress, "lists": dock_reactions.casings_moved},
    "casing.rejected": {
        "progress": notices.progress,
        "lists": dock_reactions.casings_moved,
        "owed": adjustments.owed,
    },
    "casing.released": {
        "progress": notices.progress,
        "lists": dock_reactions.casings_moved,
        "owed": adjustments.owed,
    },
    "casing.handed_in": {"lists": dock_reactions.casings_moved},
    "casing.handed_out": {"progress": notices.progress, "lists": dock_reactions.casings_moved},
    "casing.received": {"lists": dock_reactions.casings_moved, "late": closing.told_late},
    "casing.hold": {"lists": dock_reactions.casings_moved},
    "casing.shipped": {"lists": dock_reactions.casings_moved, "late": closing.told_late},
    "run.handed": {"lists": dock_reactions.run_changed},
    "run.taken_back": {"lists": dock_reactions.run_changed},
    "run.back": {"lists": closing.run_back},
    "consignment.counted": {"late": closing.counted_late},
    "casing.adopted": {"progress": notices.progress, "inside": inspection_reactions.named},
    "casing.owned": {
        "progress": notices.progress,
        "receipt": notices.receipt_again,
        "inside": inspection_reactions.named,
    },
    "promise.revised": {"notice": revised.new_day, "seen": promises_reactions.revised},
    "standard_times.published": {"tables": promises_reactions.tables},
    "timetable.published": {"tables": promises_reactions.tables},
    "forecast.published": {
        "tables": promises_reactions.tables,
        "watch": promises_reactions.watch,
    },
    "device.moved": {"question": questions.device_moved},
    "customer.moved": {
        "work": custody_reactions.customer_moved,
        "tables": promises_reactions.tables,
    },
    "customer.promised_with": {"tables": promises_reactions.tables},
    "plant.stop_use": {"notice": notices.stopped},
    "plant.stop_use_withdrawn": {"notice": notices.stop_taken_back},
    "contact.erased": {"acceptances": custody_reactions.contact_erased},
    "words.erased": {
        "work": custody_reactions.words_erased,
        "sheets": runs_reactions.words_erased,
    },
    "list.agreed": {"write": exchange.write},
    "load.told": {"settle": curing_reactions.settle},
    "person.changed": {"feed": sync.publish},
    "site.changed": {"feed": sync.publish},
    "site.opened": {"ranges": labels_reactions.ranges},
}

BODIES: Bodies = {
    "site": people.site_bodies,
    "person": people.person_bodies,
    "yard": customers.yard_bodies,
    "specification": customers.specification_bodies,
    "pickup": visits.bodies,
    "visit_line": visit_lines.bodies,
    "delivery": visits.delivery_bodies,
    "work_order": promises.work_orders,
    "label_range": labels.range_bodies,
    "label_roll": labels.roll_bodies,
    "promise_table": promises.bodies,
    "run": runs.bodies,
    "plant_work": inspection.bodies,
    "cure_load": curing.bodies,
    "plant_route": dock.route_bodies,
    "repair_limits": limiting.bodies,
    "tread_targets": dock.target_bodies,
    "consignment": consignments.bodies,
}

SCOPES = people.scopes


def install() -> None:
    """Put the tables into the registries of the apps below."""
    journal.install(REACTIONS, poke=_poke)
    registry.install(commands=COMMANDS, bodies=BODIES, scopes=SCOPES)
    openapi.also(Envelope, *(command.payload for command in COMMANDS.values()))


def _poke() -> None:
    """Looked up when it is called: looked up now, the task would belong to no broker of ours."""
    journal_tasks.drain.delay()
