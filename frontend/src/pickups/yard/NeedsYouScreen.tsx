/** What the server could not take: kept here, in words, with the way to try again. */
import type { NeedsYou } from "../../bridge/snapshot";
import { shown } from "../../domain/labels";
import { usePhone } from "../context";
import { go } from "../route";
import { testid } from "../testids";
import { when, words } from "../words";

export function NeedsYouScreen() {
  const phone = usePhone();
  const w = words.value;
  const { needsYou } = phone.now.value;
  return (
    <div class="page stack">
      <button type="button" class="button plain back" onClick={() => go()}>
        ‹ {w.back}
      </button>
      <h1 tabIndex={-1}>{w.needs_title}</h1>
      {needsYou.length === 0 ? <p>{w.nothing_waits}</p> : <p>{w.needs_say}</p>}
      <ul class="lines">
        {needsYou.map((one) => (
          <li key={one.id} class="needs">
            <p>
              <b>{about(one)}</b>, {when(one.at)}
              {one.field !== null && (
                <>
                  <br />
                  {w.needs_field(one.field, one.value ?? "", one.allowed ?? "")}
                </>
              )}
            </p>
            <button
              type="button"
              class="button"
              onClick={() => void phone.again(one.id)}
              {...testid(`again-${one.id}`)}
            >
              {w.try_again}
            </button>
          </li>
        ))}
      </ul>
      <button type="button" class="button" onClick={() => go("device")} {...testid("needs-device")}>
        {w.device_open}
      </button>
    </div>
  );
}

function about(one: NeedsYou): string {
  const w = words.value;
  if (one.label !== null) return w.needs_casing(shown(one.label));
  return /^[0-9a-f]{64}$/.test(one.id) ? w.needs_photo : w.needs_other;
}
