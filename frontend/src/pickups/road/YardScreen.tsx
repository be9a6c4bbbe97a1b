/** A yard that no stop named: what is on the truck for it, or a pickup. */
import { toHandOver } from "../../domain/asked";
import type { Casing } from "../../domain/rows";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";
import { yardName } from "../yard/visits";
import { CasingLine } from "./CasingLine";
import { placeSaid } from "./doubts";
import { me, startDelivery, startPickup, truckOf } from "./road";
import { Back } from "./Top";

export function YardScreen({ yard }: { yard: string }) {
  const phone = usePhone();
  const now = phone.now.value;
  const w = words.value;
  const { casings } = toHandOver(truckOf(now).casings, yard, []);
  const address = now.yards.find((one) => one.id === yard)?.address;
  return (
    <div class="page stack">
      <Back />
      <h1 tabIndex={-1}>{yardName(now, yard)}</h1>
      {address && <p>{address}</p>}
      <List casings={casings} />
      {now.shut !== null ? (
        <p class="notice">{w.shut_start}</p>
      ) : (
        <>
          <button
            type="button"
            class={casings.length > 0 ? "button primary" : "button wide"}
            onClick={() => void startDelivery(phone, yard)}
            {...testid("start-delivery")}
          >
            {casings.length > 0 ? w.road_deliver_do(casings.length) : w.road_deliver_start}
          </button>
          <button
            type="button"
            class={casings.length > 0 ? "button wide" : "button primary"}
            onClick={() => void startPickup(phone, yard)}
            {...testid("start-pickup")}
          >
            {w.start_title}
          </button>
        </>
      )}
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
