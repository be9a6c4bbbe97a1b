/**
 * What the customer wants done with a casing and for when: asked the same way in a yard and at a
 * counter. The words for the day always say where it comes from.
 *
 *   <WantedFieldset fields={fields} onFields={(some) => fill(some)} offer={offer}
 *     size={size} tableUntil={table?.valid_until ?? null} yard={nameOfTheYard} />
 *   dayFault(fields, today, w, dayInWords)         // before saving; the field has id promised-on
 *   wantedPayload(fields, offer)                   // into pickUp's payload
 *
 * `offer` comes from `offerFor` (offer.ts); styles: wanted.css, loaded by the main of the page.
 */
import { useState } from "preact/hooks";
import { shown } from "../../domain/labels";
import { dayOf } from "../../domain/promise";
import { Choice } from "../../ui/Choice";
import { Field } from "../../ui/Field";
import { usePhone } from "../context";
import { testid } from "../testids";
import { dayInWords, words } from "../words";
import type { Words } from "../words.en";
import { OfferSaid, odds, StockSaid } from "./OfferSaid";
import { inStock, type Offer } from "./offer";
import {
  BACKS,
  BASES,
  dayFault,
  daysToName,
  type Mate,
  mateApart,
  SHORT_MOST,
  type WantedFields,
  WORKS,
} from "./wanted";

export interface WantedProps {
  fields: WantedFields;
  onFields: (some: Partial<WantedFields>) => void;
  /** What the phone's table offers for this. */
  offer: Offer;
  /** As told so far; "" where it is not. */
  size: string;
  /** The other casings of this pickup. */
  duals?: Mate[];
  /** The last day for which the table on this phone counts; null where none has come. */
  tableUntil: string | null;
  /** The yard's name, as it is said. */
  yard: string;
  /** The day on which it changed hands; today where it does so now. */
  handedOver?: string;
}

export function WantedFieldset(props: WantedProps) {
  const { fields, onFields } = props;
  const w = words.value;
  return (
    <fieldset class="wanted stack">
      <legend class="hidden">{w.wanted_title}</legend>
      <Choice
        name="work"
        title={w.work}
        values={WORKS}
        names={w.works}
        value={fields.work}
        onValue={(work) => onFields({ work })}
      />
      <div class="field">
        <label for="basis">{w.basis}</label>
        <select
          id="basis"
          value={fields.basis}
          onChange={(event) =>
            onFields({ basis: (event.target as HTMLSelectElement).value as WantedFields["basis"] })
          }
          {...testid("basis")}
        >
          {BASES.map((basis) => (
            <option key={basis} value={basis} selected={basis === fields.basis}>
              {w.bases[basis]}
            </option>
          ))}
        </select>
      </div>
      {fields.work === "retread" && (
        <Field
          id="tread-design"
          title={w.tread_design}
          hint={w.tread_design_hint}
          value={fields.tread_design}
          onValue={(tread_design) => onFields({ tread_design })}
          input={{ ...testid("tread-design"), maxLength: SHORT_MOST }}
        />
      )}
      <div class="pair">
        <Field
          id="purchase-order"
          title={w.purchase_order}
          value={fields.purchase_order}
          onValue={(purchase_order) => onFields({ purchase_order })}
          input={{ ...testid("purchase-order"), maxLength: SHORT_MOST, spellcheck: false }}
        />
        <Field
          id="unit"
          title={w.unit}
          hint={w.unit_hint}
          value={fields.unit}
          onValue={(unit) => onFields({ unit })}
          input={{ ...testid("unit"), maxLength: SHORT_MOST, spellcheck: false }}
        />
      </div>
      <Choice
        name="back-to"
        title={w.back_to}
        values={BACKS}
        names={w.backs}
        value={fields.back_to}
        onValue={(back_to) => onFields({ back_to })}
      />
      <DualOf
        fields={fields}
        duals={props.duals ?? []}
        on={fields.promised_on || props.offer.on}
        onFields={onFields}
      />
      <PromisedDay {...props} />
    </fieldset>
  );
}

/** The casing that it runs beside on one axle: both are wanted back together. */
export function DualOf(props: {
  fields: WantedFields;
  duals: Mate[];
  /** The day that is promised for the pair. */
  on: string | null;
  onFields: (some: Partial<WantedFields>) => void;
}) {
  const w = words.value;
  const dual_with = props.fields.dual_with || "";
  const labels = [...new Set([...props.duals.map(({ label }) => label), dual_with])].filter(
    (label) => label !== "",
  );
  if (labels.length === 0) return null;
  const apart = mateApart(props.duals, dual_with, props.on);
  return (
    <div class="field">
      <label for="dual-with">{w.dual_with}</label>
      <select
        id="dual-with"
        value={dual_with}
        onChange={(event) =>
          props.onFields({ dual_with: (event.target as HTMLSelectElement).value })
        }
        {...testid("dual-with")}
      >
        {["", ...labels].map((label) => (
          <option key={label} value={label} selected={label === dual_with}>
            {label === "" ? w.dual_none : shown(label)}
          </option>
        ))}
      </select>
      {apart !== null && (
        <p class="asks" {...testid("dual-apart")}>
          {w.dual_apart(shown(dual_with), dayInWords(apart.alone), dayInWords(apart.together))}
        </p>
      )}
    </div>
  );
}

function PromisedDay(props: WantedProps) {
  const { fields, onFields, tableUntil, yard } = props;
  const offer = props.offer.on;
  const w = words.value;
  const today = dayOf(usePhone().deps.clock.now());
  const since = props.handedOver ?? today;
  const { first, last } = daysToName(since);
  const fault = dayFault(fields, since, w, dayInWords);
  const [asked, setAsked] = useState(false);
  const named = fields.promised_on !== "" && fields.promised_on !== offer;
  return (
    <fieldset class="field">
      <legend class="hidden">{w.promise}</legend>
      <p class="promised" {...testid("promised")}>
        <b>{fault === null && promisedSaid(fields, props.offer, w)}</b>
      </p>
      <OfferSaid offer={props.offer} backTo={fields.back_to} />
      <StockSaid
        like={inStock(usePhone().now.value.promises, fields, props.size)}
        onExchange={() => onFields({ basis: "exchange" })}
      />
      {offer === null && (
        <p class="soft">
          {whyNone(fields, { tableUntil, yard, today }, w)} {w.offer_by_hand}
        </p>
      )}
      {named || asked || offer === null ? (
        <>
          <Field
            id="promised-on"
            title={w.promised_day}
            fault={fault}
            hint={besides(fields, props.offer, w)}
            asks={earlierSaid(fields, props.offer, w)}
            value={fields.promised_on}
            onValue={(promised_on) => onFields({ promised_on })}
            input={{ ...testid("promised-on"), type: "date", min: first, max: last }}
          />
          {(named || offer !== null) && (
            <button
              type="button"
              class="button"
              onClick={() => {
                setAsked(false);
                onFields({ promised_on: "" });
              }}
              {...testid("promised-as-offered")}
            >
              {offer === null ? w.promised_leave_open : w.promised_as_standard(dayInWords(offer))}
            </button>
          )}
        </>
      ) : (
        <button
          type="button"
          class="button"
          onClick={() => setAsked(true)}
          {...testid("promised-another")}
        >
          {w.promised_name_day}
        </button>
      )}
    </fieldset>
  );
}

/** The promise as one sentence: the day, and where it comes from. */
export function promisedSaid(fields: WantedFields, offer: Offer, w: Words): string {
  const named = fields.promised_on;
  if (named !== "" && named !== offer.on) return w.promised_by_hand(dayInWords(named));
  if (offer.on === null) return w.promised_open;
  if (offer.basis === "forecast" && offer.confidence !== null)
    return w.promised_forecast(dayInWords(offer.on), odds(offer.confidence, w));
  return w.promised_standard(dayInWords(offer.on));
}

/** That a named day lies before the offered one; null where it does not. */
export function earlierSaid(fields: WantedFields, offer: Offer, w: Words): string | null {
  const { promised_on } = fields;
  if (offer.on === null || promised_on === "" || promised_on >= offer.on) return null;
  const said = offer.basis === "forecast" ? w.promised_earlier_forecast : w.promised_earlier;
  return said(dayInWords(offer.on));
}

function besides(fields: WantedFields, offer: Offer, w: Words): string {
  if (offer.on === null) return "";
  const beside = offer.basis === "forecast" ? w.promised_beside_forecast : w.promised_beside;
  const said = fields.promised_on === "" ? w.promised_until_named : beside;
  return said(dayInWords(offer.on));
}

function whyNone(
  fields: WantedFields,
  at: { tableUntil: string | null; yard: string; today: string },
  w: Words,
): string {
  if (at.tableUntil === null) return w.offer_not_here;
  if (at.tableUntil < at.today) return w.offer_too_old(dayInWords(at.tableUntil));
  return fields.back_to === "store" ? w.offer_none_store : w.offer_none_yard(at.yard);
}
