/** One customer at the counter: book a drop-off in, hand over what is ready, say where the rest is. */
import { useState } from "preact/hooks";
import { shown } from "../../domain/labels";
import { type Casing, dueOn } from "../../domain/rows";
import { shownTicket, ticketNumber } from "../../domain/ticket";
import { isRejected } from "../../domain/truck";
import { Strokes } from "../../ui/Strokes";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { when, words } from "../words";
import { yardName } from "../yard/visits";
import { Back } from "./Back";
import type { Customer } from "./find";
import { isReady, ownerOf } from "./rack";
import { inShort } from "./story";
import {
  begin,
  customerOf,
  finishedDropOffs,
  openDropOffs,
  scannedLabel,
  storeOf,
  usualYard,
} from "./visits";
import { counterWords } from "./words";

const FEW = 5;

export function CustomerScreen({ customer: id }: { customer: string }) {
  const now = usePhone().now.value;
  const customer = customerOf(now, id);
  if (customer === null) return <Nobody />;
  const theirs = [...now.casings.values()].filter(
    (casing) =>
      casing.pickup !== "" &&
      casing.progress !== "returned" &&
      ownerOf(casing, now.yards).id === customer.id,
  );
  const ready = theirs.filter((casing) => isReady(casing, storeOf(now)));
  return (
    <div class="page customer">
      <Back />
      <h1 tabIndex={-1}>{customer.name}</h1>
      <div class="columns">
        <div class="stack">
          <Actions customer={customer} ready={ready} />
          <Tickets customer={customer} />
        </div>
        <With casings={theirs} yards={customer.yards.length > 1} />
      </div>
    </div>
  );
}

function Nobody() {
  return (
    <div class="page stack">
      <Back />
      <h1 tabIndex={-1}>{words.value.unknown_yard}</h1>
    </div>
  );
}

function Actions({ customer, ready }: { customer: Customer; ready: Casing[] }) {
  const phone = usePhone();
  const w = counterWords.value;
  const now = phone.now.value;
  const [yard, setYard] = useState(usualYard(now, customer)?.id ?? "");
  const open = openDropOffs(now).find((visit) => visit.yard === yard);
  const free = scannedLabel.value;
  if (now.shut !== null) return <p class="notice">{words.value.shut_start}</p>;
  return (
    <section class="stack">
      {ready.length > 0 && (
        <button
          type="button"
          class="button primary"
          data-first={free === "" ? true : undefined}
          onClick={() => go("hand-over", customer.id)}
          {...testid("hand-over")}
        >
          {w.hand_over_n(ready.length)}
        </button>
      )}
      {customer.yards.length > 1 && (
        <div class="field">
          <label for="from-yard">{w.from_which}</label>
          <select
            id="from-yard"
            value={yard}
            onChange={(event) => setYard((event.target as HTMLSelectElement).value)}
            {...testid("from-yard")}
          >
            {customer.yards.map(({ id, name, address }) => (
              <option key={id} value={id} selected={id === yard}>
                {address === "" ? name : `${name}, ${address}`}
              </option>
            ))}
          </select>
        </div>
      )}
      {customer.yards.length === 1 && (
        <p>
          {customer.yards[0]!.name}
          <br />
          <span class="soft">{customer.yards[0]!.address || w.no_address}</span>
        </p>
      )}
      <button
        type="button"
        class={ready.length > 0 && free === "" ? "button wide" : "button primary"}
        data-first={ready.length === 0 || free !== "" ? true : undefined}
        onClick={() => (open === undefined ? void begin(phone, yard) : go("pickup", open.id))}
        {...testid("drop-off")}
      >
        {open !== undefined
          ? w.go_on(open.count)
          : free === ""
            ? w.start
            : w.start_with(shown(free))}
      </button>
    </section>
  );
}

function Tickets({ customer }: { customer: Customer }) {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const yards = new Set(customer.yards.map(({ id }) => id));
  const theirs = finishedDropOffs(now)
    .filter((pickup) => yards.has(pickup.yard))
    .slice(0, FEW);
  if (theirs.length === 0) return null;
  return (
    <section>
      <h2>{w.tickets_of}</h2>
      <ul class="lines">
        {theirs.map((pickup) => (
          <li key={pickup.id}>
            <button type="button" class="line" onClick={() => go("ticket", pickup.id)}>
              <span>
                <b class="code">{shownTicket(ticketNumber(pickup.id))}</b>
                <br />
                <span class="soft">
                  {words.value.casings(pickup.count)} · {when(pickup.finished_at ?? 0)}
                </span>
              </span>
              <span class="go">{w.ticket}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function With({ casings, yards }: { casings: Casing[]; yards: boolean }) {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const sorted = [...casings].sort((a, b) => {
    const [left, right] = [dueOn(a) ?? "9", dueOn(b) ?? "9"];
    return left === right ? (a.label < b.label ? -1 : 1) : left < right ? -1 : 1;
  });
  return (
    <section>
      <h2>{w.with_us(casings.length)}</h2>
      {casings.length === 0 && <p class="soft">{w.with_us_none}</p>}
      <ul class="lines">
        {sorted.map((casing) => (
          <li key={casing.id}>
            <button
              type="button"
              class="line"
              onClick={() => go("casing", casing.id)}
              {...testid(`with-us-${casing.label}`)}
            >
              <Strokes
                stage={isRejected(casing) ? "rejected" : casing.progress}
                held={casing.on_hold}
                inQuestion={casing.standing === "in_question"}
              />
              <span class="what">
                <b class="code">{shown(casing.label)}</b> <span class="soft">{casing.size}</span>
                <br />
                {inShort(now, casing)}
                {yards && (
                  <>
                    <br />
                    <span class="soft">{yardName(now, casing.yard)}</span>
                  </>
                )}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
