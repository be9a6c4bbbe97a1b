/** What was taken, casing by casing, for when, and who signed: to be shown to the customer. */
import { useState } from "preact/hooks";
import type { Casing } from "../../domain/rows";
import { counted } from "../../domain/shown";
import { Bar } from "../../ui/Bar";
import { usePhone } from "../context";
import { go, route } from "../route";
import { ReadIn } from "../signing/ReadIn";
import { ReceiptSquare } from "../signing/ReceiptSquare";
import { useSignedHere } from "../signing/signedHere";
import { daysSaid, signedSaid } from "../signing/signing";
import { leavesDanger } from "../seen/visitLines";
import { testid } from "../testids";
import { dayInWords, type Language, when, words } from "../words";
import { TrailerOf } from "./bulk/TrailerList";
import { isShut } from "./bulk/waiting";
import { CasingList } from "./CasingList";
import { JUST_NOW } from "./FinishScreen";
import { wheelsOf } from "./counts";
import { VisitLines } from "./VisitLines";
import { pickupOf, yardName } from "./visits";

export function ReceiptScreen({ pickup: id }: { pickup: string }) {
  const now = usePhone().now.value;
  const w = words.value;
  const [reads, setReads] = useState<Language | "">("");
  const signed = useSignedHere(id);
  const pickup = pickupOf(now, id);
  if (pickup === null) return <Back />;
  // What the office's server could not take is not promised on paper either.
  const casings = pickup.casings.filter((casing) => casing.standing !== "needs_you");
  const lines = pickup.lines.filter((line) => line.standing !== "needs_you");
  const refused = pickup.casings.length - casings.length + (pickup.lines.length - lines.length);
  const { scrap, left } = counted(lines);
  const total = pickup.casings.length === 0 ? pickup.count : casings.length;
  const wheels = wheelsOf(casings);
  const by = pickup.casings.find((casing) => casing.by !== null)?.by;
  const name = now.people.find((person) => person.id === by)?.name;
  const store = now.sites.find((site) => site.id === pickup.store)?.name;
  const signing = signed === null ? null : signedSaid(signed, w);
  return (
    <div class="page stack" {...testid("receipt")}>
      <Back />
      <h1 tabIndex={-1}>{w.receipt}</h1>
      <ReadIn kept={reads} onKept={setReads} />
      <p>
        <b>{yardName(now, pickup.yard)}</b>
        {store !== undefined && ` · ${w.receipt_at(store)}`}
        <br />
        {pickup.finished_at === null ? w.not_finished : w.finished_at(when(pickup.finished_at))}
        {name !== undefined && ` · ${w.receipt_by(name)}`}
      </p>
      {pickup.trailer !== null && <TrailerOf pickup={pickup} trailer={pickup.trailer} />}
      <p class="count big" hidden={isShut(pickup)}>
        <b>{w.receipt_total(total - wheels)}</b>
        {wheels > 0 && `, ${w.wheels_n(wheels)}`}
        {pickup.customer_count !== null && `, ${w.customer_says(pickup.customer_count)}`}
      </p>
      {scrap > 0 && <p class="count">{w.receipt_scrap(scrap)}</p>}
      {left > 0 && <p class="count">{w.receipt_left(left)}</p>}
      {casings.length > 0 && (
        <p
          {...testid("receipt-promised")}
        >{`${daysSaid(casings.map(promisedLine), w, dayInWords)}.`}</p>
      )}
      <p class="caution">{w.receipt_say}</p>
      {refused > 0 && <p class="fault">{w.finish_needs_you(refused)}</p>}
      <CasingList casings={casings} onOpen={null} />
      <VisitLines lines={lines} onOpen={null} />
      {leavesDanger(lines) && (
        <p class="caution" {...testid("receipt-danger")}>
          {w.receipt_left_stop}
        </p>
      )}
      {signing !== null && <p {...testid("receipt-signed")}>{signing}</p>}
      <ReceiptSquare visit={id} />
      <Bar>
        {route.value[3] === JUST_NOW && <p>{w.receipt_hand_back}</p>}
        <button
          type="button"
          class="button primary"
          onClick={() => go()}
          {...testid("receipt-done")}
        >
          {w.receipt_new}
        </button>
      </Bar>
    </div>
  );
}

const promisedLine = ({ label, promised }: Casing) => ({ label, on: promised?.on ?? "" });

function Back() {
  return (
    <button type="button" class="button plain back" onClick={() => go()}>
      ‹ {words.value.back}
    </button>
  );
}
