/**
 * The line at the bottom, always: what waits to be sent and since when, what needs the driver,
 * and whether it is the signal, the server or this phone that keeps it waiting.
 */
import { useRef } from "preact/hooks";
import { inUse } from "../domain/inUse";
import { stillSaid, type Warning } from "../domain/warned";
import { newVersion, takeNewVersion } from "../bridge/worker";
import { useRoom } from "../ui/Bar";
import { usePhone } from "./context";
import { OnTruck } from "./road/TruckScreen";
import { go, route } from "./route";
import { testid } from "./testids";
import { nothingSaid, shutSaid } from "./statusWords";
import { when, words } from "./words";

export function StatusLine() {
  const phone = usePhone();
  const w = words.value;
  const { waiting, photos, needsYou, enrolment, heard, locked } = phone.now.value;
  const reach = phone.reach.value;
  const line = useRef<HTMLElement>(null);
  useRoom(line, "--status");
  return (
    <footer ref={line} class="status" data-reach={reach} {...testid("status-line")}>
      <NewVersion />
      <Tight />
      <Shut />
      {needsYou.length > 0 && (
        <button type="button" class="line" onClick={() => go("needs")} {...testid("needs-you")}>
          <span class="fault">{w.needs_you_count(needsYou.length)}</span>
          <span class="go">{w.needs_look}</span>
        </button>
      )}
      <div class="row foot">
        <p role="status" class="waits">
          {waiting > 0 ? (
            <Waiting />
          ) : (
            <span {...testid("waiting")}>
              <span class="hidden">0 {w.waiting_to_send}. </span>
              {nothingSaid({ heard, photos, needsYou: needsYou.length, reach }, w)}
            </span>
          )}
          {photos > 0 && (
            <span {...testid("photos-waiting")}>
              {" · "}
              {w.photos_waiting(photos)}
            </span>
          )}
          {enrolment !== null && why(reach, phone.sending.value && waiting + photos > 0)}
        </p>
        {locked === "open" && <OnTruck />}
        {route.value[0] !== "device" && (
          <button
            type="button"
            class="this-device"
            aria-label={w.device_open}
            title={w.device_open}
            onClick={() => go("device")}
            {...testid("device-open")}
          >
            <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
              <rect x="6" y="2" width="12" height="20" rx="2" />
              <path d="M10 18.5h4" />
            </svg>
          </button>
        )}
      </div>
    </footer>
  );
}

/** Each warning on a line of its own: none stands in for another. */
export function TightSaid({ said }: { said: Warning[] }) {
  const w = words.value;
  const names = {
    smaller: w.tight_smaller,
    later: w.tight_later,
    without_photos: w.tight_without_photos,
  };
  return (
    <>
      {said.map((one) => (
        <p key={one} class={one === "without_photos" ? "fault" : "caution"}>
          {names[one]}
        </p>
      ))}
    </>
  );
}

/** There was no room for all of it: what came of that, and where to see the room. */
function Tight() {
  const { tight, now } = usePhone();
  const w = words.value;
  const { unsaved, leftOut } = now.value;
  const said = stillSaid(tight.value, leftOut);
  // The device's own screen says the same, where the room is seen.
  if ((said.length === 0 && !unsaved) || route.value[0] === "device") return null;
  return (
    <div class="row shut" role="alert">
      <div {...testid("tight")}>
        {/* A sheet that is not kept is the gravest, and stays said until it is. */}
        {unsaved && <p class="fault">{w.tight_sheet}</p>}
        <TightSaid said={said} />
      </div>
      <button type="button" class="button" onClick={() => go("device")} {...testid("tight-look")}>
        {w.tight_room}
      </button>
    </div>
  );
}

/** The office lets this phone no further: why, and the one way on. */
function Shut() {
  const w = words.value;
  const { shut, waiting, photos, needsYou } = usePhone().now.value;
  if (shut === null) return null;
  const left = waiting + photos + needsYou.length;
  const { text, good } = shutSaid(shut, left, w);
  return (
    <p class="row shut">
      <span class={good ? "good" : "fault"} {...testid("shut")}>
        {text}
      </span>
      {route.value[0] !== "enrol" && (
        <button
          type="button"
          class="button next"
          onClick={() => go("enrol")}
          {...testid("enrol-again")}
        >
          {w.enrol_again}
        </button>
      )}
    </p>
  );
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
  const { drafts, unsaved } = phone.now.value;
  const busy = unsaved || inUse(drafts, phone.deps.clock.now()) || route.value[0] === "pickup";
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
