/**
 * The line at the bottom, always: what waits to be sent and since when, what needs the driver,
 * and whether it is the signal, the server or this phone that keeps it waiting.
 */
import { newVersion, takeNewVersion } from "../bridge/worker";
import { usePhone } from "./context";
import { go, route } from "./route";
import { testid } from "./testids";
import { when, words } from "./words";

export function StatusLine() {
  const phone = usePhone();
  const w = words.value;
  const { waiting, photos, needsYou, enrolment } = phone.now.value;
  const reach = phone.reach.value;
  const shut = { device_revoked: w.revoked, device_closing: w.closing } as Record<string, string>;
  return (
    <footer class="status" data-reach={reach} {...testid("status-line")}>
      <NewVersion />
      {shut[reach] && <p class="fault">{shut[reach]}</p>}
      {reach === "device_unknown" && (
        <p class="row">
          <span class="fault">{w.unknown_device}</span>
          <button type="button" class="button" onClick={() => go("enrol")}>
            {w.unknown_device_do}
          </button>
        </p>
      )}
      {needsYou.length > 0 && (
        <button type="button" class="line" onClick={() => go("needs")} {...testid("needs-you")}>
          <span class="fault">{w.needs_you_count(needsYou.length)}</span>
          <span class="go">{w.needs_look}</span>
        </button>
      )}
      <p role="status" class="waits">
        {waiting > 0 ? <Waiting /> : <span {...testid("waiting")}>{nothing()}</span>}
        {photos > 0 && (
          <span {...testid("photos-waiting")}>
            {" · "}
            {w.photos_waiting(photos)}
          </span>
        )}
        {enrolment !== null && why(reach, phone.sending.value && waiting + photos > 0)}
      </p>
    </footer>
  );

  function nothing() {
    const sure = phone.now.value.heard;
    return (
      <>
        <span class="hidden">0 {w.waiting_to_send}. </span>
        {sure && photos === 0 && needsYou.length === 0 ? w.all_recorded : w.nothing_waits}
      </>
    );
  }
}

function Waiting() {
  const { waiting, waitingSince } = usePhone().now.value;
  return (
    <span class="counts" {...testid("waiting")}>
      <b>{waiting}</b> {words.value.waiting_since(when(waitingSince ?? 0))}
    </span>
  );
}

function why(reach: string, sending: boolean): string {
  const w = words.value;
  const said: Record<string, string> = {
    no_signal: w.no_signal,
    server_away: w.server_away,
    broken: w.server_away,
    malformed: w.server_away,
  };
  if (said[reach] !== undefined) return ` · ${said[reach]}`;
  return sending ? ` · ${w.sending}` : "";
}

function NewVersion() {
  const phone = usePhone();
  const w = words.value;
  if (!newVersion.value) return null;
  const { drafts } = phone.now.value;
  const busy = drafts.length > 0 || route.value[0] === "pickup";
  return (
    <p class="row">
      <span>{w.new_version}</span>
      <button
        type="button"
        class="button"
        disabled={busy}
        onClick={takeNewVersion}
        {...testid("new-version")}
      >
        {busy ? w.new_version_later : w.new_version_do}
      </button>
    </p>
  );
}
