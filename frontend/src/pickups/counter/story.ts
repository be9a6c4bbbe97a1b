/** A casing in sentences: where it is now, and how it came there, as far as this device knows. */
import type { Snapshot } from "../../bridge/snapshot";
import { dayOf } from "../../domain/promise";
import type { Promised } from "../../domain/operation";
import { type Casing, dueOn } from "../../domain/rows";
import { isRejected, wayOf } from "../../domain/truck";
import { odds } from "../wanted/OfferSaid";
import { wantedOf, wantedSaid } from "../wanted/wanted";
import { reasonInWords, stationInWords } from "../said";
import { dayInWords, when, words } from "../words";
import { yardName } from "../yard/visits";
import { isPromised } from "./entry";
import { lineOf } from "./kinds";
import { whatItIs } from "./whatItIs";
import { storeOf } from "./visits";
import { counterWords, dayInFull } from "./words";

const siteName = (now: Snapshot, id: string): string =>
  now.sites.find((site) => site.id === id)?.name ??
  (now.enrolment?.site === id ? now.enrolment.site_name : "?");

/** Where it is now: one sentence. */
export function whereIs(now: Snapshot, casing: Casing): string {
  const w = counterWords.value;
  const [kind = "", id = ""] = casing.holder.split(":");
  const home = wayOf(casing) === "out";
  if (casing.progress === "returned" || kind === "customer") return w.with_owner;
  switch (kind) {
    case "site":
      if (id !== storeOf(now)) return w.at_site(siteName(now, id));
      if (!home) return w.here_waits;
      return isRejected(casing) ? w.here_rejected : w.here_ready;
    case "plant":
      return casing.station === ""
        ? w.at_plant(siteName(now, id))
        : w.at_station(siteName(now, id), stationInWords(casing.station));
    case "road":
      return w.on_road(siteName(now, id));
    case "person": {
      const name = now.people.find((one) => one.id === id)?.name ?? w.receive_nobody;
      return home ? w.on_truck_home(name) : w.on_truck(name);
    }
    default:
      return w.nobody_knows;
  }
}

/** What happened to it, in order, a sentence each. */
export function story(now: Snapshot, casing: Casing): string[] {
  const w = counterWords.value;
  const where =
    casing.store === null
      ? w.story_yard(yardName(now, casing.yard))
      : w.story_counter(siteName(now, casing.store));
  const rejected = isRejected(casing);
  const progress =
    casing.progress === "shipped" && rejected
      ? w.story_shipped_rejected
      : (w.story_progress[casing.progress] ?? casing.progress);
  return [
    w.story_taken(when(casing.picked_up_at), where),
    ...whatItIs(casing, dayOf(Date.parse(casing.picked_up_at))),
    casing.work !== "" && isPromised(lineOf(casing))
      ? w.story_wanted(wantedSaid(wantedOf(casing), words.value))
      : "",
    progress,
    rejected && casing.reason !== "" ? w.rejected_why(reasonInWords(casing.reason)) : "",
    casing.on_hold ? w.on_hold : "",
    casing.standing === "in_question" ? w.in_question : "",
    casing.standing === "waiting" ? w.story_waiting : "",
  ].filter((sentence) => sentence !== "");
}

/** What was promised for it; and that the day is past, where it is not back. */
export function promiseSaid(casing: Casing, clockMs: number): { text: string; past: boolean } {
  const w = counterWords.value;
  const { promised } = casing;
  const instead = w.instead[lineOf(casing)];
  if (instead !== undefined)
    return { text: `${instead.slice(0, 1).toUpperCase()}${instead.slice(1)}.`, past: false };
  if (promised === null) return { text: w.promise_none, past: false };
  const { stands } = casing;
  const anew = stands !== null && stands.on !== promised.on;
  const text = anew
    ? w.promise_anew(dayInFull(stands.on), dayInFull(promised.on))
    : basisSaid(promised);
  const past = casing.progress !== "returned" && (anew ? stands : promised).on < dayOf(clockMs);
  return { text, past };
}

/** The day, and on what basis it was promised. */
export function basisSaid({ on, basis, confidence }: Promised): string {
  const w = counterWords.value;
  if (basis === "by_hand") return w.promise_by_hand(dayInFull(on));
  if (basis === "forecast" && confidence !== null)
    return w.promise_forecast(dayInFull(on), odds(confidence, words.value));
  return w.promise_standard(dayInFull(on));
}

/** Its promise and where it is, short: for a line of a list. */
export function inShort(now: Snapshot, casing: Casing): string {
  const w = counterWords.value;
  const said = [whereIs(now, casing)];
  if (isRejected(casing)) {
    if (casing.reason !== "") said.push(`${w.rejected_why(reasonInWords(casing.reason))}.`);
  } else if (casing.promised !== null) {
    const [on, first] = [dueOn(casing) ?? "", casing.promised.on];
    said.push(
      on === first
        ? w.promised_sentence(dayInWords(on))
        : w.promise_anew(dayInWords(on), dayInWords(first)),
    );
  }
  return said.join(" ");
}
