/**
 * The trailer is empty: what was labelled beside both counts, where it was, and the word that this
 * is the list. What was labelled goes onto the rack there. Nobody signs.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import { emptyTrailer } from "../../../domain/operation";
import type { Pickup } from "../../../domain/rows";
import { holderAt, isPlant } from "../../../domain/truck";
import { Bar } from "../../../ui/Bar";
import { usePhone } from "../../context";
import { siteName, tellHandOver } from "../../road/road";
import { go, goFrom, route } from "../../route";
import { countsSaid } from "../../seen/visitLines";
import { testid } from "../../testids";
import { Unsaved } from "../../Unsaved";
import { words } from "../../words";
import { customerCount, wheelsOf } from "../counts";
import { useSheet } from "../draft";
import { NoteField } from "../NoteField";
import { Photos } from "../Photos";
import { halfEntered, pickupOf } from "../visits";
import { BLANK_EMPTYING, emptyingKey } from "./trailer";
import { isShut } from "./waiting";

export function EmptiedScreen({ pickup: id }: { pickup: string }) {
  const pickup = pickupOf(usePhone().now.value, id);
  const open = pickup !== null && isShut(pickup);
  // From the press of the key on it is this screen that leads on.
  const ending = useRef(false);
  useEffect(() => {
    if (!open && !ending.current) go("pickup", id);
  }, [open, id]);
  return open ? <Emptied pickup={pickup} ending={ending} /> : null;
}

function Emptied({ pickup, ending }: { pickup: Pickup; ending: { current: boolean } }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const sheet = useSheet(emptyingKey(pickup.id), BLANK_EMPTYING);
  const { fields, fill } = sheet;
  const [failed, setFailed] = useState(false);
  const [busy, setBusy] = useState(false);
  const [developing, setDeveloping] = useState(false);
  const [asked, setAsked] = useState<string | null>(null);
  const shut = now.shut !== null;
  const half = halfEntered(now, pickup).length > 0;
  const casings = pickup.casings.filter(({ standing }) => standing !== "needs_you");
  const lines = pickup.lines.filter(({ standing }) => standing !== "needs_you");
  const wheels = wheelsOf(casings);
  const labelled = casings.length - wheels;
  const counted = customerCount(fields.count);
  const own = typeof counted === "number" ? counted : null;
  const theirs = pickup.customer_count;
  const toAsk = own !== null && own !== labelled ? `${labelled} ${own}` : null;
  const asking = toAsk !== null && toAsk === asked;
  const site = fields.site || (now.enrolment?.site ?? "");
  const also = countsSaid(lines, w, wheels);
  const opened = !sheet.ready || fields.opened;
  useEffect(() => {
    if (!opened && !ending.current) go("pickup", pickup.id);
  }, [opened]);

  async function end(event: Event) {
    event.preventDefault();
    if (busy || developing || shut || half || !sheet.ready) return;
    if (toAsk !== null && !asking) return setAsked(toAsk);
    setBusy(true);
    const here = route.value;
    try {
      const place = holderAt(now.sites, site);
      // Killed in between, what lies on the rack by then is not handed there again.
      for (const { label, holder, progress } of casings)
        if (progress === "picked_up" && holder.startsWith("person:"))
          await tellHandOver(phone, { label, way: "in", giver: holder, taker: place });
      const photos = sheet.photos.map(({ sha256, blob }) => ({ sha256, blob }));
      ending.current = true;
      await sheet.enter(
        emptyTrailer({
          pickup: pickup.id,
          yard: pickup.yard,
          casings: casings.map(({ id }) => id),
          scrap: lines.flatMap(({ kind, id }) => (kind === "scrap" ? id : [])),
          left: lines.flatMap(({ kind, id }) => (kind === "left" ? id : [])),
          store: isPlant(place) ? null : site,
          seal: fields.seal.trim(),
          seal_state: fields.state,
          counted: own,
          note: fields.note.trim(),
          photos: photos.map(({ sha256 }) => sha256),
        }),
        photos,
      );
      goFrom(here, "pickup", pickup.id, "receipt");
    } catch {
      ending.current = false;
      setFailed(true);
      setBusy(false);
    }
  }

  return (
    <form class="page stack" noValidate onSubmit={(event) => void end(event)}>
      <button type="button" class="button plain back" onClick={() => go("pickup", pickup.id)}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.empty_end_title}</h1>
      {half && <p class="fault">{w.finish_half}</p>}
      <p class="count big" {...testid("emptied-count")}>
        <b>{w.empty_labelled(labelled)}</b>
        {own !== null && `, ${w.empty_you_counted(own)}`}
        {theirs !== null && `, ${w.customer_says(theirs)}`}
        {also !== "" && `, ${also}`}
      </p>
      <p {...testid("emptied-seal")}>
        {fields.state !== "" &&
          w.empty_seal_now(fields.seal.trim(), w.empty_seal_states[fields.state].toLowerCase())}
      </p>
      <p>{w.empty_end_say}</p>
      {now.sites.length > 1 && (
        <div class="field">
          <label for="emptied-at">{w.empty_where}</label>
          <select
            id="emptied-at"
            value={site}
            onChange={(event) => fill({ site: (event.target as HTMLSelectElement).value })}
            {...testid("emptied-at")}
          >
            {now.sites.map(({ id }) => (
              <option key={id} value={id} selected={id === site}>
                {siteName(now, id)}
              </option>
            ))}
          </select>
        </div>
      )}
      <NoteField value={fields.note} onValue={(note) => fill({ note })} />
      <Photos sheet={sheet} busy={developing} onBusy={setDeveloping} />
      <Unsaved when={failed} />
      {shut ? (
        <p class="notice">{w.shut_save}</p>
      ) : (
        <Bar>
          <p role="alert" class={asking ? "asks" : ""} {...testid("emptied-ask")}>
            {asking && own !== null ? w.empty_differs(labelled, own) : ""}
          </p>
          <button
            type="submit"
            class="button primary"
            disabled={busy || developing || half || !sheet.ready}
            {...testid("emptied-end")}
          >
            {asking ? w.empty_end_so : w.empty_end_do} · {w.casings(casings.length)}
          </button>
        </Bar>
      )}
    </form>
  );
}
