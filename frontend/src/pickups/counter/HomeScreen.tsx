/** The counter's first page: one input that takes whatever a customer has, and what waits below. */
import { useEffect } from "preact/hooks";
import { shownTicket, ticketNumber } from "../../domain/ticket";
import { usePhone } from "../context";
import { LeftHere } from "../lock/LeftHere";
import { go } from "../route";
import { testid } from "../testids";
import { when, words } from "../words";
import { BulkWork } from "../yard/bulk/BulkWork";
import { yardName } from "../yard/visits";
import { Finder } from "./Finder";
import { PrintingChoice } from "./PrintingChoice";
import { printSaid } from "./printing";
import { goesToPlant, onTrucks } from "./rack";
import { finishedDropOffs, openDropOffs, scannedLabel, storeOf } from "./visits";
import { Waiting } from "./Waiting";
import { counterWords } from "./words";

const FEW_TICKETS = 6;

export function HomeScreen() {
  const w = counterWords.value;
  const now = usePhone().now.value;
  useEffect(() => {
    // Whose casing it is on was never said.
    scannedLabel.value = "";
    printSaid.value = null;
  }, []);
  return (
    <div class="page home">
      <h1 tabIndex={-1} class="store">
        {w.at(now.enrolment?.site_name ?? "")}
      </h1>
      <LeftHere />
      <Finder />
      <div class="columns">
        <div class="stack">
          <OpenHere />
          <Lately />
          <PrintingChoice />
        </div>
        <div class="stack">
          <Waiting most={6} title />
          <BulkWork />
          <Trucks />
        </div>
      </div>
    </div>
  );
}

function OpenHere() {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const open = openDropOffs(now);
  if (open.length === 0) return null;
  return (
    <section>
      <h2>{w.open_here}</h2>
      <ul class="lines">
        {open.map((visit) => (
          <li key={visit.id}>
            <button
              type="button"
              class="line"
              onClick={() => go("pickup", visit.id)}
              {...testid(`open-${visit.id}`)}
            >
              <span>
                <b>{yardName(now, visit.yard)}</b>
                <br />
                {w.booked_in(visit.count)}
                {visit.draft && ` · ${w.half_entered}`}
              </span>
              <span class="go">{w.carry_on}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Lately() {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const lately = finishedDropOffs(now).slice(0, FEW_TICKETS);
  return (
    <section>
      <h2>{w.lately}</h2>
      {lately.length === 0 && <p class="soft">{w.lately_none}</p>}
      <ul class="lines">
        {lately.map((pickup) => (
          <li key={pickup.id}>
            <button
              type="button"
              class="line"
              onClick={() => go("ticket", pickup.id)}
              {...testid(`ticket-${pickup.id}`)}
            >
              <span>
                <b class="code">{shownTicket(ticketNumber(pickup.id))}</b>{" "}
                {yardName(now, pickup.yard)}
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

function Trucks() {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const trucks = onTrucks(now.casings.values(), now.people);
  const count = trucks.reduce((sum, truck) => sum + truck.casings.length, 0);
  const goes = [...now.casings.values()].filter((one) => goesToPlant(one, storeOf(now))).length;
  return (
    <section class="stack">
      <h2>{w.trucks}</h2>
      <p class="soft">
        {count === 0 ? w.trucks_none : w.trucks_say(count)}
        {goes > 0 && ` ${w.rack_in(goes)}`}
      </p>
      <button type="button" class="button" onClick={() => go("receive")} {...testid("receive")}>
        {w.receive}
      </button>
    </section>
  );
}
