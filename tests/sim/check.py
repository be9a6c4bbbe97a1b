"""What has to be true when a schedule is over and the network is well: nothing lost, nothing
doubled, all replicas equal, every casing with one holder or an open question. Each finding is one
sentence; an empty list is a schedule that held.
"""

from collections import Counter
from typing import Any
from uuid import UUID

from pickups.sync.batch import open_operation
from tests.sim.draft import Step
from tests.sim.server import Server

AWAY = {502, 503, 504}
"""Answers by which a server says: not now. Nothing was recorded, the phone tries again."""


def findings(
    server: Server, over: dict[str, Any], steps: list[Step], seat: dict[str, Any]
) -> list[str]:
    """Everything that is not as it must be."""
    phones = over["phones"]
    bodies = {uid: body for p in phones for uid, body in p["bodies"].items()}
    devices = [UUID(p["device"]) for p in phones]
    found = [*_phones(phones, steps), *_once(server, phones, bodies, devices)]
    found += _photos(server, phones)
    found += _events(server, over["posted"], seat["plant_key"])
    labels = sorted(seat["labels"])
    found += [f"the fold is otherwise: {d}" for d in server.office("refold", codes=labels, seed=1)]
    found += _holders(server, labels)
    found += _views(server, phones, seat["names"])
    found += _broken(server, over["broken"])
    return found


def _phones(phones: list[dict[str, Any]], steps: list[Step]) -> list[str]:
    found = []
    for i, p in enumerate(phones):
        who = f"phone {i}"
        told = sum(1 for s in steps if s["do"] == "tell" and s["phone"] == i)
        if len(p["entered"]) != told:
            found.append(f"{who}: {told} told, {len(p['entered'])} entered")
        found += [f"{who}: {uid} was entered and is on the phone no more" for uid in p["missing"]]
        found += [f"{who}: {uid} is unsent" for uid in p["waiting"]]
        found += [f"{who}: refused: {refusal}" for refusal in p["refusals"]]
        found += [f"{who}: photo {sha256} is unsent" for sha256 in p["unsentPhotos"]]
        found += [f"{who}: {uid} still lies over what the server says" for uid in p["lying"]]
        found += [f"{who}: differs from a fresh phone: {d}" for d in p["differs"][:5]]
        found += [f"{who}: a fault of its own: {fault}" for fault in p["faults"]]
    return found


def _once(
    server: Server, phones: list[dict[str, Any]], bodies: dict[str, str], devices: list[UUID]
) -> list[str]:
    """Each operation recorded once, as it was entered, by its phone, in a row without gaps."""
    kept = server.stack.rows(
        "SELECT id, device_id, incarnation, sequence, hash, outcome, code FROM sync_operation"
        " WHERE device_id IN (SELECT uid FROM people_device WHERE uid = ANY(%s))",
        devices,
    )
    known = {str(uid): (str(device), bytes(h)) for uid, device, _, _, h, _, _ in kept}
    entered = {uid: p["device"] for p in phones for uid in p["entered"]}
    found = [f"lost: {uid}" for uid in sorted(set(entered) - set(known))]
    found += [
        f"recorded, but nobody entered it: {uid}" for uid in sorted(set(known) - set(entered))
    ]
    for uid, device in entered.items():
        if uid in known and known[uid] != (device, open_operation(bodies[uid].encode())[1]):
            found.append(f"recorded otherwise than it was entered: {uid}")
    for uid, _, _, _, _, outcome, code in kept:
        if outcome not in ("accepted", "contested"):
            found.append(f"{uid} is {outcome} ({code})")
    rows: dict[tuple[str, str], list[int]] = {}
    for _, device, incarnation, sequence, _, _, _ in kept:
        rows.setdefault((str(device), str(incarnation)), []).append(sequence)
    for place, numbers in rows.items():
        if sorted(numbers) != list(range(1, len(numbers) + 1)):
            found.append(f"numbers of {place} have a gap or come twice")
    facts = server.stack.rows(
        "SELECT uid FROM custody_fact WHERE device = ANY(%s)"
        " UNION ALL SELECT uid FROM runs_happening WHERE device = ANY(%s)",
        devices,
        devices,
    )
    counted = Counter(str(uid) for (uid,) in facts)
    found += [f"no fact of {uid}" for uid in sorted(set(entered) - set(counted))]
    found += [f"{n} facts of {uid}" for uid, n in counted.items() if n != 1]
    return found + [f"a fact that nobody entered: {u}" for u in sorted(set(counted) - set(entered))]


def _photos(server: Server, phones: list[dict[str, Any]]) -> list[str]:
    named = {sha256 for p in phones for sha256 in p["photos"]}
    rows = server.stack.rows(
        "SELECT sha256, file FROM sync_photo WHERE sha256 = ANY(%s)", sorted(named)
    )
    found = [f"photo {sha256} is not here" for sha256 in sorted(named - {r[0] for r in rows})]
    photos = server.stack.home / "photos"
    return found + [f"no file of photo {s}" for s, f in rows if not (photos / f).is_file()]


def _events(server: Server, posted: list[dict[str, Any]], key: str) -> list[str]:
    rows = server.stack.rows(
        "SELECT e.event, count(f.uid) FROM inspection_station_event e"
        " LEFT JOIN custody_fact f ON f.uid = e.fact WHERE e.key = %s GROUP BY e.event",
        key.split(".", 1)[0],
    )
    facts = {str(event): n for event, n in rows}
    wanted = {event["id"] for event in posted}
    found = [f"the plant's event {uid} is lost" for uid in sorted(wanted - set(facts))]
    return found + [f"{n} facts of the plant's event {uid}" for uid, n in facts.items() if n != 1]


def _holders(server: Server, labels: list[str]) -> list[str]:
    """Every casing has a holder; two on one label are contested, and a person is asked."""
    orders = server.stack.rows(
        "SELECT uid, label, holder, contested FROM casings_work_order"
        " WHERE label = ANY(%s) AND NOT withdrawn",
        labels,
    )
    asked = {
        subject
        for (subject,) in server.stack.rows(
            "SELECT subject FROM questions_question WHERE settled_at IS NULL"
            " AND kind = 'label_contested'"
        )
    }
    wearing = Counter(label for _, label, _, _ in orders)
    found = []
    for uid, label, holder, contested in orders:
        if contested != (wearing[label] > 1):
            found.append(f"{uid}: contested {contested}, {wearing[label]} casings on {label}")
        if contested and f"label:{label}" not in asked:
            found.append(f"two casings on {label}, and nobody is asked")
        if not holder and not contested:
            found.append(f"{uid}: nobody holds it")
    poison = server.stack.rows(
        "SELECT kind, subject FROM questions_question WHERE kind IN"
        " ('could_not_apply', 'payload_not_understood', 'kind_unknown', 'version_unknown')"
    )
    return found + [f"a question that must not arise: {kind} {s}" for kind, s in poison]


VIEWED = {
    entity: f"SELECT uid, version FROM {table} WHERE site = %s"
    for entity, table in {
        "work_order": "casings_work_order",
        "pickup": "custody_pickup",
        "visit_line": "custody_visit_line",
        "delivery": "custody_delivery",
    }.items()
} | {
    # What drivers have told of a run counts on beyond its sheet's version.
    "run": "SELECT uid, version + (SELECT count(*) FROM runs_happening h WHERE h.run = r.uid)"
    " FROM runs_run r WHERE site_id = %s AND state = 'handed'"
}
"""What of the tables a store's devices have, with its version, by its name in the feed."""


def _views(server: Server, phones: list[dict[str, Any]], names: dict[str, str]) -> list[str]:
    """A fresh phone's view holds every row that the store's tables have, at its version."""
    found = []
    for k, p in enumerate(phones[:2]):
        rows = p["fresh"]
        for entity, query in VIEWED.items():
            seen = {r["id"]: r["version"] for r in rows if r["entity"] == entity}
            stands = server.stack.rows(query, UUID(names[f"@site{k}"]))
            stand = {str(uid): version for uid, version in stands}
            if seen != stand:
                differing = {u for u in {*seen, *stand} if seen.get(u) != stand.get(u)}
                found.append(f"store {k}: {entity} in view and in table differ: {differing}")
    return found


def _broken(server: Server, broken: list[dict[str, Any]]) -> list[str]:
    return [
        f"{b['status']} at {b['path']}, and nothing was killed: {b['text']}"
        for b in broken
        if b["status"] not in AWAY and not server.explains(b["from"], b["to"])
    ]
