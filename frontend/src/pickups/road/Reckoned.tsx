/** Short and over, each by its label; nothing of it is an accusation, and both can be gone after. */
import { useEffect, useState } from "preact/hooks";
import { countLoad } from "../../domain/runTelling";
import { reckon, type Unloading, unloadTold } from "../../domain/unloading";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { goFrom, route } from "../route";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { ToLookAt } from "../yard/bulk/BulkWork";
import type { Sheet } from "../yard/draft";
import { named } from "./CasingLine";
import { roadOf, siteName } from "./road";

export function Reckoned({ sheet }: { sheet: Sheet<Unloading> }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const [failed, setFailed] = useState(false);
  const { short, over, scanned, counted } = reckon(roadOf(now), sheet.fields);
  const agrees = scanned === counted && short.length === 0 && over.length === 0;
  useEffect(
    () => document.querySelector<HTMLElement>("main h1")?.focus({ preventScroll: true }),
    [],
  );

  async function done() {
    const here = route.value;
    try {
      await sheet.enter(countLoad(unloadTold(roadOf(phone.now.value), sheet.fields)), []);
      goFrom(here);
    } catch {
      setFailed(true);
    }
  }

  return (
    <div class="page stack" {...testid("reckoned")}>
      <h1 tabIndex={-1}>{w.road_unloaded_title(siteName(now, sheet.fields.site))}</h1>
      <p class="count big">
        <b>{w.road_in_total(scanned)}</b>, {w.road_you_counted(counted)}
      </p>
      {agrees && <p class="good">{w.road_agrees}</p>}
      {scanned !== counted && (
        <p class="asks" {...testid("count-differs")}>
          {scanned < counted
            ? w.road_fewer_scanned(counted - scanned)
            : w.road_more_scanned(scanned - counted)}
        </p>
      )}
      {short.length > 0 && (
        <section class="notice" {...testid("short")}>
          <h2 class="asks">{w.road_short(short.length)}</h2>
          <p class="code-list">{named(short)}</p>
          <p>{w.road_short_say}</p>
        </section>
      )}
      {over.length > 0 && (
        <section class="notice" {...testid("over")}>
          <h2 class="asks">{w.road_over(over.length)}</h2>
          <p class="code-list">{named(over)}</p>
          <p>{w.road_over_say}</p>
        </section>
      )}
      <ToLookAt />
      <button
        type="button"
        class="button wide"
        onClick={() => sheet.fill({ ended: false })}
        {...testid("scan-on")}
      >
        {w.road_scan_on}
      </button>
      <Unsaved when={failed} />
      <Bar>
        <button
          type="button"
          class="button primary"
          onClick={() => void done()}
          {...testid("unloaded")}
        >
          {w.receipt_new}
        </button>
      </Bar>
    </div>
  );
}
