/** The floor's own words, in the language that is switched on. */
import { computed } from "@preact/signals";
import { spoken } from "../pickups/words";
import { en } from "./words.en";
import { es } from "./words.es";

export const floorWords = computed(() => (spoken.value === "es" ? es : en));
