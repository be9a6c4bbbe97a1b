/** What was handed over, and what is next at this yard: what waits there to be fetched. */
import { dayOf } from "../../domain/promise";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { go } from "../route";
import { ReceiptSquare } from "../signing/ReceiptSquare";
import { testid } from "../testids";
import { when, words } from "../words";
import { deliveryOf, yardName } from "../yard/visits";
import { CasingLine } from "./CasingLine";
import { runsNow, startPickup } from "./road";
import { Back } from "./Top";

export function DeliveredScreen({ delivery: id }: { delivery: string }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const delivery = deliveryOf(now, id);
  if (delivery === null || delivery.finished_at === null) return <Back />;
  const { yard, finished_at } = delivery;
  const clockMs = phone.deps.clock.now();
  const today = runsNow(now, clockMs).filter(({ run }) => run.on <= dayOf(clockMs));
  const fetch = today
    .flatMap((run) => run.stops)
    .find(({ stop, need }) => stop.yard === yard && need === "fetch");
  const refused = delivery.lines.filter((line) => line.standing === "needs_you").length;
  return (
    <div class="page stack" {...testid("delivered")}>
      <Back />
      <h1 tabIndex={-1}>{w.road_delivered_title}</h1>
      <p>
        <b>{yardName(now, yard)}</b>
        <br />
        {w.finished_at(when(finished_at))}
      </p>
      <p class="count big">
        <b>{w.road_delivered(delivery.count)}</b>
      </p>
      {refused > 0 && <p class="fault">{w.road_delivered_needs_you(refused)}</p>}
      <ul class="lines">
        {delivery.lines.map((line) => (
          <CasingLine
            key={line.id}
            label={line.label}
            casing={line.casing === null ? null : (now.casings.get(line.casing) ?? null)}
            done
          />
        ))}
      </ul>
      <ReceiptSquare visit={id} />
      <Bar>
        {fetch === undefined || now.shut !== null ? (
          <button
            type="button"
            class="button primary"
            onClick={() => go()}
            {...testid("delivered-done")}
          >
            {w.receipt_new}
          </button>
        ) : (
          <button
            type="button"
            class="button primary"
            onClick={() => void startPickup(phone, yard, fetch.stop.uid)}
            {...testid("fetch-here")}
          >
            {fetch.fetch === null ? w.road_fetch_do_some : w.road_fetch_do(fetch.fetch)}
          </button>
        )}
      </Bar>
    </div>
  );
}
