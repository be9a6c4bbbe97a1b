/** The sheet of one pickup, which grows: the count always in sight, one casing after the other. */
import { useEffect, useState } from "preact/hooks";
import type { Pickup } from "../../domain/rows";
import { shown } from "../../domain/labels";
import { set } from "../../store/local";
import { usePhone } from "../context";
import { go } from "../route";
import { countsSaid } from "../seen/visitLines";
import { testid } from "../testids";
import { words } from "../words";
import { CasingForm } from "./CasingForm";
import { CasingList } from "./CasingList";
import { customerCount, wheelsOf } from "./counts";
import { useSheet } from "./draft";
import { BLANK } from "./fields";
import { VisitLines } from "./VisitLines";
import { finishKey, pickupOf, sheetKey, yardName, yardOf } from "./visits";

export function SheetScreen({ pickup: id }: { pickup: string }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const pickup = pickupOf(now, id);
  const yard = yardOf(now, id);
  const sheet = useSheet(sheetKey(id), BLANK);
  const [saved, setSaved] = useState<{ label: string } | "left" | null>(null);
  const finished = pickup !== null && pickup.finished_at !== null;
  useEffect(() => {
    if (finished) go("pickup", id, "receipt");
    else if (yard === null) go();
  }, [finished, yard, id]);
  if (yard === null || finished) return null;

  const casings = pickup?.casings ?? [];
  const lines = pickup?.lines ?? [];
  const empty = casings.length + lines.length === 0;
  const said = saved === null ? "" : saved === "left" ? w.left_saved : w.saved(shown(saved.label));
  return (
    <div class="page sheet">
      <div class="top">
        <div class="row">
          <div class="where">
            <h1 tabIndex={-1}>{yardName(now, yard)}</h1>
            <Count pickup={pickup} id={id} />
          </div>
          {!empty && (
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
        <p
          role="status"
          key={said}
          class={said === "" ? "hidden" : "good arrives"}
          {...testid("saved")}
        >
          {said}
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
            setSaved({ label });
            document.getElementById("label")?.focus();
          }}
          onLeft={() => {
            setSaved("left");
            document.getElementById("label")?.focus();
          }}
        />
      </section>
      <section class="stack">
        <h2>{w.list_title}</h2>
        {empty && <p class="soft">{w.list_none}</p>}
        <CasingList
          casings={[...casings]}
          onOpen={(casing) => go("pickup", id, "casing", casing.id)}
        />
        <VisitLines lines={lines} onOpen={(line) => go("pickup", id, line.kind, line.id)} />
        <button
          type="button"
          class="button"
          onClick={() => go("pickup", id, "scrap")}
          {...testid("scrap")}
        >
          {w.scrap_add}
        </button>
        {empty && !sheet.begun && (
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

/** "12 on this pickup, 6 scrap, 1 left here, customer says 14": each as soon as it is known. */
export function Count({ pickup, id }: { pickup: Pickup | null; id: string }) {
  const w = words.value;
  const { drafts } = usePhone().now.value;
  const asked = drafts.find((draft) => draft.key === finishKey(id))?.fields.count;
  const typed = customerCount(asked);
  const customer = pickup?.customer_count ?? (typed === "none" ? null : typed);
  const wheels = wheelsOf(pickup?.casings ?? []);
  const others = countsSaid(pickup?.lines ?? [], w, wheels);
  return (
    <p class="count" {...testid("count")}>
      <b>{w.on_this_pickup((pickup?.count ?? 0) - wheels)}</b>
      {others !== "" && `, ${others}`}
      {customer !== null && `, ${w.customer_says(customer)}`}
    </p>
  );
}
