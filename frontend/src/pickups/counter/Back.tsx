/** The way back to the counter's first page. */
import { go } from "../route";
import { testid } from "../testids";
import { words } from "../words";

export function Back({ to = [] }: { to?: string[] }) {
  return (
    <button
      type="button"
      class="button plain back"
      onClick={() => go(...to)}
      {...testid("counter-back")}
    >
      ‹ {words.value.back}
    </button>
  );
}
