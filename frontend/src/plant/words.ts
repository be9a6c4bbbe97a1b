/** The floor's own words, in the language that is switched on. */
import { computed } from "@preact/signals";
import { spoken } from "../pickups/words";
import { stationName } from "./stations";
import { en } from "./words.en";
import { es } from "./words.es";

/** With what a station is called, where no route is at hand. */
export const floorWords = computed(() => ({
  ...(spoken.value === "es" ? es : en),
  station: (code: string) => stationName(code, null, spoken.value),
}));
