/** The shape beside an answer's word: told apart without colour, at arm's length. */
import type { Outcome } from "../domain/plantTelling";

const PATHS: Record<string, string> = {
  // A tick; a patch with its stitches; eight corners with a bar; two bars; a turned arrow.
  passed: "M4 17 L13 26 L28 6",
  repair: "M5 11 L11 5 L27 21 L21 27 Z M13 11 l3 3 M17 15 l3 3",
  rejected: "M10 3 H22 L29 10 V22 L22 29 H10 L3 22 V10 Z M9 16 H23",
  hold: "M11 5 V27 M21 5 V27",
  released: "M6 16 H26 M18 8 L26 16 L18 24",
  received: "M16 4 V20 M8 13 L16 21 L24 13 M5 27 H27",
  finished: "M4 17 L13 26 L28 6 M4 6 H14",
  shipped: "M16 28 V12 M8 19 L16 11 L24 19 M5 5 H27",
  withdrawn: "M12 6 L5 13 L12 20 M5 13 H20 a7 7 0 0 1 0 14 H12",
};

export const Sign = ({ of }: { of: Outcome }) => (
  <svg class="answer-sign" viewBox="0 0 32 32" aria-hidden="true" focusable="false">
    <path d={PATHS[of] ?? ""} />
  </svg>
);
