/** Why a scan is asked about, in words; and what to do with the casing meanwhile. */
import type { Snapshot } from "../../bridge/snapshot";
import { type Asked, type Doubt, isGrave } from "../../domain/asked";
import { shown } from "../../domain/labels";
import type { Casing } from "../../domain/rows";
import { isRejected } from "../../domain/truck";
import { reasonInWords } from "../said";
import { words } from "../words";
import { yardName } from "../yard/visits";
import { siteName } from "./road";
import type { Question, Said } from "./Verdict";

/** Where somebody has a casing, as far as this phone knows. */
export function placeSaid(now: Snapshot, holder: string): string {
  const w = words.value;
  const [kind = "", id = ""] = holder.split(":");
  if (kind === "site" || kind === "plant") return w.road_at(siteName(now, id));
  if (kind === "road") return w.road_shipped_from(siteName(now, id));
  if (kind === "customer") return w.road_with_owner;
  if (kind !== "person") return w.road_nobody_knows;
  if (id === now.person) return w.road_on_yours;
  return w.road_on_truck_of(now.people.find((one) => one.id === id)?.name ?? "?");
}

/** What the other customer's casing is: whose, and from where. */
const whose = (now: Snapshot, casing: Casing): string => yardName(now, casing.yard);

function said(doubt: Doubt, now: Snapshot, casing: Casing | null, yard: string): string {
  const w = words.value;
  if (casing === null) return w.road_doubt_unknown;
  switch (doubt) {
    case "other_customer":
      return w.road_doubt_other_customer(whose(now, casing), yard);
    case "dealers":
      return w.road_doubt_dealers;
    case "on_hold":
      return w.road_doubt_on_hold;
    case "in_question":
      return w.road_doubt_in_question;
    case "back_with_owner":
      return w.road_doubt_back(whose(now, casing));
    case "unknown":
      return w.road_doubt_unknown;
    case "not_on_sheet":
      return w.road_doubt_not_on_sheet(whose(now, casing));
    case "later_stop":
      return w.road_doubt_later_stop(whose(now, casing));
    case "other_yard":
      return w.road_doubt_other_yard(whose(now, casing));
    case "unfinished":
      return w.road_doubt_unfinished(w.stages[casing.progress] ?? casing.progress);
    case "elsewhere":
      return w.road_doubt_elsewhere(placeSaid(now, casing.holder));
  }
}

/** The question about a scan; `yard` is the name of the one that it is handed over at. */
export function questionOf(
  now: Snapshot,
  label: string,
  asked: Asked,
  words_: { no: string; yes: string; left: string; yard?: string },
  onYes: () => Promise<Said>,
): Question {
  const w = words.value;
  const { casing, doubts } = asked;
  const grave = isGrave(doubts);
  return {
    title: grave ? w.road_stop(shown(label)) : w.road_look_again(shown(label)),
    lines: doubts.map((doubt) => said(doubt, now, casing, words_.yard ?? "")),
    grave,
    no: words_.no,
    yes: words_.yes,
    left: { tone: "again", text: `${shown(label)}: ${words_.left}` },
    onYes,
  };
}

export const cautionOf = (casing: Casing | null): string | null =>
  casing !== null && isRejected(casing)
    ? [words.value.road_rejected, casing.reason && reasonInWords(casing.reason)]
        .filter(Boolean)
        .join(" – ")
    : null;
