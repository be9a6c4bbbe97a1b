/** A yard that no stop named: what is on the truck for it, or a pickup. */
import { toHandOver } from "../../domain/asked";
import type { Casing } from "../../domain/rows";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { route } from "../route";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { useSheet } from "../yard/draft";
import { NOTE_MOST } from "../yard/fields";
import { yardName } from "../yard/visits";
import { CasingLine } from "./CasingLine";
import { placeSaid } from "./doubts";
import { useOnce } from "./once";
import { growsBy, me, startDelivery, startPickup, tellStop, truckOf } from "./road";
import { Back } from "./Top";
import { Ways } from "./Ways";

export function YardScreen({ yard }: { yard: string }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const { casings } = toHandOver(truckOf(now).casings, yard, []);
  // A yard that no stop of today's run names becomes one, so that the office sees it.
  const grows = growsBy(now, phone.deps.clock.now(), yard);
  const sheet = useSheet(`stop:${yard}`, { why: "" });
  const { run: once, failed } = useOnce();

  async function begin(start: typeof startDelivery): Promise<void> {
    const here = route.value;
    if (grows === null) return start(phone, yard);
    const stop = await tellStop(phone, grows, yard, sheet.fields.why);
    await sheet.clear();
    await start(phone, yard, stop, here);
  }
  const deliver = (
    <button
      key="deliver"
      type="button"
      class={casings.length > 0 ? "button primary" : "button wide"}
      onClick={() => void once(() => begin(startDelivery))}
      {...testid("start-delivery")}
    >
      {casings.length > 0 ? w.road_deliver_do(casings.length) : w.road_deliver_start}
    </button>
  );
  const pickUp = (
    <button
      key="pick-up"
      type="button"
      class={casings.length > 0 ? "button wide" : "button primary"}
      onClick={() => void once(() => begin(startPickup))}
      {...testid("start-pickup")}
    >
      {w.start_title}
    </button>
  );
  return (
    <div class="page stack">
      <Back />
      <h1 tabIndex={-1}>{yardName(now, yard)}</h1>
      {now.shut !== null ? (
        <p class="notice">{w.shut_start}</p>
      ) : (
        <>
          {grows !== null && (
            <section class="stack" {...testid("run-grows")}>
              <p>{w.day_run_grows}</p>
              <Field
                id="why-here"
                title={w.day_why_here}
                hint={w.day_why_here_hint}
                value={sheet.fields.why}
                onValue={(why) => sheet.fill({ why })}
                input={{ ...testid("why-here"), maxLength: NOTE_MOST }}
              />
            </section>
          )}
          <Unsaved when={failed} />
          {/* What is most likely meant comes first, and is the yellow one. */}
          {casings.length > 0 ? [deliver, pickUp] : [pickUp, deliver]}
        </>
      )}
      <List casings={casings} />
      <Ways yard={yard} />
    </div>
  );
}

function List({ casings }: { casings: Casing[] }) {
  const now = usePhone().now.value;
  if (casings.length === 0) return null;
  return (
    <ul class="lines">
      {casings.map((casing) => (
        <CasingLine
          key={casing.id}
          label={casing.label}
          casing={casing}
          done={false}
          word={casing.holder !== me(now) && placeSaid(now, casing.holder)}
        />
      ))}
    </ul>
  );
}
