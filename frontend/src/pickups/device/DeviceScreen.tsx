/**
 * This device itself: what waits on it, the room it has, whether the browser keeps it, and the way
 * to carry what is unsent to the office in a file. Works without network, and while it is locked:
 * it shows how many, never what.
 */
import { useEffect, useState } from "preact/hooks";
import { sealUnsent } from "../../bridge/unsent";
import { build } from "../../bridge/worker";
import { free, isShort, type Room } from "../../domain/room";
import { stillSaid } from "../../domain/warned";
import { estimate, isKept } from "../../ports/room";
import { usePhone } from "../context";
import { TightSaid } from "../StatusLine";
import { go } from "../route";
import { testid } from "../testids";
import { decimal, spoken, when, words } from "../words";
import { bytesSaid, fileName } from "./said";
import { type DeviceWords, en } from "./words.en";
import { es } from "./words.es";

export default function DeviceScreen() {
  const phone = usePhone();
  const w = spoken.value === "es" ? es : en;
  const { enrolment, unsaved, leftOut } = phone.now.value;
  const said = stillSaid(phone.tight.value, leftOut);
  // Whoever leaves this screen has read it.
  useEffect(
    () => () => {
      phone.tight.value = [];
    },
    [],
  );
  const [room, setRoom] = useState<Room | null>(null);
  useEffect(() => void estimate().then(setRoom), [phone.now.value]);
  return (
    <div class="page stack device" {...testid("device")}>
      <button type="button" class="button plain back" onClick={() => go()}>
        ‹ {words.value.back}
      </button>
      <h1 tabIndex={-1}>{w.title}</h1>
      {enrolment !== null && (
        <p class="soft">
          {enrolment.name} · {enrolment.site_name}
        </p>
      )}
      <dl class="facts">
        <dt>{w.waits}</dt>
        <dd {...testid("device-waits")}>
          <Waits w={w} />
        </dd>
        <dt>{w.room}</dt>
        <dd {...testid("device-room")}>
          {room === null
            ? w.room_unknown
            : w.room_said(bytesSaid(room.used, decimal), bytesSaid(free(room), decimal))}
          {/* A browser may tell of room that it does not give: what did not fit counts too. */}
          {(unsaved || said.length > 0 || (room !== null && isShort(room))) && (
            <p class="caution">{w.room_short}</p>
          )}
          <TightSaid said={said} />
        </dd>
        <Kept w={w} />
        <dt>{w.build}</dt>
        <dd class="code" {...testid("device-build")}>
          {build.value || w.build_unknown}
        </dd>
      </dl>
      <Save w={w} />
    </div>
  );
}

function Waits({ w }: { w: DeviceWords }) {
  const { waiting, waitingSince, photosHere, needsYou } = usePhone().now.value;
  const refused = needsYou.length;
  const entries = waiting + needsYou.filter(({ id }) => !photosHere.has(id)).length;
  if (entries + photosHere.size === 0) return <>{w.waits_none}</>;
  return (
    <>
      {entries > 0 && <p>{w.entries(entries)}</p>}
      {waitingSince !== null && <p class="soft">{w.since(when(waitingSince))}</p>}
      {photosHere.size > 0 && <p>{w.photos(photosHere.size)}</p>}
      {refused > 0 && <p class="fault">{w.needs(refused)}</p>}
    </>
  );
}

function Kept({ w }: { w: DeviceWords }) {
  const phone = usePhone();
  const [kept, setKept] = useState<boolean | null>(null);
  const [refused, setRefused] = useState(false);
  useEffect(() => void isKept().then(setKept), []);
  async function ask() {
    const said = await phone.deps.storage.persist();
    setKept(said);
    setRefused(!said);
  }
  return (
    <>
      <dt>{w.kept}</dt>
      <dd data-kept={String(kept)} {...testid("device-kept")}>
        {kept === null ? w.kept_unknown : kept ? w.kept_yes : w.kept_no}
        {kept === false && (
          <p>
            <button type="button" class="button" onClick={() => void ask()}>
              {w.kept_ask}
            </button>
          </p>
        )}
        <p role="status">{refused ? w.kept_refused : ""}</p>
      </dd>
    </>
  );
}

function Save({ w }: { w: DeviceWords }) {
  const phone = usePhone();
  const { waiting, photosHere, needsYou, enrolment } = phone.now.value;
  const [busy, setBusy] = useState(false);
  const [came, setCame] = useState<{ text: string; good: boolean } | null>(null);
  if (waiting + photosHere.size + needsYou.length === 0 && came === null) return null;

  async function save() {
    setBusy(true);
    setCame(null);
    try {
      const file = await sealUnsent(phone.deps);
      if (file === null) setCame({ text: w.save_no_key, good: false });
      else {
        const at = new Date(phone.deps.clock.now()).toISOString();
        const name = fileName(enrolment?.name ?? "", at);
        handOut(file.blob, name);
        const { entries, photos } = file;
        const what = [
          ...(entries > 0 || photos === 0 ? [w.entries(entries)] : []),
          ...(photos > 0 ? [w.photos(photos)] : []),
        ];
        setCame({ text: w.saved(what.reduce(w.and), name), good: true });
      }
    } catch {
      setCame({ text: w.save_failed, good: false });
    } finally {
      setBusy(false);
    }
  }

  return (
    <div class="stack">
      <button
        type="button"
        class="button wide"
        disabled={busy}
        onClick={() => void save()}
        {...testid("device-save")}
      >
        {busy ? w.save_busy : w.save}
      </button>
      <p class="soft">{w.save_say}</p>
      <p
        role="status"
        class={came === null ? "" : came.good ? "good" : "fault"}
        {...testid("device-saved")}
      >
        {came?.text ?? ""}
      </p>
    </div>
  );
}

/** The browser asks where, or puts it among the downloads. */
function handOut(blob: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
