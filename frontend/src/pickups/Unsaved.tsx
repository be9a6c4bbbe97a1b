/** Said where this device could not keep what was entered: it stands, and can be tried again. */
import { words } from "./words";

export function Unsaved({ when }: { when: boolean }) {
  return when ? (
    <p class="fault" role="alert">
      {words.value.save_failed}
    </p>
  ) : null;
}
