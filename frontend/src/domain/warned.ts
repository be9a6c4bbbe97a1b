/**
 * How an entry's photos came through on a device that is nearly full, and what stays to be said of
 * it. A warning never takes another's place: that photos are lost stays said until somebody looked.
 * Pure.
 */

/**
 * As they were, made smaller, left with the sheet to be sent when there is room, or not at all.
 */
export type Came = "whole" | "smaller" | "later" | "without_photos";
export type Warning = Exclude<Came, "whole">;

/** The gravest first. */
const GRAVEST: Warning[] = ["without_photos", "later", "smaller"];

/** What is to be said once the next one came; that photos are smaller is said of the last one. */
export function warned(said: readonly Warning[], came: Came): Warning[] {
  const stays = said.filter((one) => one !== "smaller" || came !== "whole");
  return GRAVEST.filter((one) => one === came || stays.includes(one));
}

/** What still holds: photos that were left behind are told of as long as they are. */
export const stillSaid = (said: readonly Warning[], leftOut: number): Warning[] =>
  GRAVEST.filter((one) => (one === "later" ? leftOut > 0 : said.includes(one)));
