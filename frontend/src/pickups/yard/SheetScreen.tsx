/** The sheet of one pickup, which grows: the count always in sight, one casing after the other. */
import { useEffect, useState } from "preact/hooks";
import type { Pickup } from "../../domain/rows";
import { shown } from "../../domain/labels";
import { set } from "../../store/local";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";
import { CasingForm } from "./CasingForm";
import { CasingList } from "./CasingList";
import { customerCount } from "./counts";
import { useSheet } from "./draft";
import { BLANK } from "./fields";
import { finishKey, pickupOf, sheetKey, yardName, yardOf } from "./visits";

export function SheetScreen({ pickup: id }: { pickup: string }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const pickup = pickupOf(now, id);
  const yard = yardOf(now, id);
  const sheet = useSheet(sheetKey(id), BLANK);
  const [saved, setSaved] = useState("");
  const finished = pickup !== null && pickup.finished_at !== null;
  useEffect(() => {
    if (finished) go("pickup", id, "receipt");
    else if (yard === null) go();
  }, [finished, yard, id]);
  if (yard === null || finished) return null;

  const casings = pickup?.casings ?? [];
  return (
    <div class="page sheet">
      <div class="top">
        <div class="row">
          <div class="where">
            <h1 tabIndex={-1}>{yardName(now, yard)}</h1>
            <Count pickup={pickup} id={id} />
          </div>
          {casings.length > 0 && (
            <button
              type="button"
              class="button"
              aria-label={w.finish}
              onClick={() => go("pickup", id, "finish")}
              {...testid("finish")}
            >
              {w.finish_do}
            </button>
          )}
        </div>
        <p role="status" key={saved} class={saved ? "good arrives" : "hidden"} {...testid("saved")}>
          {saved && w.saved(shown(saved))}
        </p>
      </div>
      <section class="stack">
        <h2>{w.add_casing}</h2>
        <CasingForm
          pickup={id}
          yard={yard}
          sheet={sheet}
          corrects={null}
          before={casings}
          onSaved={(label) => {
            setSaved(label);
            document.getElementById("label")?.focus();
          }}
        />
      </section>
      <section class="stack">
        <h2>{w.list_title}</h2>
        {casings.length === 0 && <p class="soft">{w.list_none}</p>}
        <CasingList
          casings={[...casings]}
          onOpen={(casing) => go("pickup", id, "casing", casing.id)}
        />
        {casings.length === 0 && !sheet.begun && (
          <button type="button" class="button plain" onClick={() => void putAway()}>
            {w.put_away}
          </button>
        )}
      </section>
    </div>
  );

  async function putAway() {
    await set(
      phone.deps.store.local,
      "visits",
      now.visits.filter((visit) => visit.pickup !== id),
    );
    await phone.changed();
    go();
  }
}

/** "12 on this pickup, customer says 14": the second half as soon as it is known. */
export function Count({ pickup, id }: { pickup: Pickup | null; id: string }) {
  const w = words.value;
  const { drafts } = usePhone().now.value;
  const asked = drafts.find((draft) => draft.key === finishKey(id))?.fields.count;
  const typed = customerCount(asked);
  const customer = pickup?.customer_count ?? (typed === "none" ? null : typed);
  return (
    <p class="count" {...testid("count")}>
      <b>{w.on_this_pickup(pickup?.count ?? 0)}</b>
      {customer !== null && `, ${w.customer_says(customer)}`}
    </p>
  );
}
