/** What a casing was when it came, in sentences: what was read off it, seen on it, offered for it. */
import type { Casing } from "../../domain/rows";
import { findingSaid } from "../seen/findings";
import { seenOf } from "../seen/seen";
import { decimal, money, words } from "../words";
import { ranSaid } from "../yard/ran";
import { sidewallSaid } from "../yard/sizeText";
import { depthsSaid } from "../yard/treads";
import { tinShort } from "../yard/tinWords";
import { lineOf } from "./kinds";
import { counterWords } from "./words";

/** `since` is the day that ages are counted to: the one on which it came. */
export function whatItIs(casing: Casing, since: string): string[] {
  const w = counterWords.value;
  const all = words.value;
  const line = lineOf(casing);
  const sidewall = sidewallSaid(casing);
  const treads = depthsSaid(casing.treads_32nds);
  const position = casing.position === "" ? "" : (all.positions[casing.position as "steer"] ?? "");
  const ran = [position, ranSaid(seenOf(casing), casing.unit, all)].filter(Boolean).join(" · ");
  const seen = casing.findings.map((one) => findingSaid(one, all, decimal)).join("; ");
  return [
    line === "retread" || line === "repair" ? "" : w.story_kind(all.lines[line]),
    sidewall === "" ? "" : w.story_sidewall(sidewall),
    ...casing.tins.map(({ tin, made }) =>
      (made === "retread" ? w.story_tin_retread : w.story_tin)(tinShort(tin, since, all)),
    ),
    treads === "" ? "" : w.story_treads(treads),
    ran === "" ? "" : w.story_ran(ran),
    seen === "" ? "" : w.story_seen(seen),
    ...checkSaid(casing),
    ...saleSaid(casing),
    casing.complaint === "" ? "" : w.story_complaint(casing.complaint.replace(/\.$/, "")),
    casing.rim === ""
      ? ""
      : w.story_rim((all.rims[casing.rim as "steel"] ?? casing.rim).toLowerCase()),
  ].filter((sentence) => sentence !== "");
}

/** As it was shown when it was taken, and why a person did otherwise. */
function checkSaid({ check }: Casing): string[] {
  if (check === null) return [];
  const w = counterWords.value;
  const all = words.value;
  const because = check.because.map((rule) => all.because[rule as "too_old"] ?? rule).join(", ");
  const verdict = { take: all.spec_take, plant: all.spec_plant, leave: all.spec_leave }[
    check.verdict
  ];
  return [
    w.story_check(verdict.toLowerCase(), because),
    check.number === null ? "" : w.story_check_by(check.number),
    check.overruled === "" ? "" : `${all.spec_overruled(check.overruled.replace(/\.$/, ""))}.`,
  ];
}

function saleSaid({ sale }: Casing): string[] {
  if (sale === null) return [];
  const w = counterWords.value;
  const told = sale.cents === null ? "" : money(sale.cents);
  const price = told !== "" && sale.pays === "credit" ? w.story_credit(told) : told;
  return [
    sale.grade === "" && price === "" ? "" : w.story_sale(w.story_offer(sale.grade, price)),
    sale.cents === null ? w.story_sale_open : "",
  ];
}
