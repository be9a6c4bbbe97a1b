/** How many more wrong PINs there may be, once they are few. */
import { triesLeft } from "../../domain/pin";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";

export function TriesLeft() {
  const left = triesLeft(usePhone().now.value.wrongPins);
  if (left === null) return null;
  return (
    <p class="caution" role="alert" {...testid("pin-left")}>
      {words.value.lock_left(left)}
    </p>
  );
}
