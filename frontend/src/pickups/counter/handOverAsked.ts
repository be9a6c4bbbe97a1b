/** What is asked before a casing that is odd is handed over at a counter, in words. */
import type { Snapshot } from "../../bridge/snapshot";
import { type Doubt, isGrave } from "../../domain/asked";
import { shown } from "../../domain/labels";
import type { Casing } from "../../domain/rows";
import { isRejected } from "../../domain/truck";
import type { Question, Said } from "../road/Verdict";
import { words } from "../words";
import { yardName } from "../yard/visits";
import type { Customer } from "./find";
import { whereIs } from "./story";
import { counterWords } from "./words";

/** A question, and the casing that it is about. */
export interface Asking extends Question {
  casing: string;
}

export const fail = (text: string): Said => ({ tone: "fault", text });

export const taken = (casing: Casing): Said => {
  const w = counterWords.value;
  return {
    tone: "good",
    text: w.hand_over_ticked(shown(casing.label)),
    caution: isRejected(casing) ? w.rejected_caution : null,
  };
};

/** `add` puts it onto the list all the same. */
export function askedAbout(
  at: { now: Snapshot; customer: Customer },
  casing: Casing,
  doubts: Doubt[],
  add: () => void,
): Asking {
  const w = counterWords.value;
  const name = shown(casing.label);
  const grave = isGrave(doubts);
  const stop = doubts.includes("other_customer") ? w.hand_over_stop : words.value.road_stop(name);
  return {
    casing: casing.id,
    title: grave ? stop : w.look_again(name),
    lines: doubts.flatMap((doubt) => why(at, doubt, casing)),
    grave,
    no: w.hand_over_aside,
    yes: w.hand_over_all_the_same,
    left: { tone: "again", text: `${name}: ${w.hand_over_aside}` },
    async onYes() {
      add();
      return taken(casing);
    },
  };
}

function why(at: { now: Snapshot; customer: Customer }, doubt: Doubt, casing: Casing): string[] {
  const w = counterWords.value;
  const all = words.value;
  const name = shown(casing.label);
  switch (doubt) {
    case "other_customer":
      return [
        w.hand_over_foreign(name, yardName(at.now, casing.yard), at.customer.name),
        w.hand_over_question,
      ];
    case "dealers":
      return [all.road_doubt_dealers];
    case "on_hold":
      return [all.road_doubt_on_hold];
    case "in_question":
      return [all.road_doubt_in_question];
    default:
      return [w.hand_over_not_ready(name, whereIs(at.now, casing))];
  }
}
