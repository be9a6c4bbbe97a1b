/** Planted: breaks one law of the house on purpose, never built. */
import "../bridge/x";
import "@preact/signals";
export const x = 1;
