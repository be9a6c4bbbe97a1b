"""The kinds of question, what each means and whose it is. Pure."""

from enum import StrEnum


class Kind(StrEnum):
    """Every question that the product can raise."""

    LABEL_CONTESTED = "label_contested"
    LABEL_NOT_PRINTED = "label_not_printed"
    LABEL_VOID = "label_void"
    LABEL_REPLACED = "label_replaced"
    IMPOSSIBLE_ORDER = "impossible_order"
    FROM_THE_FUTURE = "from_the_future"
    PERSON_UNKNOWN = "person_unknown"
    YARD_UNKNOWN = "yard_unknown"
    COUNT_DIFFERS = "count_differs"
    DISPUTED = "disputed"
    DISPUTE_MOVED = "dispute_moved"
    PICKUP_DIFFERS = "pickup_differs"
    PICKUP_OPEN = "pickup_open"
    SEAL_DIFFERS = "seal_differs"
    DELIVERY_DIFFERS = "delivery_differs"
    DELIVERY_OPEN = "delivery_open"
    CORRECTION_PARKED = "correction_parked"
    OTHER_STORE = "other_store"
    WRONG_OWNER = "wrong_owner"
    ONE_SIDE_ONLY = "one_side_only"
    LOAD_DIFFERS = "load_differs"
    HOLDER_UNKNOWN = "holder_unknown"
    PROMISE_TOO_EARLY = "promise_too_early"
    NOT_ACCEPTED = "not_accepted"
    PAYLOAD_NOT_UNDERSTOOD = "payload_not_understood"
    KIND_UNKNOWN = "kind_unknown"
    VERSION_UNKNOWN = "version_unknown"
    REFERENCE_UNSEEN = "reference_unseen"
    COULD_NOT_APPLY = "could_not_apply"
    NEW_INCARNATION = "new_incarnation"
    SEQUENCE_TAKEN = "sequence_taken"
    DEVICE_MOVED = "device_moved"
    PLANT_IMPOSSIBLE = "plant_impossible"
    RELEASE_NOT_ALLOWED = "release_not_allowed"
    BUILT_DIFFERS = "built_differs"
    LOAD_MISSING = "load_missing"
    LOAD_OVER = "load_over"
    LOAD_SHORT = "load_short"
    CONSIGNMENT_DIFFERS = "consignment_differs"
    REWORK_LIMIT = "rework_limit"
    OWNER_UNKNOWN = "owner_unknown"
    STOP_USE_UNCONFIRMED = "stop_use_unconfirmed"
    STOP_USE_WITHDRAWN = "stop_use_withdrawn"


MEANING: dict[Kind, str] = {
    Kind.LABEL_CONTESTED: "One label on two casings: which of them wears it?",
    Kind.LABEL_NOT_PRINTED: "A sound code, but not one that we printed: whose label is it?",
    Kind.LABEL_VOID: "A label that was declared void is on a casing: can it still be read?",
    Kind.LABEL_REPLACED: "A label was replaced by two others, or in a ring: which one is on it?",
    Kind.IMPOSSIBLE_ORDER: "Facts that cannot all be true: which one is wrong?",
    Kind.FROM_THE_FUTURE: "A fact with a time that has not come yet: is that clock right?",
    Kind.PERSON_UNKNOWN: "Entered by somebody who is not known here: who was it?",
    Kind.YARD_UNKNOWN: "Picked up at a yard that is not known here: whose is it?",
    Kind.COUNT_DIFFERS: "The customer counted something else than we did: who is right?",
    Kind.DISPUTED: "The customer says that a signed pickup was otherwise: what is right?",
    Kind.DISPUTE_MOVED: "A pickup in dispute turned out to be another customer's, so no mail of it "
    "went out: whom do we tell?",
    Kind.PICKUP_DIFFERS: "The list that ended a pickup is not what was picked up in it.",
    Kind.PICKUP_OPEN: "A pickup that nobody has finished: is the driver still there?",
    Kind.SEAL_DIFFERS: "A trailer's seal is not the one that was told, or was not whole: was it "
    "opened on the way?",
    Kind.DELIVERY_DIFFERS: "The list that ended a delivery is not what was handed back in it.",
    Kind.DELIVERY_OPEN: "A delivery that nobody has finished: did anybody sign for it?",
    Kind.CORRECTION_PARKED: "A correction of something that is not here: what was meant?",
    Kind.OTHER_STORE: "Another store's phone has changed this: was that right?",
    Kind.WRONG_OWNER: "Delivered to a customer whose casing it is not: where is it now?",
    Kind.ONE_SIDE_ONLY: "A hand-over that only one side has told for a day: where is the casing?",
    Kind.LOAD_DIFFERS: "A load that was counted by hand is not what was scanned, or what was to "
    "come: where is the rest?",
    Kind.HOLDER_UNKNOWN: "Handed to a person or place that is not known here: where is it now?",
    Kind.PROMISE_TOO_EARLY: "Promised earlier than our own day: can it be kept?",
    Kind.NOT_ACCEPTED: "Taken though the spec check says to leave it, and nobody said why: keep it "
    "or bring it back?",
    Kind.PAYLOAD_NOT_UNDERSTOOD: "An entry that could not be read: what did the driver mean?",
    Kind.KIND_UNKNOWN: "An entry of a kind that this server does not know yet.",
    Kind.VERSION_UNKNOWN: "An entry from a newer app; it waits for the server's next release.",
    Kind.REFERENCE_UNSEEN: "An entry that speaks of something that has not arrived yet.",
    Kind.COULD_NOT_APPLY: "An entry that broke the server; it is kept whole.",
    Kind.NEW_INCARNATION: "A device came back with a new, empty store: is anything missing?",
    Kind.SEQUENCE_TAKEN: "Two entries with one number from one device: was its store copied?",
    Kind.DEVICE_MOVED: "A device in use was enrolled again at another site: was that meant?",
    Kind.PLANT_IMPOSSIBLE: "What stations told of a casing cannot all be true: where is it, and "
    "what was done with it?",
    Kind.RELEASE_NOT_ALLOWED: "Somebody undid what a station may not undo: keep the casing "
    "out of work. Who told it, and why?",
    Kind.BUILT_DIFFERS: "A tire was finished although it is not as ordered: does it leave?",
    Kind.LOAD_MISSING: "Casings went into a curing chamber and were not seen to come out: where "
    "are they?",
    Kind.LOAD_OVER: "A casing came out with a cure load and was not seen to go in: was it cured "
    "in that load, or in another?",
    Kind.LOAD_SHORT: "A cure load fell short of what the plant entered: who decides about its "
    "casings?",
    Kind.CONSIGNMENT_DIFFERS: "What a plant scanned for a truck is not what stood on its list, "
    "or not what was counted by hand: where is the rest?",
    Kind.REWORK_LIMIT: "A casing was sent back to be worked again more often than the plant "
    "allows: does it go on?",
    Kind.OWNER_UNKNOWN: "A casing without a label lies on the owner-unknown rack: whose is it?",
    Kind.STOP_USE_UNCONFIRMED: "An owner has not confirmed that tires are out of service: call "
    "them now. Who there knows?",
    Kind.STOP_USE_WITHDRAWN: "A stop-use notice was withdrawn, and a mail may not reach who was "
    "told at this owner: call them now. Who there knows?",
}

OWNER: dict[Kind, str] = {
    Kind.LABEL_CONTESTED: "dispatcher",
    Kind.LABEL_NOT_PRINTED: "dispatcher",
    Kind.LABEL_VOID: "dispatcher",
    Kind.LABEL_REPLACED: "dispatcher",
    Kind.IMPOSSIBLE_ORDER: "dispatcher",
    Kind.FROM_THE_FUTURE: "admin",
    Kind.PERSON_UNKNOWN: "admin",
    Kind.YARD_UNKNOWN: "dispatcher",
    Kind.COUNT_DIFFERS: "dispatcher",
    Kind.DISPUTED: "dispatcher",
    Kind.DISPUTE_MOVED: "dispatcher",
    Kind.PICKUP_DIFFERS: "dispatcher",
    Kind.PICKUP_OPEN: "dispatcher",
    Kind.SEAL_DIFFERS: "dispatcher",
    Kind.DELIVERY_DIFFERS: "dispatcher",
    Kind.DELIVERY_OPEN: "dispatcher",
    Kind.CORRECTION_PARKED: "dispatcher",
    Kind.OTHER_STORE: "dispatcher",
    Kind.WRONG_OWNER: "dispatcher",
    Kind.ONE_SIDE_ONLY: "dispatcher",
    Kind.LOAD_DIFFERS: "dispatcher",
    Kind.HOLDER_UNKNOWN: "dispatcher",
    Kind.PROMISE_TOO_EARLY: "dispatcher",
    Kind.NOT_ACCEPTED: "dispatcher",
    Kind.PAYLOAD_NOT_UNDERSTOOD: "admin",
    Kind.KIND_UNKNOWN: "admin",
    Kind.VERSION_UNKNOWN: "admin",
    Kind.REFERENCE_UNSEEN: "dispatcher",
    Kind.COULD_NOT_APPLY: "admin",
    Kind.NEW_INCARNATION: "admin",
    Kind.SEQUENCE_TAKEN: "admin",
    Kind.DEVICE_MOVED: "admin",
    Kind.PLANT_IMPOSSIBLE: "dispatcher",
    Kind.RELEASE_NOT_ALLOWED: "dispatcher",
    Kind.BUILT_DIFFERS: "dispatcher",
    Kind.LOAD_MISSING: "plant",
    Kind.LOAD_OVER: "plant",
    Kind.LOAD_SHORT: "plant",
    Kind.CONSIGNMENT_DIFFERS: "dispatcher",
    Kind.REWORK_LIMIT: "plant",
    Kind.OWNER_UNKNOWN: "dispatcher",
    Kind.STOP_USE_UNCONFIRMED: "dispatcher",
    Kind.STOP_USE_WITHDRAWN: "dispatcher",
}
