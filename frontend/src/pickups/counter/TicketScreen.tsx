/** The drop-off ticket: when to come back, in large type, and what could change it. Printable. */
import { inZone } from "../../domain/days";
import { shown } from "../../domain/labels";
import type { Casing, Pickup, VisitLine } from "../../domain/rows";
import { shownTicket, ticketNumber, ticketText } from "../../domain/ticket";
import { usePhone } from "../context";
import { go } from "../route";
import { LINES } from "../seen/seen";
import { ReceiptSquare } from "../signing/ReceiptSquare";
import { countsSaid, leavesDanger, lineSaid, lineTitle } from "../seen/visitLines";
import { testid } from "../testids";
import { dayInWords, spoken, money, numerals, words } from "../words";
import { pickupOf, yardName } from "../yard/visits";
import { Back } from "./Back";
import { depositOf, depositSaid } from "./deposit";
import { odds } from "../wanted/OfferSaid";
import { isPromised } from "./entry";
import { dueSaid, lineOf } from "./kinds";
import { Square } from "../../ui/Square";
import { standingOf } from "./standing";
import { stock } from "./stock";
import { TicketPdf } from "./TicketPdf";
import { customerOfYard, storeOf } from "./visits";
import { counterWords, dayInFull } from "./words";

export function TicketScreen({ pickup: id }: { pickup: string }) {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const pickup = pickupOf(now, id);
  const done = pickup !== null && pickup.finished_at !== null;
  return (
    <div class="page ticket-page stack">
      <Back />
      <h1 tabIndex={-1} class="on-screen">
        {w.ticket}
      </h1>
      {done && (
        <div class="keys-row">
          <button
            type="button"
            class="button next"
            data-first
            onClick={() => window.print()}
            {...testid("ticket-print")}
          >
            {w.ticket_print}
          </button>
          <button type="button" class="button" onClick={() => go()} {...testid("ticket-done")}>
            {w.ticket_done}
          </button>
          <TicketPdf visit={pickup.id} />
        </div>
      )}
      {done ? <Ticket pickup={pickup} /> : <p class="notice">{w.not_finished}</p>}
    </div>
  );
}

function Ticket({ pickup }: { pickup: Pickup }) {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const number = ticketNumber(pickup.id);
  const { casings, lines } = standingOf(pickup);
  const customer = customerOfYard(now, pickup.yard);
  const here = now.sites.find((site) => site.id === storeOf(now));
  const call = here?.phone || stock.value.phone;
  const deposit = depositOf(pickup);
  return (
    <article class="ticket" aria-label={w.ticket_title} {...testid("ticket")}>
      <header>
        <p class="dealer">
          <b>{stock.value.dealer || now.enrolment?.site_name}</b>
          {stock.value.dealer !== "" && (
            <>
              <br />
              {now.enrolment?.site_name}
            </>
          )}
          {call !== "" && (
            <>
              <br />
              {call}
            </>
          )}
        </p>
        <div class="mark-of">
          <Square text={ticketText(number)} name={w.ticket_square(shownTicket(number))} />
          <p>
            {w.ticket}
            <br />
            <b class="code number" {...testid("ticket-number")}>
              {shownTicket(number)}
            </b>
          </p>
        </div>
      </header>
      <p class="for">
        <b>{customer?.name ?? yardName(now, pickup.yard)}</b>
        <br />
        {w.ticket_taken(
          pickup.casings.length === 0 ? pickup.count : casings.length,
          takenAt(pickup.finished_at ?? ""),
        )}
        {lines.length > 0 && `; ${countsSaid(lines, words.value)}`}
      </p>
      {deposit !== null && (
        <p {...testid("ticket-deposit")}>{w.deposit_ticket(depositSaid(deposit, money))}</p>
      )}
      <Days casings={casings} yard={yardName(now, pickup.yard)} />
      <Instead casings={casings} />
      <section>
        <h2>{w.ticket_change}</h2>
        <ul class="changes">
          {w.ticket_changes.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
          {groundsSaid(casings).map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      </section>
      {casings.length > 0 && (
        <section>
          <h2>{w.ticket_list}</h2>
          <ol class="labels" {...testid("ticket-labels")}>
            {casings.map((casing) => (
              <li key={casing.id}>
                <b class="code">{shown(casing.label)}</b>{" "}
                <span>{[casing.brand, casing.size].filter(Boolean).join(" ")}</span>
                <span class="on">{dueSaid(casing)}</span>
              </li>
            ))}
          </ol>
        </section>
      )}
      <Others lines={lines} />
      <ReceiptSquare visit={pickup.id} />
      <p class="last">{w.ticket_bring_it}</p>
    </article>
  );
}

/** On what the days stand, a sentence for each basis among them. */
function groundsSaid(casings: Casing[]): string[] {
  const w = counterWords.value;
  const said = casings.flatMap(({ promised }) => {
    if (promised === null) return [];
    if (promised.basis === "by_hand") return [w.ticket_by_hand];
    return promised.basis === "forecast" && promised.confidence !== null
      ? [w.ticket_by_forecast(odds(promised.confidence, words.value))]
      : [w.ticket_by_standard];
  });
  return [...new Set(said)];
}

/** Paper is read on other days too: always with the day. */
const takenAt = (at: string): string =>
  new Intl.DateTimeFormat(spoken.value, {
    ...inZone(),
    dateStyle: "medium",
    timeStyle: "short",
  }).format(new Date(at));

/** Of what no day is promised for: what comes instead, a sentence a kind. */
function Instead({ casings }: { casings: Casing[] }) {
  const w = counterWords.value;
  return (
    <>
      {LINES.filter((line) => !isPromised(line)).map((line) => {
        const n = casings.filter((casing) => lineOf(casing) === line).length;
        return (
          n > 0 && (
            <p key={line} class="day open" {...testid(`ticket-${line}`)}>
              {w.ticket_instead(n, words.value.lines[line], w.instead[line] ?? "")}
            </p>
          )
        );
      })}
    </>
  );
}

/** Scrap that was taken, and what stays with the customer and why. */
function Others({ lines }: { lines: VisitLine[] }) {
  const all = words.value;
  if (lines.length === 0) return null;
  return (
    <section {...testid("ticket-lines")}>
      <ul class="changes">
        {lines.map((line) => (
          <li key={line.id}>
            <b>{lineTitle(line, all)}</b> {lineSaid(line, all, numerals)}
          </li>
        ))}
      </ul>
      {leavesDanger(lines) && <p class="caution">{all.receipt_left_stop}</p>}
    </section>
  );
}

/** The latest day is the one to come for all; where casings go to a yard, it is said apart. */
function Days({ casings, yard }: { casings: Casing[]; yard: string }) {
  const w = counterWords.value;
  const due = casings.filter((casing) => isPromised(lineOf(casing)));
  const fetched = due.filter(({ back_to }) => back_to === "store");
  const brought = due.filter(({ back_to }) => back_to !== "store");
  return (
    <div class="days" {...testid("ticket-days")}>
      <Day title={w.ticket_come} casings={fetched} />
      <Day title={w.ticket_bring(yard)} casings={brought} />
    </div>
  );
}

function Day({ title, casings }: { title: string; casings: Casing[] }) {
  const w = counterWords.value;
  if (casings.length === 0) return null;
  const days = casings.flatMap(({ promised }) => promised?.on ?? []).sort();
  const last = days.at(-1);
  if (last === undefined) return <p class="day open">{w.ticket_open}</p>;
  const first = days[0]!;
  const early = days.filter((day) => day === first).length;
  const open = casings.length - days.length;
  return (
    <p class="day">
      {title}
      <br />
      <b class="large">{dayInFull(last)}</b>
      {first !== last && (
        <>
          <br />
          {w.ticket_from(early, dayInWords(first))}
        </>
      )}
      {open > 0 && (
        <>
          <br />
          {w.ticket_some_open(open)}
        </>
      )}
    </p>
  );
}
