/** The whole list of what waits for its owners. */
import { go } from "../route";
import { words } from "../words";
import { Waiting } from "./Waiting";
import { counterWords } from "./words";

export function WaitingScreen() {
  return (
    <div class="page stack">
      <button type="button" class="button plain back" onClick={() => go()}>
        ‹ {words.value.back}
      </button>
      <h1 tabIndex={-1}>{counterWords.value.waiting}</h1>
      <Waiting most={Number.POSITIVE_INFINITY} title={false} />
    </div>
  );
}
