/**
 * So that an owner fetches what waits here: whom to call, since when it waits, what was done, and
 * the one step that was just taken, for all of it. It never makes a casing ours, nor scrap.
 */
import { useState } from "preact/hooks";
import { shown } from "../../domain/labels";
import { remind } from "../../domain/operation";
import { dayOf } from "../../domain/promise";
import { later, USUAL_DAYS } from "../../domain/reminding";
import type { Casing } from "../../domain/rows";
import { isRejected } from "../../domain/truck";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { goFrom, route } from "../route";
import { testid } from "../testids";
import { Unsaved } from "../Unsaved";
import { words } from "../words";
import { useSheet } from "../yard/draft";
import { Back } from "./Back";
import { Choose } from "./Choose";
import type { Customer } from "./find";
import { waitingFor } from "./rack";
import { contactsOf, daysHere, isFetched, nextFor, nextOf } from "./reminders";
import { nextSaid, stepSaid } from "./remindingSaid";
import {
  BLANK_REMIND,
  idsFor,
  type RemindFault,
  type RemindFields,
  remindFault,
  remindsOf,
  SAID_MOST,
} from "./remindSheet";
import { customerOf, storeOf } from "./visits";
import { counterWords } from "./words";

export function RemindScreen({ customer: id }: { customer: string }) {
  const phone = usePhone();
  const w = counterWords.value;
  const now = phone.now.value;
  const customer = customerOf(now, id);
  const owned = waitingFor(now.casings.values(), storeOf(now), now.yards);
  const casings = owned.find((one) => one.id === id)?.casings.filter(isFetched) ?? [];
  const today = dayOf(phone.deps.clock.now());
  const days = now.sites.find((one) => one.id === storeOf(now))?.unclaimed ?? USUAL_DAYS;
  return (
    <div class="page stack remind">
      <Back to={["waiting"]} />
      <h1 tabIndex={-1}>
        {customer === null ? words.value.unknown_yard : w.remind_title(customer.name)}
      </h1>
      {customer !== null && <Calls customer={customer} />}
      {casings.length === 0 && <p class="notice">{w.remind_none}</p>}
      <ul class="lines" {...testid("remind-list")}>
        {casings.map((casing) => (
          <li key={casing.id}>
            <b class="code">{shown(casing.label)}</b> {casing.size}
            {isRejected(casing) && <span class="caution rejected"> {w.rejected_caution}</span>}
            <br />
            {aged(casing, today)}
            {" · "}
            {nextSaid(nextOf(casing, today, days))}
            {casing.reminders.map((one) => (
              <p key={`${one.at}${one.step}`} class="soft">
                {stepSaid(now, one)}
              </p>
            ))}
          </li>
        ))}
      </ul>
      {casings.length > 0 && customer !== null && (
        <Step
          key={customer.id}
          customer={customer}
          casings={casings}
          today={today}
          hold={days.hold}
          proposed={nextFor(casings, today, days)?.what ?? "wait"}
        />
      )}
      <p class="soft">{w.remind_law}</p>
      <p class="soft">{w.remind_days(days.call, days.write)}</p>
    </div>
  );
}

const aged = (casing: Casing, today: string): string => {
  const w = counterWords.value;
  const days = daysHere(casing, today);
  return casing.here_since === "" ? w.taken_days(days) : w.here_days(days);
};

function Calls({ customer }: { customer: Customer }) {
  const w = counterWords.value;
  const contacts = contactsOf(customer.yards);
  if (contacts.length === 0) return <p class="soft">{w.remind_no_number}</p>;
  return (
    <div class="keys-row">
      {contacts.map(({ name, phone, tel }, i) => (
        <a
          key={tel}
          class="button"
          href={tel}
          data-first={i === 0 ? true : undefined}
          {...testid("remind-call")}
        >
          {w.remind_call(name, phone)}
        </a>
      ))}
    </div>
  );
}

function Step(props: {
  customer: Customer;
  casings: Casing[];
  today: string;
  hold: number;
  proposed: string;
}) {
  const { customer, casings, today } = props;
  const phone = usePhone();
  const now = phone.now.value;
  const w = counterWords.value;
  const step =
    props.proposed === "write" ? "written" : props.proposed === "call" ? "called" : "hold";
  const contact = contactsOf(customer.yards)[0]?.name ?? "";
  const blank: RemindFields = { ...BLANK_REMIND, step, whom: contact };
  const sheet = useSheet(`remind:${customer.id}`, blank);
  const { fields, fill } = sheet;
  const [fault, setFault] = useState<RemindFault | null>(null);
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  // A notice says until when; the usual day stands there until another is chosen.
  const until = fields.until || (fields.step === "written" ? later(today, props.hold) : "");

  function put(some: Partial<RemindFields>) {
    setFault(null);
    // Other words are another step: what was told of the one before stays told.
    void fill({ ...some, ids: {} });
  }

  async function tell() {
    const said = { ...fields, until };
    const wrong = remindFault(said, today, w);
    setFault(wrong);
    if (wrong !== null) return document.getElementById(wrong.at)?.focus();
    if (busy || !sheet.ready || now.shut !== null) return;
    setBusy(true);
    setFailed(false);
    const here = route.value;
    try {
      // The ids are kept first: after a kill in the middle the same steps are told, none twice.
      const ids = idsFor(fields.ids, casings, { sheet: sheet.id, next: phone.deps.ids.next });
      await fill({ ids });
      const about = Object.keys(ids).flatMap((id) => now.casings.get(id) ?? []);
      for (const { casing, payload } of remindsOf(said, about))
        await phone.enter({ id: ids[casing]!, telling: remind(payload), photos: [] });
      await sheet.clear();
      goFrom(here, "waiting");
    } catch {
      setFailed(true);
      setBusy(false);
    }
  }

  const at = (where: RemindFault["at"]) => (fault?.at === where ? fault.said : null);
  return (
    <form
      class="stack finish"
      noValidate
      aria-label={w.remind_what}
      onSubmit={(event) => {
        event.preventDefault();
        void tell();
      }}
    >
      <Choose
        id="remind-step"
        title={w.remind_what}
        values={["called", "written", "hold"]}
        names={w.remind_steps as Record<RemindFields["step"], string>}
        value={fields.step}
        onValue={(value) => put({ step: value })}
      />
      {fields.step === "written" && <p>{w.remind_written_say}</p>}
      <div class="three">
        {fields.step === "called" && (
          <Field
            id="remind-whom"
            title={w.remind_whom}
            value={fields.whom}
            onValue={(whom) => put({ whom })}
            input={{ ...testid("remind-whom"), maxLength: 120, autocapitalize: "words" }}
          />
        )}
        <Field
          id="remind-said"
          title={fields.step === "called" ? w.remind_said : w.remind_why}
          hint={fields.step === "called" ? w.remind_said_hint : ""}
          fault={at("remind-said")}
          value={fields.said}
          onValue={(said) => put({ said })}
          input={{ ...testid("remind-said"), maxLength: SAID_MOST }}
        />
        <Field
          id="remind-until"
          title={w.remind_until}
          hint={fields.step === "called" ? w.remind_until_called : ""}
          fault={at("remind-until")}
          value={until}
          onValue={(value) => put({ until: value })}
          input={{ ...testid("remind-until"), type: "date", min: today }}
        />
      </div>
      <Unsaved when={failed} />
      {now.shut !== null ? (
        <p class="notice">{words.value.shut_save}</p>
      ) : (
        <button
          type="submit"
          class="button next"
          disabled={busy || !sheet.ready}
          {...testid("remind-do")}
        >
          {w.remind_do[fields.step]}
        </button>
      )}
    </form>
  );
}
