/** A stop in words: where it is, when, and what is to be dropped and fetched there. */
import type { Snapshot } from "../../bridge/snapshot";
import type { Run, Stop } from "../../domain/rows";
import type { RunNow, StopNow } from "../../domain/run";
import { dayInWords, spoken, words } from "../words";
import { yardName } from "../yard/visits";
import { siteName } from "./road";

export const placeName = (now: Snapshot, stop: Stop): string =>
  stop.site !== null ? siteName(now, stop.site) : yardName(now, stop.yard);

/** A time as the sheet writes it: 08:00. */
function at(time: string): Date {
  const [hour = 0, minute = 0] = time.split(":").map(Number);
  return new Date(2000, 0, 1, hour, minute);
}

export function windowSaid({ from, to }: Stop): string | null {
  const w = words.value;
  const clock = new Intl.DateTimeFormat(spoken.value, { hour: "numeric", minute: "2-digit" });
  if (from !== null && to !== null) return clock.formatRange(at(from), at(to));
  if (from !== null) return w.road_from(clock.format(at(from)));
  return to === null ? null : w.road_until(clock.format(at(to)));
}

/** Of a window that was missed: that it ended, or that the truck came after it. */
export function missedSaid({ stop }: StopNow): string {
  const w = words.value;
  const clock = new Intl.DateTimeFormat(spoken.value, { hour: "numeric", minute: "2-digit" });
  const to = clock.format(at(stop.to ?? ""));
  return stop.arrived_at === null ? w.day_window_over(to) : w.day_came_late(to);
}

/** Of a stop that a driver has added: that no sheet named it, and why it was made. */
export function addedSaid({ why_added }: Stop): string | null {
  if (why_added === null) return null;
  const w = words.value;
  return why_added === "" ? w.day_added : w.day_added_why(why_added);
}

function skipSaid({ skipped }: Stop): string {
  const w = words.value;
  if (skipped === null) return "";
  const why = w.day_skip_whys[skipped.why] ?? skipped.why;
  return skipped.note === "" ? why : `${why}, ${skipped.note}`;
}

/** What is to be dropped there: rejected ones are said apart, and after loading what is missing. */
export function dropSaid({ left, rejected, aboard }: StopNow, loaded: boolean): string | null {
  const w = words.value;
  if (left === 0) return null;
  const said = rejected > 0 ? w.road_drop_rejected(left, rejected) : w.road_drop(left);
  return loaded && aboard < left ? `${said}, ${w.road_not_aboard(left - aboard)}` : said;
}

export function fetchSaid({ fetch, stop, drops }: StopNow): string | null {
  const w = words.value;
  if (fetch !== null && fetch > 0) return w.road_fetch(fetch);
  return stop.yard !== null && fetch === null && drops.length === 0 ? w.road_fetch_look : null;
}

/** How a stop ended, or null for one that is still to come. */
export function endSaid(now: StopNow): { text: string; good: boolean } | null {
  const w = words.value;
  const { state, left, aboard, stop } = now;
  if (state === "passed") {
    const stays = aboard > 0 ? [w.day_stays_aboard(aboard)] : [];
    return { text: [w.day_skipped(skipSaid(stop)), ...stays].join(" · "), good: false };
  }
  if (state !== "done") return null;
  if (left > 0) return { text: w.road_done_but(left), good: false };
  return { text: w.road_done, good: true };
}

/** The one action that a stop needs now. */
export function needSaid({ need, left, aboard, fetch }: StopNow): string {
  const w = words.value;
  switch (need) {
    case "deliver":
      return w.road_deliver_do(aboard > 0 ? aboard : left);
    case "fetch":
      return fetch === null ? w.road_fetch_do_some : w.road_fetch_do(fetch);
    case "unload":
      return w.road_unload_do;
    case "load":
      return w.road_load_do;
    case "none":
      return "";
  }
}

export function runSaid({ run, stops }: RunNow, today: string): { title: string; sum: string } {
  const w = words.value;
  const over = stops.filter((stop) => stop.state === "done" || stop.state === "passed").length;
  const day = run.on === today ? w.road_run_today : w.road_run_on(dayInWords(run.on));
  return { title: titleOf(run, day), sum: w.road_stops_done(over, stops.length) };
}

const titleOf = ({ kind, vehicle }: Run, day: string): string =>
  [kind === "transfer" ? words.value.road_transfer(day) : day, vehicle].filter(Boolean).join(" · ");
