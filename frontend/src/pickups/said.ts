/** What reasons of rejection and stations are called, as the server's catalogue has it. */
import said from "./said.json";
import { spoken } from "./words";

type Catalogue = Record<string, { en: string; es: string }>;

/** Why it was rejected; a code that is newer than this app as it can be read. */
export const reasonInWords = (code: string): string =>
  (said.reasons as Catalogue)[code]?.[spoken.value] ?? code.replaceAll("_", " ").toLowerCase();

export const stationInWords = (code: string): string =>
  (said.stations as Catalogue)[code]?.[spoken.value] ?? code.replaceAll("-", " ");
