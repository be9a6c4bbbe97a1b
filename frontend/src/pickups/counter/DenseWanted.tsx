/** What is wanted, for a keyboard: all in sight in two rows, chosen by the first letter. */
import type { Specification } from "../../domain/eligibility";
import type { Line, Position } from "../../domain/operation";
import type { PromiseTable } from "../../domain/rows";
import { type Mate, daysToName, type WantedFields } from "../wanted/wanted";
import { BACKS, BASES, SHORT_MOST, WORKS } from "../wanted/wanted";
import { OfferSaid, StockSaid } from "../wanted/OfferSaid";
import { inStock, type Offer } from "../wanted/offer";
import { DualOf, earlierSaid, promisedSaid } from "../wanted/WantedFieldset";
import { testid } from "../testids";
import { words } from "../words";
import { Field } from "../../ui/Field";
import { Choose } from "./Choose";
import { isPromised } from "./entry";
import { counterWords } from "./words";

export function DenseWanted(props: {
  fields: WantedFields;
  line: Line;
  position: Position;
  /** What this customer accepts, with the tread and the brand that it wants. */
  spec: Specification | null;
  offer: Offer;
  /** As told so far. */
  size: string;
  /** The other casings of this visit. */
  duals: Mate[];
  table: PromiseTable | null;
  fault: string | null;
  today: string;
  onFields: (some: Partial<WantedFields>) => void;
}) {
  const { fields, offer, onFields } = props;
  const w = counterWords.value;
  const all = words.value;
  const { first, last } = daysToName(props.today);
  const due = isPromised(props.line);
  const treaded = due && fields.work === "retread";
  const design = designBy(props.spec, props.position);
  const short = { maxLength: SHORT_MOST, spellcheck: false };
  return (
    <fieldset class="dense">
      <legend class="hidden">{all.wanted_title}</legend>
      <div class="four">
        {props.line === "wheel_tire" && (
          <Choose
            id="work"
            title={all.work}
            values={WORKS}
            names={all.works}
            value={fields.work}
            onValue={(work) => onFields({ work })}
          />
        )}
        {due && (
          <Choose
            id="basis"
            title={all.basis}
            values={BASES}
            names={all.bases}
            value={fields.basis}
            onValue={(basis) => onFields({ basis })}
          />
        )}
        {due && (
          <Field
            id="tread-design"
            title={all.tread_design}
            hint={design === "" ? "" : w.design_by_spec(design)}
            value={treaded ? fields.tread_design : ""}
            onValue={(tread_design) => onFields({ tread_design })}
            input={{ ...testid("tread-design"), ...short, disabled: !treaded }}
          />
        )}
        <Field
          id="purchase-order"
          title={all.purchase_order}
          value={fields.purchase_order}
          onValue={(purchase_order) => onFields({ purchase_order })}
          input={{ ...testid("purchase-order"), ...short }}
        />
        {due && (
          <Field
            id="fleet-brand"
            title={w.fleet_brand}
            hint={props.spec?.fleet_brand ? w.brand_by_spec(props.spec.fleet_brand) : ""}
            value={treaded ? fields.fleet_brand : ""}
            onValue={(fleet_brand) => onFields({ fleet_brand })}
            input={{ ...testid("fleet-brand"), ...short, disabled: !treaded }}
          />
        )}
        {props.line !== "sell" && (
          <Choose
            id="back-to"
            title={all.back_to}
            values={BACKS}
            names={all.backs}
            value={fields.back_to}
            onValue={(back_to) => onFields({ back_to })}
          />
        )}
        {due && (
          <Field
            id="promised-on"
            title={w.another_day}
            fault={props.fault}
            asks={earlierSaid(fields, offer, all)}
            value={fields.promised_on}
            onValue={(promised_on) => onFields({ promised_on })}
            input={{ ...testid("promised-on"), type: "date", min: first, max: last }}
          />
        )}
        {due && (
          <DualOf
            fields={fields}
            duals={props.duals}
            on={fields.promised_on || offer.on}
            onFields={onFields}
          />
        )}
        <p class="promised" role="status" {...testid("promised")}>
          <b>{!due ? w.no_promise : props.fault === null && promisedSaid(fields, offer, all)}</b>
        </p>
        {due && <OfferSaid offer={offer} backTo={fields.back_to} />}
        {due && (
          <StockSaid
            like={inStock(props.table, fields, props.size)}
            onExchange={() => onFields({ basis: "exchange" })}
          />
        )}
      </div>
    </fieldset>
  );
}

const designBy = (spec: Specification | null, position: Position): string =>
  position === "" || position === "bus_front" ? "" : (spec?.designs[position] ?? "");
