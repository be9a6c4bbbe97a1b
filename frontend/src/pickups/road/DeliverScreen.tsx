/**
 * Handing casings back at their owner's yard, scanned or ticked on the list. What belongs to
 * somebody else is stopped in large letters; what is rejected says on its own line not to mount or
 * inflate it.
 */
import { useEffect, useRef, useState } from "preact/hooks";
import type { Snapshot } from "../../bridge/snapshot";
import { atDelivery, toHandOver } from "../../domain/asked";
import { shown } from "../../domain/labels";
import { deliver } from "../../domain/operation";
import type { Casing, HandedBack } from "../../domain/rows";
import { isRejected } from "../../domain/truck";
import { amend } from "../../store/local";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { go, goFrom, route } from "../route";
import { testid } from "../testids";
import { ownWords, words } from "../words";
import { deliveryOf, openDeliveries, yardName } from "../yard/visits";
import { CasingLine } from "./CasingLine";
import { cautionOf, placeSaid, questionOf } from "./doubts";
import { me, truckOf } from "./road";
import { type Heard, Scanning } from "./Scanning";
import { ScanTop, ShutNotice } from "./Top";
import type { Said } from "./Verdict";

export interface Delivering {
  id: string;
  yard: string;
  /** The work orders that the sheet has for the stop, and how many of them this phone lacks. */
  sheet: Set<string>;
  unseen: number;
  lines: HandedBack[];
  /** What is still to be handed over, the rejected last. */
  left: Casing[];
}

/** A delivery that is open on this phone; null where it is not, or not any more. */
export function delivering(now: Snapshot, id: string): Delivering | null {
  const open = openDeliveries(now).find((one) => one.id === id);
  if (open === undefined) return null;
  const stop = now.runs.flatMap((run) => run.stops).find(({ uid }) => uid === open.stop);
  const sheet = stop?.drop ?? [];
  const lines = (deliveryOf(now, id)?.lines ?? []).filter((one) => one.standing !== "needs_you");
  const { casings, notHere } = toHandOver(
    truckOf(now).casings,
    open.yard,
    sheet.map((one) => now.casings.get(one) ?? null),
  );
  const over = new Set(lines.map((one) => one.label));
  const left = casings.filter((casing) => !over.has(casing.label));
  return { id, yard: open.yard, sheet: new Set(sheet), unseen: notHere, lines, left };
}

export function DeliverScreen({ delivery: id }: { delivery: string }) {
  const now = usePhone().now.value;
  const open = delivering(now, id);
  const finished = deliveryOf(now, id)?.finished_at != null;
  useEffect(() => {
    if (finished) go("delivery", id, "done");
    else if (open === null) go();
  }, [finished, open === null, id]);
  return open === null ? null : <Deliver open={open} />;
}

function Deliver({ open }: { open: Delivering }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const [asks, setAsks] = useState(false);
  const scanner = useRef<((label: string, ticked: boolean) => void) | null>(null);
  const { lines, left } = open;
  const name = yardName(now, open.yard);
  const count = w.road_handed_of(lines.length, lines.length + left.length);
  const complete = lines.length > 0 && left.length === 0;

  async function scan(label: string, ticked: boolean): Promise<Heard> {
    const at = phone.now.value;
    const judged = atDelivery(label, {
      casings: at.casings.values(),
      me: at.person ?? "",
      yard: at.yards.find((one) => one.id === open.yard) ?? null,
      delivery: deliveryOf(at, open.id),
      sheet: open.sheet,
    });
    if (judged.what === "again")
      return { said: { tone: "again", text: w.road_handed_already(shown(label)) } };
    if (judged.what === "take") return { said: await tell(label, judged.casing, ticked) };
    const texts = {
      no: w.road_keep_on_truck,
      yes: w.road_hand_anyway,
      left: w.road_kept_on_truck,
      yard: yardName(at, open.yard),
    };
    const { casing } = judged;
    return { question: questionOf(at, label, judged, texts, () => tell(label, casing, ticked)) };
  }

  async function tell(label: string, casing: Casing | null, ticked: boolean): Promise<Said> {
    const note = ticked ? ownWords.value.day_ticked : "";
    const telling = deliver({ delivery: open.id, yard: open.yard, label, note });
    await phone.enter({ id: phone.deps.ids.next(), telling });
    return { tone: "good", text: w.road_handed(shown(label)), caution: cautionOf(casing) };
  }

  const line = (casing: Casing) => (
    <CasingLine
      key={casing.id}
      label={casing.label}
      casing={casing}
      done={false}
      word={casing.holder !== me(now) && placeSaid(now, casing.holder)}
      {...(now.shut === null && !asks && casing.holder === me(now)
        ? { onTick: () => scanner.current?.(casing.label, true) }
        : {})}
    />
  );
  const good = left.filter((casing) => !isRejected(casing));
  const rejected = left.filter(isRejected);

  async function putAway() {
    const here = route.value;
    await amend(phone.deps.store.local, "deliveries", (all) =>
      (all ?? []).filter((one) => one.delivery !== open.id),
    );
    await phone.changed();
    goFrom(here);
  }

  return (
    <div class="page scan-page">
      <ScanTop title={name} count={count} />
      {!asks && <p class="caution">{w.caution_lift}</p>}
      {now.shut !== null ? (
        <ShutNotice />
      ) : (
        <Scanning
          onScan={scan}
          count={count}
          next={!complete}
          take={w.road_hand_one}
          onAsks={setAsks}
          ticked={scanner}
        />
      )}
      <section>
        <h2>{w.road_to_hand_over(good.length)}</h2>
        {left.length === 0 && lines.length === 0 && <p class="soft">{w.road_nothing_for_here}</p>}
        <ul class="lines">{good.map(line)}</ul>
        {rejected.length > 0 && (
          <section {...testid("rejected")}>
            <h2>{w.day_rejected(rejected.length)}</h2>
            <p>{w.day_rejected_say}</p>
            <ul class="lines">{rejected.map(line)}</ul>
          </section>
        )}
        {open.unseen > 0 && <p class="soft">{w.road_unseen(open.unseen)}</p>}
      </section>
      {lines.length > 0 && (
        <section>
          <h2>{w.road_handed_over(lines.length)}</h2>
          <ul class="lines">
            {[...lines].reverse().map((line) => (
              <CasingLine
                key={line.id}
                label={line.label}
                casing={line.casing === null ? null : (now.casings.get(line.casing) ?? null)}
                done
              />
            ))}
          </ul>
        </section>
      )}
      {lines.length === 0 && (
        <button
          type="button"
          class="button plain"
          onClick={() => void putAway()}
          {...testid("put-away")}
        >
          {w.road_nothing_handed}
        </button>
      )}
      {lines.length > 0 && now.shut === null && !asks && (
        <Bar>
          <button
            type="button"
            class={complete ? "button primary" : "button wide"}
            onClick={() => go("delivery", open.id, "end")}
            {...testid("end-delivery")}
          >
            {w.road_sign_for(lines.length)}
          </button>
        </Bar>
      )}
    </div>
  );
}
