/**
 * Where an offered day comes from, in plain words: what waits at the plant, the truck that brings
 * it, by when half and nearly all are back on demand; that a forecast has ended; and what lies
 * finished in the dealer's own stock.
 */
import type { Ahead } from "../../domain/operation";
import { STORE } from "../../domain/promise";
import { testid } from "../testids";
import { dayInWords, spoken, when, words } from "../words";
import type { Words } from "../words.en";
import type { Offer } from "./offer";

/** How many of how many: "9 of 10". */
export const odds = (percent: number, w: Words): string =>
  percent % 10 === 0 ? w.odds(percent / 10, 10) : w.odds(percent, 100);

/** Why that day: what waits, and the truck. */
export function whyOffered(offer: Offer, backTo: string, w: Words): string {
  const [most] = offer.ahead;
  const waits = most === undefined ? "" : w.offer_ahead(most.count, stationOf(most));
  const on = dayInWords(offer.on ?? "");
  const truck = backTo === STORE ? w.offer_truck_store(on) : w.offer_truck(on);
  return [waits, truck].filter((said) => said !== "").join("; ");
}

const stationOf = (ahead: Ahead): string => (spoken.value === "es" ? ahead.name_es : ahead.name);

export function OfferSaid(props: { offer: Offer; backTo: string }) {
  const { offer, backTo } = props;
  const w = words.value;
  if (offer.ended !== null)
    return (
      <p class="asks" {...testid("offer-ended")}>
        {w.offer_ended(when(offer.ended))}
      </p>
    );
  if (offer.basis !== "forecast" || offer.on === null || offer.forecast_at === null) return null;
  return (
    <>
      <p class="soft" {...testid("offer-why")}>
        {whyOffered(offer, backTo, w)}. {w.offer_made(when(offer.forecast_at))}
      </p>
      {offer.half !== null && offer.nearly !== null && (
        <details class="spread" {...testid("offer-spread")}>
          <summary>{w.offer_spread}</summary>
          <p>
            {w.offer_spread_said(dayInWords(offer.half), dayInWords(offer.nearly))}{" "}
            {w.offer_rejected}
          </p>
        </details>
      )}
    </>
  );
}

/** One of the dealer's own, finished, in its stead. */
export function StockSaid(props: {
  like: { size: string; tread_design: string; count: number } | null;
  onExchange: () => void;
}) {
  const { like } = props;
  const w = words.value;
  if (like === null) return null;
  return (
    <div class="row" {...testid("in-stock")}>
      <span>{w.in_stock(like.count, `${like.size}, ${like.tread_design}`)}</span>
      <button type="button" class="button" onClick={props.onExchange} {...testid("exchange")}>
        {w.in_stock_offer}
      </button>
    </div>
  );
}
