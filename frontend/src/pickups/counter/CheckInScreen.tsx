/** A drop-off on one page, in the order of the talk: how many, each casing, signature, ticket. */
import { useEffect, useRef } from "preact/hooks";
import type { Pickup, VisitLine } from "../../domain/rows";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { go } from "../route";
import { BLANK_SIGNING } from "../signing/signing";
import { testid } from "../testids";
import { words } from "../words";
import { countsAsked, customerCount, wheelsOf } from "../yard/counts";
import { type Sheet, useSheet } from "../yard/draft";
import { finishKey, halfEntered, pickupOf, sheetKey, yardName, yardOf } from "../yard/visits";
import { Back } from "./Back";
import { Booked } from "./Booked";
import { clearSheets } from "./clearing";
import { Entry } from "./Entry";
import { BLANK_ENTRY, takenAfterAll } from "./entry";
import { Finish, type FinishFields } from "./Finish";
import { printSaid } from "./printing";
import { PrintingChoice } from "./PrintingChoice";
import { Scrap } from "./Scrap";
import { customerOfYard, storeOf } from "./visits";
import { counterWords } from "./words";

const BLANK_FINISH: FinishFields = { count: "", deposit: "", ...BLANK_SIGNING };

export function CheckInScreen({ pickup: id }: { pickup: string }) {
  const w = counterWords.value;
  const now = usePhone().now.value;
  const pickup = pickupOf(now, id);
  const yard = yardOf(now, id);
  const finished = pickup !== null && pickup.finished_at !== null;
  useEffect(() => {
    if (finished) go("ticket", id);
  }, [finished, id]);
  if (finished) return null;
  const foreign = pickup !== null && pickup.casings.length > 0 && pickup.store !== storeOf(now);
  if (yard === null || foreign)
    return (
      <div class="page stack">
        <Back />
        <h1 tabIndex={-1}>{yardName(now, yard)}</h1>
        <p class="notice">{foreign ? w.other_store : w.unknown_visit}</p>
      </div>
    );
  return <CheckIn id={id} yard={yard} pickup={pickup} />;
}

function CheckIn({ id, yard, pickup }: { id: string; yard: string; pickup: Pickup | null }) {
  const phone = usePhone();
  const now = phone.now.value;
  const entry = useSheet(sheetKey(id), BLANK_ENTRY);
  const finish = useSheet(finishKey(id), BLANK_FINISH);
  const casings = pickup?.casings ?? [];
  const lines = pickup?.lines ?? [];
  const customer = customerOfYard(now, yard);
  const told = customerCount(finish.fields.count);
  const counted = casings.length - wheelsOf(casings);
  const complete = casings.length > 0 && told === counted;
  /** How many stood here when the last of them was told. */
  const saved = useRef(Infinity);
  const begun = pickup === null ? [] : halfEntered(now, pickup);
  const half = begun.length > 0;

  async function clear() {
    await clearSheets(phone.deps.store.local, begun);
    await entry.clear();
  }

  async function takeAfterAll(line: VisitLine, tell: () => Promise<unknown>) {
    // Filled in before it is told: whatever stops this device between, the casing stands somewhere.
    entry.fill(takenAfterAll(line));
    try {
      await tell();
    } catch (error) {
      await entry.clear();
      throw error;
    }
    focusNext();
  }

  useEffect(() => {
    printSaid.value = null;
  }, [id]);
  useEffect(() => {
    // Where the talk stands: how many, if nobody has said; else the next casing.
    if (!finish.ready || !entry.ready) return;
    const nothing = casings.length + lines.length === 0;
    const first = finish.fields.count === "" && nothing ? "customer-count" : null;
    document.getElementById(first ?? nextField())?.focus();
  }, [finish.ready && entry.ready]);

  useEffect(() => {
    // The last of them leads on to the signature, once its sheet is empty too.
    if (half || casings.length <= saved.current) return;
    saved.current = Infinity;
    if (complete && atEntry()) focusSoon("signer");
  }, [casings.length, half]);

  return (
    <div class="page checkin">
      <header class="checkin-top">
        <Back to={customer === null ? [] : ["customer", customer.id]} />
        <h1 tabIndex={-1}>{yardName(now, yard)}</h1>
        <HowMany sheet={finish} booked={counted} />
      </header>
      <div class="checkin-entry">
        <Entry
          pickup={id}
          yard={yard}
          sheet={entry}
          before={casings}
          all={complete}
          onSaved={() => {
            saved.current = casings.length;
            if (atEntry()) focusNext();
          }}
        />
      </div>
      {casings.length + lines.length > 0 && (
        <div class="checkin-finish">
          <Finish
            pickup={pickup!}
            sheet={finish}
            half={half}
            next={complete}
            onClear={() => void clear()}
          />
        </div>
      )}
      <aside class="checkin-list stack">
        <Booked id={id} casings={casings} lines={lines} begun={entry.begun} onTake={takeAfterAll} />
        <Scrap pickup={id} yard={yard} lines={lines} onSaved={focusNext} />
        <PrintingChoice />
      </aside>
    </div>
  );
}

/** Whoever has gone on to the scrap or the signature meanwhile stays there. */
function atEntry(): boolean {
  const at = document.activeElement;
  return at === null || at === document.body || at.closest(".checkin-entry") !== null;
}

let soon: ReturnType<typeof setTimeout>;

/** Once what was just told is drawn; what was asked for last is where the cursor goes. */
function focusSoon(field?: "signer"): void {
  clearTimeout(soon);
  soon = setTimeout(() => document.getElementById(field ?? nextField())?.focus());
}

const focusNext = () => focusSoon();

/** A proposed label needs no hand: then the TIN is what is read off next; a loose wheel has none. */
function nextField(): string {
  const label = document.getElementById("label") as HTMLInputElement | null;
  if (label === null || label.value === "") return "label";
  return document.getElementById("tin") === null ? "rim" : "tin";
}

function HowMany({ sheet, booked }: { sheet: Sheet<FinishFields>; booked: number }) {
  const w = counterWords.value;
  const all = words.value;
  const told = customerCount(sheet.fields.count);
  const differs = countsAsked(booked, told) !== null;
  const typed = sheet.fields.count.trim();
  return (
    <div class="how-many">
      <Field
        id="customer-count"
        title={w.how_many}
        hint={w.how_many_hint}
        fault={told === "none" ? all.finish_number(typed.slice(0, 20)) : null}
        value={sheet.fields.count}
        onValue={(count) => sheet.fill({ count })}
        input={{
          ...testid("customer-count"),
          inputMode: "numeric",
          onKeyDown: (event) => {
            if (event.key !== "Enter") return;
            event.preventDefault();
            if (told !== "none") document.getElementById(nextField())?.focus();
          },
        }}
      />
      <p class={`count big ${differs ? "" : "even"}`} {...testid("count")}>
        <b>{typeof told === "number" ? w.booked_of(booked, told) : w.booked_in(booked)}</b>
      </p>
    </div>
  );
}
