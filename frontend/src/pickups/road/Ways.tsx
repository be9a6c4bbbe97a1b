/**
 * How to get to a yard and whom to call there: links that a phone hands to its own map and dialler.
 * Where nothing answers them, as at a desk, the address and the number stand beside, to be copied.
 */
import { useState } from "preact/hooks";
import type { Yard } from "../../domain/rows";
import { geoUri, telUri } from "../../domain/ways";
import { usePhone } from "../context";
import { testid } from "../testids";
import { words } from "../words";

const yardOf = (yards: Yard[], id: string): Yard | undefined => yards.find((one) => one.id === id);

/** The two links alone, for a list where the place stands already. */
export function WayLinks({ yard: id }: { yard: string }) {
  const yard = yardOf(usePhone().now.value.yards, id);
  const w = words.value;
  if (yard === undefined) return null;
  const { contact_name: name = "", contact_phone: phone = "" } = yard;
  const [way, call] = [geoUri(yard), telUri(phone)];
  if (way === null && call === null) return null;
  return (
    <p class="ways">
      {way !== null && (
        <a class="button" href={way} {...testid("way-there")}>
          {w.day_way}
        </a>
      )}
      {call !== null && (
        <a class="button" href={call} {...testid("call")}>
          {name === "" ? w.day_call_gate : w.day_call(name)}
        </a>
      )}
    </p>
  );
}

export function Ways({ yard: id }: { yard: string }) {
  const yard = yardOf(usePhone().now.value.yards, id);
  const w = words.value;
  const [copied, setCopied] = useState(false);
  if (yard === undefined) return null;
  const { address, contact_name: name, contact_phone: phone } = yard;

  async function copy() {
    try {
      await navigator.clipboard.writeText(address);
      setCopied(true);
    } catch {
      // Not allowed here: the whole address is marked, ready for the hand's own way to copy.
      const at = document.getElementById("address");
      if (at !== null) getSelection()?.selectAllChildren(at);
    }
  }

  return (
    <section class="stack" {...testid("ways")}>
      {address === "" ? (
        <p class="soft">{w.day_no_address}</p>
      ) : (
        <p id="address" class="address">
          {address}
        </p>
      )}
      <WayLinks yard={id} />
      {phone && <p class="soft">{[name, phone].filter(Boolean).join(" · ")}</p>}
      {address !== "" && (
        <button type="button" class="button plain" onClick={() => void copy()} {...testid("copy")}>
          <span aria-live="polite">{copied ? w.day_copied : w.day_copy}</span>
        </button>
      )}
    </section>
  );
}
